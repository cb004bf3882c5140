/**
 * What would happen if the chosen fault struck now: the present world with the fault placed, protected until
 * it has cleared, then the same left alone, both ahead of the play head and in slices.
 */
import type { FaultName, PartName } from "../../project/scenario";
import type { Bench, Snapshot } from "../../simulation/bench";
import { TWIN_SPAN_NS } from "../../simulation/simulate";
import { UnprotectedRun } from "./unprotectedRun";

export interface FaultChoice {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly severity: number;
}

/** A gap that has not struck after so long is said not to strike. */
export const STRIKE_WITHIN_NS = 200e6;
/** The protected run goes on this long after clearing, so that what follows is seen. */
const AFTER_CLEARING_NS = 20e6;

export class Forecast {
  readonly acting: Bench;
  readonly placedNs: number;
  alone: UnprotectedRun | null = null;
  private over = false;

  constructor(
    live: Bench,
    from: Snapshot,
    readonly choice: FaultChoice,
  ) {
    this.placedNs = from.timeNs;
    this.acting = live.another();
    this.acting.visit(from);
    const past = live.entries.filter((e) => e.atNs <= from.timeNs);
    const { fault, part, severity } = choice;
    this.acting.follow([
      ...past,
      { atNs: from.timeNs, command: { do: "placeFault", fault, part, severity } },
    ]);
  }

  /** False once it is known that nothing strikes. */
  get strikes(): boolean {
    return !this.over || this.alone !== null;
  }

  /** The protected run has been followed to its end; what is left alone may still be on its way. */
  get isProtectedOver(): boolean {
    return this.over;
  }

  get isDone(): boolean {
    return this.over && (this.alone === null || this.alone.isDone);
  }

  /** At most so many samples; answers how many were made. */
  work(samples: number): number {
    let made = 0;
    const { acting } = this;
    while (made < samples && !this.over) {
      acting.advanceTo(acting.timeNs + acting.sampleNs);
      made++;
      const start = acting.zeros[0];
      if (start === undefined) {
        this.over = acting.timeNs - this.placedNs > STRIKE_WITHIN_NS;
        continue;
      }
      this.alone ??= new UnprotectedRun(acting, start);
      const { logic } = acting;
      const sinceNs = acting.timeNs - start.zero.atNs;
      const cleared = acting.events.find((e) => e.kind === "cleared");
      this.over =
        sinceNs > TWIN_SPAN_NS ||
        (logic.cleared &&
          cleared !== undefined &&
          acting.timeNs > cleared.atNs + AFTER_CLEARING_NS);
    }
    if (this.over && this.alone !== null) made += this.alone.work(samples - made);
    return made;
  }
}
