/**
 * When a monitor operates on a followed stress: its own program, run by the interpreter scan by scan, from the state a long
 * healthy carrier leaves it in. No curve is worked out in any other way.
 *
 * The stress may begin anywhere between two scans. Scans needed never get fewer the later in the scan it begins, so the
 * instant that costs most is found by halving; beyond MANY_SCANS a scan is under a 3000th, and the bounds are a scan apart.
 */
import type { MonitorState } from "../../protection/interpreter/monitorState";
import {
  type CompileContext,
  type MonitorProgram,
  smoothingsOf,
} from "../../protection/interpreter/program";
import { startMonitor, stepMonitor } from "../../protection/interpreter/stepMonitor";
import type { Situation } from "../../protection/situation";
import type { SensedTrack } from "./sensedTrack";

export interface OperateTimes {
  /** First scan past its pickup, at the worst phase of the scan; null where it does not pick up. */
  readonly pickupS: number | null;
  /** Null: does not operate. Earliest and latest over the phases of the scan. */
  readonly earliestS: number | null;
  readonly latestS: number | null;
  /** Index of the criterion that operates; -1 where none does. */
  readonly criterion: number;
}

export const DOES_NOT_OPERATE: OperateTimes = {
  pickupS: null,
  earliestS: null,
  latestS: null,
  criterion: -1,
};

/** Key down for long, supply up for long: what every stress begins from. */
export const ON_THE_AIR: Situation = {
  operate: true,
  mode: "operate",
  keyDown: true,
  keyDownAtNs: -1e15,
  transmitConfirmed: true,
  supplyReadyAtNs: -1e15,
  inhibited: true,
};

const MANY_SCANS = 3000;
/** Scans a program is run for at most, so that a curve is done in reasonable time. */
const MOST_SCANS = 200_000;

/** A monitor on its healthy carrier, as it stands at scan `atScan`. */
export interface Rested {
  readonly program: MonitorProgram;
  readonly state: MonitorState;
  readonly atScan: number;
  /** Where in a row everything stands that it reads. */
  readonly places: readonly number[];
}

/** Runs a program on the healthy carrier until nothing in it moves. */
export function restedOn(
  program: MonitorProgram,
  healthyRow: Float64Array,
  rowIndex: CompileContext["rowIndex"],
): Rested {
  let state = startMonitor(program);
  let scan = 1;
  for (; scan < MOST_SCANS; scan++) {
    const next = stepMonitor(program, state, healthyRow, scan, ON_THE_AIR);
    const isStill = next === state && scan > program.arming.settledScans + 1;
    state = next;
    if (isStill && state.kind !== "pickup") break;
  }
  const places = smoothingsOf([program.def]).map((s) => rowIndex(s.sensor, s.smoothingS));
  return { program, state, atScan: scan, places };
}

/** Operate times on the stress that `track` follows, looked for up to `longestS`. */
export function operateTimes(rested: Rested, track: SensedTrack, longestS: number): OperateTimes {
  const { program, state } = rested;
  if (state.kind === "operate") {
    // it operates on the carrier already
    return { pickupS: 0, earliestS: 0, latestS: 0, criterion: state.criterion };
  }
  const m = program.scanSamples;
  const sampleS = program.scanNs / m / 1e9;
  const runAt = (phase: number): Run => run(rested, track, phase, longestS);
  const first = runAt(0);
  if (first.scans === 0) {
    const late = first.pickupScans * m * sampleS;
    return { ...DOES_NOT_OPERATE, pickupS: first.pickupScans === 0 ? null : late };
  }
  const seconds = (scans: number, phase: number): number => (scans * m - phase) * sampleS;
  const { criterion } = first;
  if (m === 1 || first.scans > MANY_SCANS) {
    return {
      pickupS: seconds(first.pickupScans, 0),
      earliestS: seconds(first.scans, m - 1),
      latestS: seconds(first.scans, 0),
      criterion,
    };
  }
  // the first phase at which one scan more is needed; m where none is
  let low = 0;
  let high = m;
  let worst = first;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    const here = runAt(middle);
    if (here.scans > first.scans || here.scans === 0) {
      high = middle;
      worst = here;
    } else low = middle;
  }
  if (high === m || worst.scans === 0) {
    return {
      pickupS: seconds(first.pickupScans, 0),
      earliestS: seconds(first.scans, low),
      latestS: seconds(first.scans, 0),
      criterion,
    };
  }
  return {
    pickupS: Math.max(seconds(first.pickupScans, 0), seconds(worst.pickupScans, high)),
    earliestS: seconds(first.scans, low),
    latestS: seconds(worst.scans, high),
    criterion,
  };
}

interface Run {
  /** Scans after the stress began until it is seen past its pickup, and until it operates; 0 for never. */
  readonly pickupScans: number;
  readonly scans: number;
  readonly criterion: number;
}

/** The stress begins `phase` samples after a scan. */
function run(rested: Rested, track: SensedTrack, phase: number, longestS: number): Run {
  const { program, state: start, atScan, places } = rested;
  const stillAfter = track.stillAfter(places);
  const m = program.scanSamples;
  const most = Math.min(Math.ceil((longestS * 1e9) / program.scanNs), MOST_SCANS);
  let state = start;
  let pickupScans = 0;
  for (let k = 1; k <= most; k++) {
    const sample = k * m - phase - 1;
    const next = stepMonitor(program, state, track.rowAt(sample), atScan + k, ON_THE_AIR);
    if (pickupScans === 0 && (next.kind === "pickup" || next.kind === "operate")) pickupScans = k;
    if (next.kind === "operate") return { pickupScans, scans: k, criterion: next.criterion };
    if (next.kind !== "pickup") {
      if (state.kind === "pickup") pickupScans = 0; // it dropped off again
      // nothing moves any more, in the readings or in the monitor
      if (next === state && sample > stillAfter) break;
    }
    state = next;
  }
  return { pickupScans, scans: 0, criterion: -1 };
}
