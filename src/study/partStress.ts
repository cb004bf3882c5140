/**
 * RF voltage and current at every part of the output network against what the part stands, at a settled point.
 *
 *   tuning capacitor   I = w (C1 - strays) |V1|          loading capacitor  I = w C2 |V2|
 *   plate choke        I = |V1| / (w Lr), and the plate's direct current beside it, both heating the wire
 *   blocking capacitor I = everything the plate sends to the tank: coil and tuning capacitor, |Iz| = |IL + jwC1 V1|
 *   safety choke       I = |Vo| / (w Ls)
 *
 * Peaks of the fundamental, currents as rms. A gap's rating is what clean air of this site withstands across it.
 */
import { relativeAirDensity, standardPressurePa } from "../physics/airgap/airDensity";
import { gapWithstandV, RF_STRENGTH_FACTOR } from "../physics/airgap/breakdown";
import { ILA, ILC, V1, V2, V3 } from "../physics/stage/layout";
import { LINE_OHM, type StationParts } from "../physics/stage/stationCircuit";
import type { Working } from "./workingPoint";

export type StressedPart =
  | "tube"
  | "plateChoke"
  | "blockingCapacitor"
  | "tuningCapacitor"
  | "coil"
  | "loadingCapacitor"
  | "outputCoil"
  | "safetyChoke"
  | "connector"
  | "exciter";

export type StressedBy =
  | "plateCurrent"
  | "gridCurrent"
  | "plateDissipation"
  | "gridDissipation"
  | "plateVoltage"
  | "directVoltage"
  | "rfPeakVoltage"
  | "rfCurrent"
  | "reflectedDrive";

export interface StressRow {
  readonly part: StressedPart;
  readonly by: StressedBy;
  readonly unit: "V" | "A" | "W";
  readonly value: number;
  /** What the part stands for good; null where nothing is stated. */
  readonly rating: number | null;
}

/** Share of the rating that is left, 1 for an idle part, below 0 for an overloaded one; null without a rating. */
export function headroom({ value, rating }: Pick<StressRow, "value" | "rating">): number | null {
  return rating === null ? null : 1 - value / rating;
}

const ROOT_HALF = Math.sqrt(0.5);

/** Every stress of one working point, from tube to connector. */
export function partStress(parts: StationParts, w: Working): readonly StressRow[] {
  const { station, omega } = parts;
  const { ratings } = station;
  const y = w.state;
  const v1 = peak(y, V1);
  const v2 = peak(y, V2);
  const hasOutputCoil = parts.outputCoilH > 0;
  const vo = hasOutputCoil ? peak(y, V3) : v2;
  const rms = (peakA: number): number => peakA * ROOT_HALF;
  const gapV = (gapM: number): number => gapWithstandV({ ...siteAir(parts), gapM });
  const knobF = w.setting.tuningF - parts.strayF;
  const wc = omega * knobF;
  const tankRe = (y[ILA] as number) - wc * (y[V1 + 1] as number);
  const tankIm = (y[ILA + 1] as number) + wc * (y[V1] as number);
  const { conductanceSiemens: g, susceptanceSiemens: b } = w.setting.load;
  return [
    stress("tube", "plateCurrent", "A", w.plateCurrentA, ratings.plateCurrentA),
    stress("tube", "gridCurrent", "A", w.gridCurrentA, ratings.gridCurrentA),
    stress("tube", "plateDissipation", "W", w.plateDissipationW, ratings.plateDissipationW),
    stress("tube", "gridDissipation", "W", w.gridDissipationW, ratings.gridDissipationW),
    stress("tube", "plateVoltage", "V", w.plateV, ratings.plateV),
    stress("plateChoke", "rfCurrent", "A", rms(w.chokePeakA), ratings.chokeRmsA),
    stress("blockingCapacitor", "directVoltage", "V", w.plateV, station.blockingCapacitor.ratedV),
    stress(
      "blockingCapacitor",
      "rfCurrent",
      "A",
      rms(length(tankRe, tankIm)),
      ratings.blockingRmsA,
    ),
    stress("tuningCapacitor", "rfPeakVoltage", "V", v1, gapV(station.tuningCapacitor.gapM)),
    stress("tuningCapacitor", "rfCurrent", "A", rms(wc * v1), ratings.tuningRmsA),
    stress("coil", "rfCurrent", "A", rms(w.coilPeakA), ratings.coilRmsA),
    stress("loadingCapacitor", "rfPeakVoltage", "V", v2, gapV(station.loadingCapacitor.gapM)),
    stress(
      "loadingCapacitor",
      "rfCurrent",
      "A",
      rms(omega * w.setting.loadingF * v2),
      ratings.loadingRmsA,
    ),
    ...(hasOutputCoil
      ? [stress("outputCoil", "rfCurrent", "A", rms(peak(y, ILC)), ratings.coilRmsA)]
      : []),
    stress(
      "safetyChoke",
      "rfCurrent",
      "A",
      rms(vo / (omega * station.safetyChoke.inductanceH)),
      ratings.chokeRmsA,
    ),
    stress("connector", "rfPeakVoltage", "V", vo, gapV(station.outputContact.gapM)),
    stress("connector", "rfCurrent", "A", rms(vo * length(g, b)), ratings.outputRmsA),
    stress("exciter", "reflectedDrive", "W", w.driveReflectedW, ratings.exciterReflectedW),
  ];
}

/** Standing-wave ratio of a load on the station's line impedance. */
export function swrOf(load: Working["setting"]["load"]): number {
  const g = load.conductanceSiemens * LINE_OHM;
  const b = load.susceptanceSiemens * LINE_OHM;
  const rho = length(1 - g, b) / Math.max(length(1 + g, b), 1e-12);
  return rho >= 1 ? Infinity : (1 + rho) / (1 - rho);
}

function siteAir(parts: StationParts) {
  const { altitudeM, airK } = parts.station.site;
  return {
    relativeDensity: relativeAirDensity(standardPressurePa(altitudeM), airK),
    humidityFactor: 1,
    rfFactor: RF_STRENGTH_FACTOR,
  };
}

function stress(
  part: StressedPart,
  by: StressedBy,
  unit: StressRow["unit"],
  value: number,
  rating: number | null,
): StressRow {
  return { part, by, unit, value, rating };
}

function peak(y: Float64Array, at: number): number {
  return length(y[at] as number, y[at + 1] as number);
}

function length(re: number, im: number): number {
  return Math.sqrt(re * re + im * im);
}
