/** A station's working point along one thing that changes: the drive, or the place on a circle of constant SWR. */
import { cos, sin } from "../math/elementary";
import { LINE_OHM } from "../physics/stage/stationCircuit";
import { type LoadAdmittance, plateAdmittance } from "../physics/tank/plateNetwork";
import { admittanceFromGamma, gammaFromSwr } from "../physics/tank/reflection";
import { networkOf, type StopName, tuneUp } from "./tuneUp";
import type { Setting, Working, WorkingPoints } from "./workingPoint";

export interface DriveRow {
  readonly driveW: number;
  readonly working: Working | null;
}

/** `count` drives in even steps of voltage up to `mostW`, tuned as designed; the first step is above zero. */
export function driveSweep(
  points: WorkingPoints,
  mostW: number,
  count: number,
): readonly DriveRow[] {
  return Array.from({ length: count }, (_, i) => {
    const share = (i + 1) / count;
    const driveW = mostW * share * share;
    return { driveW, working: points.at(points.asDesigned(driveW)) };
  });
}

export interface CircleRow {
  readonly phaseRad: number;
  readonly load: LoadAdmittance;
  /** What the plate sees with the settings as designed, ohm. */
  readonly plateOhm: number;
  readonly asTuned: Working | null;
  /** After tuning and loading were set for this load; null where they cannot be. */
  readonly retuned: Working | null;
  /** End stops in the way of retuning; empty where there are none. */
  readonly stops: readonly StopName[];
}

/** Load of a standing-wave ratio at a phase of the reflection. */
export function loadOnCircle(swr: number, phaseRad: number): LoadAdmittance {
  const gamma = gammaFromSwr(swr);
  const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
  admittanceFromGamma(gamma * cos(phaseRad), gamma * sin(phaseRad), LINE_OHM, out);
  return out;
}

/** `count` phases round the circle of `swr` at one drive, settings left as designed and set anew. */
export function swrCircle(
  points: WorkingPoints,
  swr: number,
  driveW: number,
  count: number,
): readonly CircleRow[] {
  const { parts } = points;
  const network = networkOf(parts);
  const designed = points.asDesigned(driveW);
  return Array.from({ length: count }, (_, i) => {
    const phaseRad = (2 * Math.PI * i) / count;
    const load = loadOnCircle(swr, phaseRad);
    const plate = plateAdmittance(network, designed.tuningF, designed.loadingF, load);
    const found = tuneUp(parts, load);
    return {
      phaseRad,
      load,
      plateOhm: 1 / plate.conductanceSiemens,
      asTuned: points.at({ ...designed, load }),
      retuned: found.kind === "found" ? points.at(settingOf(driveW, found, load)) : null,
      stops: found.kind === "stopped" ? found.stops : [],
    };
  });
}

function settingOf(
  driveW: number,
  found: { readonly tuningF: number; readonly loadingF: number },
  load: LoadAdmittance,
): Setting {
  return { driveW, tuningF: found.tuningF, loadingF: found.loadingF, load };
}
