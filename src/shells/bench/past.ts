/**
 * Any instant of a run, worked out on a second bench from the nearest snapshot, bit for bit, and what of a
 * world is shown at an instant inside a sample.
 */
import type { Bench } from "../../simulation/bench";
import type { Logic } from "../../simulation/logic";
import { Runner } from "./runner";
import type { Snapshots } from "./snapshots";
import type { WorldParts } from "./worldView";

/** A world as it is shown: numbers of a sample's end, logic of the play head. */
export interface Shown extends WorldParts {
  readonly buffer: Float64Array;
  readonly logic: Logic;
  readonly meters: Float64Array;
}

/** Inside the open sample the numbers are those of its start, and nothing is shown before it happens. */
export function shownAt(runner: Runner, ns: number): Shown {
  const { bench } = runner;
  if (ns >= bench.timeNs) {
    const { buffer, logic, system, protection } = bench;
    return { buffer, logic, system, protection, meters: runner.meters };
  }
  const open = bench.openSnapshot();
  const { logic, system, protection } = bench.moments.at(ns) ?? open;
  return { buffer: open.buffer, logic, system, protection, meters: runner.metersBefore };
}

export class Past {
  /** The second bench; null until it is needed, and again after the run has changed. */
  private cursor: Runner | null = null;

  forget(): void {
    this.cursor = null;
  }

  get runner(): Runner | null {
    return this.cursor;
  }

  /** Brings the second bench to the sample that holds `ns`; false while it is still on its way. */
  moveTo(ns: number, live: Bench, snapshots: Snapshots, most: number): boolean {
    this.cursor ??= new Runner(live.another());
    const { cursor } = this;
    const step = live.sampleNs;
    const startNs = Math.floor(ns / step) * step;
    const targetNs = Math.ceil(ns / step) * step;
    const kept = snapshots.nearest(startNs);
    const isPast = cursor.timeNs > targetNs;
    // just put on the end of the sample whose start is wanted
    const isAhead = targetNs > startNs && cursor.bench.openFromNs === targetNs;
    if (isPast || isAhead || kept.snapshot.timeNs > cursor.timeNs) cursor.visit(kept);
    for (let made = 0; cursor.timeNs < targetNs && made < most; made++) cursor.step();
    return cursor.timeNs >= targetNs;
  }
}
