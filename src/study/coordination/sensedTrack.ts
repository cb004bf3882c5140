/**
 * What the sensors read from the first instant of a stress on, worked out by the sensing itself from the readings of a
 * long, healthy full carrier: sample by sample for 0.2 s, then in steps of 50 ms, for exhaust air and long smoothings. Inside
 * a step the row at the end of the step before stands: up to 50 ms late, never early.
 *
 * Noise is off: a curve is the settings', not one throw's. Gain errors, offsets, directivity and converters are in.
 */
import {
  advanceClocks,
  CLOCK_STATE_LENGTH,
  type Clocks,
  clockExhaustAirK,
  clocksOf,
} from "../../physics/heat/clocks";
import type { Sensors } from "../../project/protection";
import type { Project } from "../../project/types";
import { smoothingsOf } from "../../protection/interpreter/program";
import { createSensing, SENSOR_NAMES, type Sensing } from "../../protection/sensing/sensing";
import type { Stressed } from "./stressed";

const EXHAUST = SENSOR_NAMES.indexOf("exhaustAirK");
const PLATE_CURRENT = SENSOR_NAMES.indexOf("plateCurrentA");
const FINE_S = 0.2;
const COARSE_S = 0.05;
const TAP_SAMPLES = 400;
/** The carrier has been there for so long, in time constants of whatever follows it. */
const SETTLED_CONSTANTS = 40;

/** A project whose sensors have no noise. */
export function withoutNoise(project: Project): Project {
  const { comparatorTap } = project.sensors;
  const quiet = Object.fromEntries(
    SENSOR_NAMES.map((name) => [name, { ...project.sensors[name], noiseFraction: 0 }]),
  );
  return { ...project, sensors: { ...quiet, comparatorTap } as Sensors };
}

export class SensedTrack {
  readonly sensing: Sensing;
  /** Row of the healthy full carrier. */
  readonly healthyRow: Float64Array;
  /** Sample from which on each place of a row stays as it is. */
  private readonly stillFrom: Float64Array;
  private readonly coarse: Sensing;
  private readonly healthyState: Float64Array;
  private readonly coarseClocks: Clocks;
  private readonly views: readonly Float64Array[];
  private readonly fineCount: number;
  private readonly coarseSamples: number;
  private readonly sampleS: number;
  private readonly healthyCurrentA: number;
  private readonly seen = new Float64Array(SENSOR_NAMES.length); // scratch, filled before each use
  private stressed: Stressed;

  /** `hotClocks` is the clocks' state after a long healthy carrier; `longestS` what is followed. */
  constructor(
    project: Project,
    healthy: Stressed,
    private readonly hotClocks: Float64Array,
    density: number,
    longestS: number,
  ) {
    const { sampleNs, monitors, sensors, station } = project;
    const copies = smoothingsOf(monitors);
    const slots = monitors.filter((m) => m.path === "comparator");
    const parts = (ns: number) => ({ sensors, sampleNs: ns });
    this.sampleS = sampleNs / 1e9;
    this.sensing = createSensing(parts(sampleNs), copies, Math.max(slots.length, 1));
    this.coarse = createSensing(parts(COARSE_S * 1e9), copies, Math.max(slots.length, 1));
    this.coarseClocks = clocksOf(station, COARSE_S, density);
    this.fineCount = Math.ceil((FINE_S * 1e9) / sampleNs);
    this.coarseSamples = Math.max(1, Math.round((COARSE_S * 1e9) / sampleNs));
    const { rowLength } = this.sensing;
    const count = this.fineCount + Math.ceil(longestS / COARSE_S);
    const rows = new Float64Array(count * rowLength);
    this.views = Array.from({ length: count }, (_, k) =>
      rows.subarray(k * rowLength, (k + 1) * rowLength),
    );
    this.stressed = healthy;
    this.stillFrom = new Float64Array(rowLength);

    const state = new Float64Array(this.sensing.stateLength);
    const row = new Float64Array(rowLength);
    this.sensing.init(state, 0, project.seed);
    const means = this.meansAt(0, clockExhaustAirK(hotClocks, 0));
    const longest = Math.max(...SENSOR_NAMES.map((name) => sensors[name].timeConstantS));
    this.sensing.advanceSegment(state, 0, SETTLED_CONSTANTS * longest, means);
    const smoothing = Math.max(0, ...monitors.map((m) => m.smoothingS));
    const steps = Math.ceil((SETTLED_CONSTANTS * smoothing) / COARSE_S);
    for (let k = 0; k <= steps; k++) this.coarse.endSample(state, 0, row);
    const currentA = means[PLATE_CURRENT] as number;
    this.healthyCurrentA = currentA;
    for (const [slot, { criteria }] of slots.entries()) {
      const [c] = criteria;
      if (c === undefined) continue;
      const { pickup, dropOff } = c;
      this.sensing.advanceComparator(state, 0, 1e9, currentA, currentA, pickup, dropOff, slot);
    }
    this.healthyState = state;
    this.healthyRow = row;
  }

