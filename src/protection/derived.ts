/**
 * Quantities worked out from sensed readings, as a controller would.
 *
 *   forward gain      G = 10 log10(Pf / Pd)               dB
 *   gain deviation    G - G_expected(Pd)                  dB, below zero when gain is missing
 *   net output        Pf - Pr                             W
 *   VSWR              (1 + r) / (1 - r), r = sqrt(Pr/Pf)
 *   plate dissipation Vp Ip - (Pf - Pr)                   W
 *   efficiency        (Pf - Pr) / (Vp Ip)
 *   grid over plate   Ig / Ip
 *   input reflected   Pdr / Pd
 *
 * Pd and Pdr drive forward and reflected, Pf and Pr output forward and reflected in W; Vp plate voltage in V, Ip and Ig
 * plate and grid current in A, all as read. A ratio of two noises is no news: under its floor a ratio is NaN, "no reading", and picks nothing up.
 * Floors and the cap are ours [E].
 */
import { log10 } from "../math/elementary";
import type { QuantityName, SensorName } from "../project/protection";

/** Under this drive there is no gain to speak of. */
export const GAIN_DRIVE_FLOOR_W = 0.5;
/** A forward reading of zero still gives a finite, very low gain: -28 dB at 62 W of drive. */
export const GAIN_OUTPUT_FLOOR_W = 0.1;
/** Under this forward power there is no VSWR to speak of. */
export const VSWR_FORWARD_FLOOR_W = 5;
/** VSWR is not read higher than this. */
export const VSWR_CAP = 99;
/** Under this plate input there is no efficiency to speak of. */
export const EFFICIENCY_INPUT_FLOOR_W = 1;

/** Under this plate current there is no ratio of grid to plate current: a tenth of full carrier. */
export const RATIO_PLATE_FLOOR_A = 0.08;
/** Under this drive there is no reflected share: ten times the couplers' noise. */
export const REFLECTED_DRIVE_FLOOR_W = 2;

/** Forward gain in dB as the two couplers show it. */
export function forwardGainDb(driveForwardW: number, outputForwardW: number): number {
  if (!(driveForwardW >= GAIN_DRIVE_FLOOR_W)) return Number.NaN;
  const output = outputForwardW > GAIN_OUTPUT_FLOOR_W ? outputForwardW : GAIN_OUTPUT_FLOOR_W;
  return 10 * log10(output / driveForwardW);
}

/** VSWR from two power readings, 1 to VSWR_CAP. */
export function vswr(forwardW: number, reflectedW: number): number {
  if (!(forwardW >= VSWR_FORWARD_FLOOR_W)) return Number.NaN;
  const r = Math.sqrt(reflectedW > 0 ? reflectedW / forwardW : 0);
  const capped = (VSWR_CAP - 1) / (VSWR_CAP + 1);
  return r >= capped ? VSWR_CAP : (1 + r) / (1 - r);
}

/** Delivered over plate input; NaN without plate input. */
export function efficiency(plateInputW: number, netOutputW: number): number {
  return plateInputW >= EFFICIENCY_INPUT_FLOOR_W ? netOutputW / plateInputW : Number.NaN;
}

/** Grid over plate current; NaN under the floor of plate current. */
export function gridPlateRatio(gridA: number, plateA: number): number {
  return plateA >= RATIO_PLATE_FLOOR_A ? gridA / plateA : Number.NaN;
}

/** Reflected over forward drive; NaN under the floor of drive. */
export function inputReflectedRatio(driveForwardW: number, driveReflectedW: number): number {
  return driveForwardW >= REFLECTED_DRIVE_FLOOR_W ? driveReflectedW / driveForwardW : Number.NaN;
}

/** Expected forward gain in dB of the band in use at a drive in W; from the solver's table. */
export type ExpectedForwardGainDb = (driveForwardW: number) => number;

const OUTPUT_PAIR: readonly SensorName[] = ["outputForwardW", "outputReflectedW"];
const PLATE_PAIR: readonly SensorName[] = ["plateV", "plateCurrentA"];

/** The sensors a quantity is made of, in the order its reader takes them. */
export function sensorsOf(quantity: QuantityName): readonly SensorName[] {
  switch (quantity) {
    case "forwardGainDb":
    case "gainDeviationDb":
      return ["driveForwardW", "outputForwardW"];
    case "netOutputW":
    case "vswr":
      return OUTPUT_PAIR;
    case "plateDissipationW":
    case "efficiency":
      return [...PLATE_PAIR, ...OUTPUT_PAIR];
    case "gridPlateRatio":
      return ["gridCurrentA", "plateCurrentA"];
    case "inputReflectedRatio":
      return ["driveForwardW", "driveReflectedW"];
    default:
      return [quantity];
  }
}

/** Reads one quantity from a sensed row; NaN is "no reading". */
export type Reader = (row: Float64Array) => number;

/** A reader of `quantity` whose sensors stand at `at(sensor)` in the row. Nothing is allocated by reading. */
export function createReader(
  quantity: QuantityName,
  at: (sensor: SensorName) => number,
  expected: ExpectedForwardGainDb,
): Reader {
  const [a = 0, b = 0, c = 0, d = 0] = sensorsOf(quantity).map(at);
  const value = (row: Float64Array, i: number): number => row[i] as number;
  switch (quantity) {
    case "forwardGainDb":
      return (row) => forwardGainDb(value(row, a), value(row, b));
    case "gainDeviationDb":
      return (row) => {
        const gainDb = forwardGainDb(value(row, a), value(row, b));
        return Number.isNaN(gainDb) ? gainDb : gainDb - expected(value(row, a));
      };
    case "netOutputW":
      return (row) => value(row, a) - value(row, b);
    case "vswr":
      return (row) => vswr(value(row, a), value(row, b));
    case "plateDissipationW":
      return (row) => value(row, a) * value(row, b) - (value(row, c) - value(row, d));
    case "efficiency":
      return (row) => efficiency(value(row, a) * value(row, b), value(row, c) - value(row, d));
    case "gridPlateRatio":
      return (row) => gridPlateRatio(value(row, a), value(row, b));
    case "inputReflectedRatio":
      return (row) => inputReflectedRatio(value(row, a), value(row, b));
    default:
      return (row) => value(row, a);
  }
}
