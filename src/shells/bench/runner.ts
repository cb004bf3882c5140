/** A bench that goes sample by sample, with the panel meters that watch it. */
import type { Bench } from "../../simulation/bench";
import { RECORD_AT } from "../../simulation/worldLayout";
import { Ballistics, METER_STATE_LENGTH, startMeters } from "./meters";
import type { Kept } from "./snapshots";

export class Runner {
  /** Needles at the end of the last sample made, and at its start. */
  readonly meters: Float64Array;
  readonly metersBefore = new Float64Array(METER_STATE_LENGTH);
  private readonly ballistics: Ballistics;

  constructor(readonly bench: Bench) {
    this.ballistics = new Ballistics(bench.sampleNs);
    this.meters = startMeters(bench.recorder.row);
    this.metersBefore.set(this.meters);
  }

  get timeNs(): number {
    return this.bench.timeNs;
  }

  step(): void {
    const { bench } = this;
    this.metersBefore.set(this.meters);
    bench.advanceTo(bench.timeNs + bench.sampleNs);
    this.ballistics.advance(this.meters, bench.recorder.row);
  }

  /** After the open sample has been made again. */
  reread(): void {
    this.meters.set(this.metersBefore);
    if (this.bench.openFromNs < this.bench.timeNs)
      this.ballistics.advance(this.meters, this.bench.recorder.row);
  }

  keep(atEvent: boolean): Kept {
    return { snapshot: this.bench.snapshot(), meters: this.meters.slice(), atEvent };
  }

  keepOpen(): Kept {
    return {
      snapshot: this.bench.openSnapshot(),
      meters: this.metersBefore.slice(),
      atEvent: true,
    };
  }

  restore(kept: Kept): void {
    this.bench.restore(kept.snapshot);
    this.setMeters(kept);
  }

  visit(kept: Kept): void {
    this.bench.visit(kept.snapshot);
    this.setMeters(kept);
  }

  private setMeters(kept: Kept): void {
    this.meters.set(kept.meters);
    this.metersBefore.set(kept.meters);
  }
}

/** The recorded row inside a world's buffer. */
export function recordedRow(buffer: Float64Array, length: number): Float64Array {
  return buffer.subarray(RECORD_AT, RECORD_AT + length);
}
