/**
 * The record: every sample of the last ten seconds, 5 ms least / greatest / last of the last ten minutes,
 * and burst tracks after events. Allocated once: samples under 50 us reach back less than ten seconds, by as
 * many as there is room for. Everything is found by time, so going back needs no undoing: a mark says how far
 * the bursts had come.
 */

import { ARC_COUNT } from "../physics/stage/layout";
import { READING, READING_COUNT } from "../physics/stage/readings";
import { BURST_GRID_NS, BURST_POINTS, BURSTS_KEPT, type Burst, startBurst } from "./burst";
import { CH, CHANNEL_COUNT, CHANNEL_NAMES, STAGE_CHANNELS } from "./channels";
import { mixValues } from "./recordHash";
import type { StepInterpolator } from "./stageRun";

const FINE_SPAN_NS = 10e9;
/** Room for as many samples: ten seconds of 50 us. */
const MOST_FINE_SAMPLES = 200_000;
/** A cell is the fewest samples that cover this; so many cells cover ten minutes. */
const CELL_NS = 5e6;
const COARSE_CELLS = 120_000;
/** Channels from here on belong to heat and sensing and are known at the ends of samples only. */
const SLOW_FROM = CH.edgeK;

export interface RecorderMark {
  readonly samples: number;
  readonly bursts: readonly Burst[];
}

export class Recorder {
  private readonly before = new Float64Array(CHANNEL_COUNT);
  /** Samples in one coarse cell. */
  readonly cellSamples: number;
  private readonly fineSamples: number;
  private readonly fine: Float64Array | null;
  private readonly coarse: Float32Array | null;
  private samples = 0;
  /** Oldest sample whose full row has not been written over. */
  private oldest = 0;
  private bursts: readonly Burst[] = [];
  private readonly inside = new Float64Array(READING_COUNT);
  /** Points of open bursts that still need their slow channels, as (burst, point) pairs. */
  private readonly pending: { burst: Burst; point: number }[] = [];

  constructor(
    size: "full" | "tracks",
    sampleNs: number,
    /** The sample being closed; the bench fills it, and restores the one before when it goes back. */
    readonly row: Float64Array = new Float64Array(CHANNEL_COUNT),
  ) {
    this.cellSamples = Math.ceil(CELL_NS / sampleNs);
    this.fineSamples = Math.min(Math.ceil(FINE_SPAN_NS / sampleNs), MOST_FINE_SAMPLES);
    this.fine = size === "full" ? new Float64Array(this.fineSamples * CHANNEL_COUNT) : null;
    this.coarse = size === "full" ? new Float32Array(COARSE_CELLS * CHANNEL_COUNT * 3) : null;
  }

  /** Samples recorded so far. */
  get sampleCount(): number {
    return this.samples;
  }

  get tracks(): readonly Burst[] {
    return this.bursts;
  }

  mark(): RecorderMark {
    return { samples: this.samples, bursts: this.bursts };
  }

  /** Another recorder's mark for this one: open tracks go on in copies, so that two benches never share one. */
  adopt(mark: RecorderMark): RecorderMark {
    const bursts = mark.bursts.map((b) => (b.open ? { ...b, data: b.data.slice() } : b));
    return { samples: this.samples, bursts };
  }

  rewind(mark: RecorderMark): void {
    this.samples = mark.samples;
    this.bursts = mark.bursts;
    this.pending.length = 0;
    // what lies behind the oldest sample has been written over and stays lost
    if (this.samples < this.oldest) this.oldest = this.samples;
    this.recoarsen();
  }

  /** The cell under way must forget the samples that are undone. */
  private recoarsen(): void {
    if (this.fine === null) return;
    const reached = this.samples;
    const first = Math.max(reached - (reached % this.cellSamples), this.oldest);
    for (let k = first; k < reached; k++) {
      const o = (k % this.fineSamples) * CHANNEL_COUNT;
      this.coarsen(k, this.fine.subarray(o, o + CHANNEL_COUNT));
    }
  }

  /** A track from `atNs` on. An earlier track of a mere event ends where the next one begins. */
  startBurst(atNs: number, kind: Burst["kind"]): void {
    const others = this.bursts.map((b) =>
      b.open && (b.kind === "event" || kind === "fault") ? { ...b, open: false } : b,
    );
    this.bursts = [...others, startBurst(atNs, kind, this.row.slice())].slice(-BURSTS_KEPT);
  }

  openSample(): void {
    if (this.pending.length > 0) this.pending.length = 0;
    this.before.set(this.row);
  }

  /** Fills the points of open tracks that fall into a piece. */
  piece(
    fromNs: number,
    dtS: number,
    before: Float64Array,
    after: Float64Array,
    step: StepInterpolator | null,
  ): void {
    const endNs = fromNs + dtS * 1e9;
    let changed: Burst[] | null = null;
    for (let i = 0; i < this.bursts.length; i++) {
      const b = this.bursts[i] as Burst;
      if (!b.open) continue;
      let count = b.count;
      while (count < BURST_POINTS) {
        const at = b.atNs + (BURST_GRID_NS[count] as number);
        if (at > endNs + 1e-3) break;
        if (at >= fromNs - 1e-3) {
          const part = Math.min(Math.max((at - fromNs) / (dtS * 1e9), 0), 1);
          this.fill(b, count, part, before, after, step);
        }
        count++;
      }
      if (count !== b.count) {
        changed ??= this.bursts.slice();
        changed[i] = { ...b, count, open: count < BURST_POINTS };
      }
    }
    if (changed !== null) this.bursts = changed;
  }

