/**
 * The same fault left alone, run ahead of the play head in slices: to 10 s after the fault or to the
 * scenario's next one. Keeps the way to damage of the struck place with its early and late edge.
 */
import { ARC_PLACES } from "../../physics/stage/layout";
import type { Bench, FaultStart } from "../../simulation/bench";
import { BURST_GRID_NS } from "../../simulation/burst";
import { twinEndNs } from "../../simulation/simulate";
import { EDGE_VARIANTS } from "../../simulation/worldLayout";

/** Way to the onset of melting of the struck place at instants after the fault. */
export interface EdgeTrack {
  readonly atNs: readonly number[];
  /** One list an estimate, in the order of EDGE_VARIANTS. */
  readonly fractions: readonly (readonly number[])[];
}

export class UnprotectedRun {
  readonly twin: Bench;
  readonly endNs: number;
  private readonly place: number;
  private readonly atNs: number[] = [];
  private readonly fractions: number[][] = EDGE_VARIANTS.map(() => []);
  private grid = 0;

  constructor(
    bench: Bench,
    readonly start: FaultStart,
  ) {
    this.twin = bench.fork(start);
    this.endNs = twinEndNs(bench, start);
    const { struck } = start.zero;
    this.place = struck === null ? -1 : ARC_PLACES.indexOf(struck);
  }

  get isDone(): boolean {
    return this.twin.timeNs + this.twin.sampleNs > this.endNs;
  }

  get reachedNs(): number {
    return this.twin.timeNs;
  }

  get edge(): EdgeTrack {
    return { atNs: this.atNs, fractions: this.fractions };
  }

  /** At most so many samples; answers how many were made. */
  work(samples: number): number {
    const { twin } = this;
    let made = 0;
    while (made < samples && !this.isDone) {
      twin.advanceTo(twin.timeNs + twin.sampleNs);
      made++;
      this.note();
    }
    return made;
  }

  /** On the grid of the tracks, at the first sample's end that reaches each point. */
  private note(): void {
    const since = this.twin.timeNs - this.start.zero.atNs;
    if (this.place < 0 || since < (BURST_GRID_NS[this.grid] ?? Infinity)) return;
    while (since >= (BURST_GRID_NS[this.grid] ?? Infinity)) this.grid++;
    this.atNs.push(since);
    for (let v = 0; v < EDGE_VARIANTS.length; v++) {
      const fraction = this.twin.damage.edgeFraction(this.twin.buffer, this.place, v);
      (this.fractions[v] as number[]).push(fraction);
    }
  }
}
