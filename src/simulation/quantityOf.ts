/** Quantities of monitors as a perfect sensor would read them along a track of the record. */
import type { QuantityName } from "../project/protection";
import {
  type ExpectedForwardGainDb,
  efficiency,
  forwardGainDb,
  gridPlateRatio,
  inputReflectedRatio,
  vswr,
} from "../protection/derived";
import { BURST_GRID_NS, type Burst } from "./burst";
import { CH, CHANNEL_COUNT } from "./channels";
import { lightOfArcs } from "./compartment";

/** Expected gain of a caller that has no table: a deviation from it is no reading. */
const NO_TABLE = (): number => Number.NaN;

/**
 * Quantity as a perfect sensor would read it at one point of a track, by the protection's own definitions and
 * floors; null without a reading. A gain deviation needs the station's `expected` forward gain.
 */
export function quantityOf(
  quantity: QuantityName,
  row: Float64Array,
  at: number,
  expected: ExpectedForwardGainDb = NO_TABLE,
): number | null {
  const v = (channel: number): number => row[at + channel] as number;
  const reading = (value: number): number | null => (Number.isNaN(value) ? null : value);
  switch (quantity) {
    case "driveForwardW":
      return v(CH.driveW);
    case "driveReflectedW":
      return v(CH.driveReflectedW);
    case "outputForwardW":
      return v(CH.forwardW);
    case "outputReflectedW":
      return v(CH.reflectedW);
    case "plateCurrentA":
      return v(CH.plateCurrentA);
    case "gridCurrentA":
      return v(CH.gridCurrentA);
    case "plateV":
      return v(CH.plateV);
    case "plateRfPeakV":
      return v(CH.plateRfPeakV);
    case "netOutputW":
      return v(CH.outputW);
    case "forwardGainDb":
      return reading(forwardGainDb(v(CH.driveW), v(CH.forwardW)));
    case "gainDeviationDb":
      return reading(forwardGainDb(v(CH.driveW), v(CH.forwardW)) - expected(v(CH.driveW)));
    case "vswr":
      return reading(vswr(v(CH.forwardW), v(CH.reflectedW)));
    case "plateDissipationW":
      return v(CH.plateV) * v(CH.plateCurrentA) - v(CH.outputW);
    case "efficiency":
      return reading(efficiency(v(CH.plateV) * v(CH.plateCurrentA), v(CH.outputW)));
    case "gridPlateRatio":
      return reading(gridPlateRatio(v(CH.gridCurrentA), v(CH.plateCurrentA)));
    case "inputReflectedRatio":
      return reading(inputReflectedRatio(v(CH.driveW), v(CH.driveReflectedW)));
    case "tankLight":
      return lightOfArcs(v(CH.arcW));
    case "exhaustAirK":
      return null; // no channel holds it; in the milliseconds of a track it stands still
  }
}

/** Value before the fault, and the furthest towards the pickup after 10 us. */
export function excursion(
  track: Burst | null,
  quantity: QuantityName,
  over: boolean,
  expected: ExpectedForwardGainDb,
): { readonly before: number | null; readonly furthest: number | null } {
  if (track === null || track.count === 0) return { before: null, furthest: null };
  const before = quantityOf(quantity, track.before, 0, expected);
  let furthest: number | null = null;
  for (let k = 0; k < track.count; k++) {
    if ((BURST_GRID_NS[k] as number) < 10_000) continue;
    const value = quantityOf(quantity, track.data, k * CHANNEL_COUNT, expected);
    if (value === null) continue;
    if (furthest === null || (over ? value > furthest : value < furthest)) furthest = value;
  }
  return { before, furthest };
}
