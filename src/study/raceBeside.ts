/**
 * The race of a project's first fault by itself, in pieces: what the first trip, the clearing and the margin become under
 * other settings. The same bench and the same race as everywhere; it ends as soon as nothing of these can change any more.
 */
import type { Project } from "../project/types";
import { type Bench, createBench, type FaultStart } from "../simulation/bench";
import { BURST_GRID_NS } from "../simulation/burst";
import { faultResult, twinEndNs } from "../simulation/simulate";
import { type Course, type Means, recordedCourse, stepCourse } from "./detectionBudgetCourse";

/** One piece of a run, ns; an arc costs more than a carrier. */
const PIECE_NS = 20_000_000;
const ALONE_PIECE_NS = 5_000_000;
/** Without a clearing the protected run is given up this long after the fault. */
const UNCLEARED_NS = 3_000_000_000;

/** What the fault left alone comes to; no monitor has a part in it. */
export interface LeftAlone {
  /** Nominal onset of melting at the struck part, from time zero; null without one. */
  readonly onsetS: number | null;
  /** By the early edge of the estimates. */
  readonly onsetEarlyS: number | null;
  readonly course: Course;
}

export interface RaceOutcome {
  readonly firstTrip: { readonly name: string; readonly atS: number } | null;
  readonly clearingS: number | null;
  /** Onset left alone over clearing; null without either. */
  readonly margin: number | null;
  readonly marginEarly: number | null;
  readonly alone: LeftAlone;
}

/** A full carrier, and an insect in the tuning capacitor, 0.37 ms past a scan. */
export const USUAL_RACE: Project["scenario"] = [
  { atS: 0, do: "key", down: true },
  { atS: 0.12037, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
];

/** A race under way; `step` does one piece and answers whether there is more. */
export class RaceBeside {
  /** Null until the last piece is done, and where no fault came. */
  outcome: RaceOutcome | null = null;
  private twin: Bench | null = null;
  private benchNs = 0;
  private twinNs = 0;

  private constructor(
    private readonly project: Project,
    private readonly bench: Bench,
    private readonly usual: Means,
    private readonly known: LeftAlone | null,
  ) {}

  /** `usual` stands for what a record has no channel of; `known` is what an earlier run of the same fault left alone came to. */
  static of(
    project: Project,
    usual: Means,
    known: LeftAlone | null,
  ):
    | { readonly ok: true; readonly run: RaceBeside }
    | { readonly ok: false; readonly problem: string } {
    const created = createBench(project);
    if (!created.ok) return created;
    return { ok: true, run: new RaceBeside(project, created.bench, usual, known) };
  }

  step(): boolean {
    const { bench, project, known } = this;
    const start = bench.zeros[0];
    if (start === undefined) {
      const endNs = Math.round(project.endS * 1e9);
      if (this.benchNs >= endNs) return false;
      this.advance(Math.min(this.benchNs + PIECE_NS, endNs));
      return true;
    }
    const zeroNs = start.zero.atNs;
    const cleared = bench.events.some((e) => e.kind === "cleared" && e.atNs >= zeroNs);
    if (!cleared && this.benchNs < zeroNs + UNCLEARED_NS && bench.zeros.length < 2) {
      this.advance(this.benchNs + PIECE_NS);
      return true;
    }
    if (known !== null) return this.end(start, known);
    if (this.twin === null) {
      this.twin = bench.fork(start);
      this.twinNs = zeroNs;
    }
    if (this.isTwinDone(this.twin, start)) return this.end(start, this.leftAlone(this.twin, start));
    this.twinNs = Math.min(this.twinNs + ALONE_PIECE_NS, twinEndNs(bench, start));
    this.twin.advanceTo(this.twinNs);
    return true;
  }

  private advance(toNs: number): void {
    this.benchNs = toNs;
    this.bench.advanceTo(toNs);
  }

  /** At its end, or the struck part has begun to melt. */
  private isTwinDone(twin: Bench, start: FaultStart): boolean {
    const { struck, atNs } = start.zero;
    if (this.twinNs >= twinEndNs(this.bench, start)) return true;
    if (struck === null) return this.twinNs >= atNs + UNCLEARED_NS;
    return meltOnsetS(twin, start, "nominal") !== null;
  }

  private leftAlone(twin: Bench, start: FaultStart): LeftAlone {
    const { atNs } = start.zero;
    const track = twin.recorder.tracks.find((t) => t.kind === "fault" && t.atNs === atNs);
    return {
      onsetS: meltOnsetS(twin, start, "nominal"),
      onsetEarlyS: meltOnsetS(twin, start, "early"),
      course:
        track === undefined
          ? stepCourse(this.usual, this.usual)
          : recordedCourse(
              track.before,
              BURST_GRID_NS.slice(0, track.count),
              track.data,
              this.usual,
            ),
    };
  }

  private end(start: FaultStart, alone: LeftAlone): false {
    const { bench } = this;
    const untilNs = bench.zeros[1]?.zero.atNs ?? Infinity;
    // what is read here comes from the protected run alone
    const { firstTrip, clearingS } = faultResult(bench, start, untilNs, this.twin ?? bench).race;
    const over = (onsetS: number | null): number | null =>
      onsetS !== null && clearingS !== null && clearingS > 0 ? onsetS / clearingS : null;
    const margin = over(alone.onsetS);
    this.outcome = { firstTrip, clearingS, margin, marginEarly: over(alone.onsetEarlyS), alone };
    return false;
  }
}

function meltOnsetS(twin: Bench, { zero }: FaultStart, edge: "nominal" | "early"): number | null {
  const melts = twin.events.find(
    (e) =>
      e.kind === "milestone" &&
      e.part === zero.struck &&
      e.milestone === "meltOnset" &&
      e.edge === edge,
  );
  return melts === undefined ? null : (melts.atNs - zero.atNs) / 1e9;
}