  /** Follows a stress; what was followed before is forgotten. */
  follow(stressed: Stressed): void {
    this.stressed = stressed;
    const { sensing, coarse, views, fineCount } = this;
    const state = this.healthyState.slice();
    const row = this.healthyRow.slice();
    const clocks = new Float64Array(CLOCK_STATE_LENGTH);
    clocks.set(this.hotClocks);
    const exhaustK = clockExhaustAirK(clocks, 0); // hardly moves in the first 0.2 s
    const heat = stressed.heats.at(-1) as Float64Array;
    const { stillFrom } = this;
    stillFrom.fill(0);
    for (let k = 0; k < views.length; k++) {
      if (k < fineCount) {
        sensing.advanceSegment(state, 0, this.sampleS, this.meansAt(k, exhaustK));
        sensing.endSample(state, 0, row);
      } else {
        advanceClocks(this.coarseClocks, clocks, 0, heat, 1);
        const means = this.meansAt(Infinity, clockExhaustAirK(clocks, 0));
        coarse.advanceSegment(state, 0, COARSE_S, means);
        coarse.endSample(state, 0, row);
      }
      const view = views[k] as Float64Array;
      view.set(row);
      if (k === 0) continue;
      const before = views[k - 1] as Float64Array;
      const sample = k < fineCount ? k : fineCount - 1 + (k - fineCount + 1) * this.coarseSamples;
      for (let i = 0; i < row.length; i++) if (row[i] !== before[i]) stillFrom[i] = sample;
    }
  }

  /** Sample from which on all these places of the row stay as they are. */
  stillAfter(places: readonly number[]): number {
    let latest = 0;
    for (const i of places) latest = Math.max(latest, this.stillFrom[i] as number);
    return latest;
  }

  /** The row at the end of sample `k` after the stress began, counted from 0; past the fine ones of the last whole step. */
  rowAt(k: number): Float64Array {
    const { views, fineCount, coarseSamples } = this;
    const last = fineCount - 1;
    const at = k <= last ? k : last + Math.floor((k - last) / coarseSamples);
    return views[Math.min(at, views.length - 1)] as Float64Array;
  }

  /** Time at which a comparator's tap passes its pickup, seconds from the first instant; 0 on the carrier already, null for never. */
  tapCrossingS(slot: number, pickupA: number, dropOffA: number): number | null {
    if (this.healthyCurrentA > pickupA) return 0;
    const state = this.healthyState.slice();
    const { means } = this.stressed;
    const ns = this.sampleS * 1e9;
    // a current that stays is followed by the tap within a few of its time constants
    for (let k = 0; k < means.length + TAP_SAMPLES; k++) {
      const at = means[Math.min(k, means.length - 1)] as Float64Array;
      const currentA = at[PLATE_CURRENT] as number;
      const crossed = this.sensing.advanceComparator(
        state,
        0,
        ns,
        currentA,
        currentA,
        pickupA,
        dropOffA,
        slot,
      );
      if (crossed >= 0) return k * this.sampleS + crossed * 1e-9;
    }
    return null;
  }

  private meansAt(k: number, exhaustK: number): Float64Array {
    const { means } = this.stressed;
    const { seen } = this;
    const given = means[Math.min(k, means.length - 1)] as Float64Array;
    for (let i = 0; i < seen.length; i++) seen[i] = given[i] as number;
    seen[EXHAUST] = exhaustK;
    return seen;
  }
}