  private fill(
    b: Burst,
    point: number,
    part: number,
    before: Float64Array,
    after: Float64Array,
    step: StepInterpolator | null,
  ): void {
    const r = this.inside;
    // settled pieces are nearly straight; transient steps are read in their states
    if (part >= 1) r.set(after);
    else if (step !== null) step.readingsAt(part, r);
    else {
      for (let i = 0; i < READING_COUNT; i++) {
        r[i] = (before[i] as number) + part * ((after[i] as number) - (before[i] as number));
      }
    }
    const o = point * CHANNEL_COUNT;
    for (let i = 0; i < STAGE_CHANNELS; i++) b.data[o + i] = r[i] as number;
    let peakA = 0;
    for (let a = 0; a < ARC_COUNT; a++)
      peakA = Math.max(peakA, r[READING.arcPlacePeakA + a] as number);
    b.data[o + CH.arcPeakA] = peakA;
    b.data[o + CH.plateRfHighestV] = r[READING.plateRfPeakV] as number;
    this.pending.push({ burst: b, point });
  }

  /** Takes the filled row in, gives tracks their slow channels, and mixes both into the hash. */
  closeSample(startNs: number, endNs: number, lanes: Float64Array, hashAt: number): void {
    for (const { burst, point } of this.pending) {
      const at = burst.atNs + (BURST_GRID_NS[point] as number);
      const part = Math.min(Math.max((at - startNs) / (endNs - startNs), 0), 1);
      for (let i = SLOW_FROM; i < CHANNEL_COUNT; i++) {
        const a = this.before[i] as number;
        burst.data[point * CHANNEL_COUNT + i] = a + part * ((this.row[i] as number) - a);
      }
      mixValues(lanes, hashAt, burst.data, point * CHANNEL_COUNT, CHANNEL_COUNT);
    }
    if (this.pending.length > 0) this.pending.length = 0;
    mixValues(lanes, hashAt, this.row, 0, CHANNEL_COUNT);
    if (this.fine !== null) {
      this.fine.set(this.row, (this.samples % this.fineSamples) * CHANNEL_COUNT);
      this.coarsen(this.samples, this.row);
    }
    this.samples++;
    this.oldest = Math.max(this.oldest, this.samples - this.fineSamples);
  }

  private coarsen(sample: number, row: Float64Array): void {
    const coarse = this.coarse as Float32Array;
    const cell = Math.floor(sample / this.cellSamples) % COARSE_CELLS;
    const first = sample % this.cellSamples === 0;
    const o = cell * CHANNEL_COUNT * 3;
    for (let i = 0; i < CHANNEL_COUNT; i++) {
      const v = row[i] as number;
      const at = o + 3 * i;
      coarse[at] = first ? v : Math.min(coarse[at] as number, v);
      coarse[at + 1] = first ? v : Math.max(coarse[at + 1] as number, v);
      coarse[at + 2] = v;
    }
  }

  /** Name of the first channel that is not a finite number, null when all are. */
  firstNotFinite(): string | null {
    let sum = 0;
    for (let i = 0; i < CHANNEL_COUNT; i++) sum += (this.row[i] as number) * 0;
    if (sum === 0) return null;
    for (let i = 0; i < CHANNEL_COUNT; i++) {
      if (!Number.isFinite(this.row[i] as number)) return CHANNEL_NAMES[i] as string;
    }
    return null;
  }

  /** Oldest sample index still held at full rate. */
  get oldestSample(): number {
    return this.oldest;
  }

  /** Copies the sample `index` (its end) into `out`; false when it is no longer, or not yet, held. */
  sampleAt(index: number, out: Float64Array): boolean {
    if (this.fine === null || index < this.oldestSample || index >= this.samples) return false;
    const o = (index % this.fineSamples) * CHANNEL_COUNT;
    for (let i = 0; i < CHANNEL_COUNT; i++) out[i] = this.fine[o + i] as number;
    return true;
  }

  /**
   * Least and greatest of a channel over samples [from, to); false when nothing of it is held. `coarsely`
   * takes whole cells of 5 ms, in single precision, even where every sample is held.
   */
  extremes(
    channel: number,
    from: number,
    to: number,
    out: Float64Array,
    coarsely = false,
  ): boolean {
    let low = Infinity;
    let high = -Infinity;
    const end = Math.min(to, this.samples);
    if (this.fine === null || this.coarse === null) return false;
    if (!coarsely && from >= this.oldestSample) {
      for (let k = from; k < end; k++) {
        const v = this.fine[(k % this.fineSamples) * CHANNEL_COUNT + channel] as number;
        if (v < low) low = v;
        if (v > high) high = v;
      }
    } else {
      const oldest = Math.max(
        0,
        Math.floor((this.samples - 1) / this.cellSamples) - COARSE_CELLS + 1,
      );
      const firstCell = Math.max(Math.floor(from / this.cellSamples), oldest);
      for (let cell = firstCell; cell * this.cellSamples < end; cell++) {
        const o = ((cell % COARSE_CELLS) * CHANNEL_COUNT + channel) * 3;
        low = Math.min(low, this.coarse[o] as number);
        high = Math.max(high, this.coarse[o + 1] as number);
      }
    }
    if (low > high) return false;
    out[0] = low;
    out[1] = high;
    return true;
  }
}
