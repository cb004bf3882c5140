/**
 * What a protection scheme is held against: one stress at a time, from the harmless to the worst of its range.
 *
 *   plate current    into the shunt, voltage and heat following it, all else as on the full carrier; amperes
 *   grid current     as more drive brings it, tuned and matched; amperes
 *   arc at a place   burning there with this maintaining voltage, full carrier; peak volts
 *   mismatch         a standing-wave ratio at the phase that does the most harm, settings left as designed
 *   dissipation      of the plate, as detuning brings it; watts
 *   supply short     resistance of a short behind the surge resistor; ohm
 *
 * Ranges are ours [E]. An arc keeps 150 to 400 V by gap, air and current (common practice, no source): worst cases are
 * looked for in there, or round the part's own voltage where that lies outside.
 */
import {
  type ARC_PLACES,
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
} from "../../physics/stage/layout";
import type { Station } from "../../project/station";
import type { Project } from "../../project/types";

export const STRESS_NAMES = [
  "arcAtTuningCapacitor",
  "arcAtCoilTap",
  "arcAtLoadingCapacitor",
  "arcBeyondCoupler",
  "plateCurrent",
  "gridCurrent",
  "mismatch",
  "dissipation",
  "supplyShort",
] as const;
export type StressName = (typeof STRESS_NAMES)[number];

export interface StressKind {
  /** Unit of the quantity along the axis; empty for a ratio. */
  readonly unit: "A" | "V" | "W" | "Ω" | "";
  /** Steps of the first, even look at the axis, a logarithmic grid. */
  readonly steps: number;
  /** True where less is worse. */
  readonly isWorseBelow: boolean;
}

const ARC: StressKind = { unit: "V", steps: 20, isWorseBelow: false };

export const STRESS: Readonly<Record<StressName, StressKind>> = {
  arcAtTuningCapacitor: ARC,
  arcAtCoilTap: ARC,
  arcAtLoadingCapacitor: ARC,
  arcBeyondCoupler: ARC,
  plateCurrent: { unit: "A", steps: 30, isWorseBelow: false },
  gridCurrent: { unit: "A", steps: 28, isWorseBelow: false },
  mismatch: { unit: "", steps: 18, isWorseBelow: false },
  dissipation: { unit: "W", steps: 24, isWorseBelow: false },
  supplyShort: { unit: "Ω", steps: 16, isWorseBelow: true },
};

/** From the least to the most of a stress that is looked at; currents and heat go by the station's ratings. */
export function axisOf(
  stress: StressName,
  { ratings }: Station,
): readonly [from: number, to: number] {
  switch (stress) {
    case "plateCurrent":
      return [0.5 * ratings.plateCurrentA, 10 * ratings.plateCurrentA];
    case "gridCurrent":
      return [0.15 * ratings.gridCurrentA, 6 * ratings.gridCurrentA];
    case "dissipation":
      return [0.4 * ratings.plateDissipationW, 2.4 * ratings.plateDissipationW];
    case "mismatch":
      return [1.1, 20];
    case "supplyShort":
      return [0.5, 1000];
    default:
      return [50, 1000];
  }
}

/** Index into ARC_PLACES of where a stress burns; -1 for one without an arc. */
export function arcIndexOf(stress: StressName): number {
  switch (stress) {
    case "arcAtTuningCapacitor":
      return AT_PLATE;
    case "arcAtCoilTap":
      return AT_TAP;
    case "arcAtLoadingCapacitor":
      return AT_LOADING;
    case "arcBeyondCoupler":
      return AT_BEYOND;
    default:
      return -1;
  }
}

const LIKELY_ARC_V = [150, 400] as const;

/** Where along the axis a worst case is looked for. */
export function judgedRange(
  stress: StressName,
  station: Station,
): readonly [from: number, to: number] {
  const place = arcIndexOf(stress);
  if (place < 0) return axisOf(stress, station);
  const ownV = ownMaintainingV(station, place);
  return [Math.min(LIKELY_ARC_V[0], ownV), Math.max(LIKELY_ARC_V[1], ownV)];
}

/** Maintaining voltage of the part that the place stands for, its stated value. */
export function ownMaintainingV(station: Station, place: number): number {
  const parts: Readonly<Record<(typeof ARC_PLACES)[number], { readonly maintainingV: number }>> = {
    tuningCapacitor: station.tuningCapacitor,
    coilTap: station.bandSwitch,
    loadingCapacitor: station.loadingCapacitor,
    beyondCoupler: station.outputContact,
  };
  return Object.values(parts)[place]?.maintainingV ?? Number.NaN;
}

/** Everything of a project a sheet depends on; equal texts have equal sheets. */
export function coordinationKey({
  station,
  sensors,
  monitors,
  actuators,
  sampleNs,
}: Project): string {
  return JSON.stringify([station, sensors, monitors, actuators, sampleNs]);
}
