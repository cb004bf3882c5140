/**
 * Where tuning and loading belong for a load, how far off the present settings are, and when the capacitors'
 * end stops do not let them get there.
 *
 * The aim is the plate load the tank is designed for; an explicit tank's own into 50 ohm, as its file is tuned.
 */
import type { StationParts } from "../physics/stage/stationCircuit";
import {
  type LoadAdmittance,
  matchPlate,
  type PlateNetwork,
  plateAdmittance,
} from "../physics/tank/plateNetwork";
import { MATCHED } from "./workingPoint";

export type StopName = "tuningLow" | "tuningHigh" | "loadingLow" | "loadingHigh";

export interface TuneUp {
  readonly tuningF: number;
  readonly loadingF: number;
  /** Of the adjustable part as designed, as the bench's knobs count. */
  readonly tuningRatio: number;
  readonly loadingRatio: number;
}

export type TuneUpResult =
  | ({ readonly kind: "found" } & TuneUp)
  /** The best match lies beyond these end stops. */
  | { readonly kind: "stopped"; readonly stops: readonly StopName[]; readonly wanted: TuneUp }
  /** No loading gives this plate load at all. */
  | { readonly kind: "impossible" };

/** The output network of a station at its frequency. */
export function networkOf(parts: StationParts): PlateNetwork {
  return {
    omega: parts.omega,
    coilH: parts.coilH,
    coilOhm: parts.coilOhm,
    chokeH: parts.chokeH,
    outputCoilH: parts.outputCoilH,
    outputCoilOhm: parts.outputCoilOhm,
  };
}

/** Plate load a station is meant to work into, ohm. */
export function intendedPlateOhm(parts: StationParts): number {
  const { tank } = parts.station;
  if (tank.kind === "designedPi" || tank.kind === "designedPiL") return tank.plateLoadOhm;
  const y = plateAdmittance(networkOf(parts), parts.tuningF, parts.loadingF, MATCHED);
  return 1 / y.conductanceSiemens;
}

/** Settings that show the plate its intended load with `load` at the connector. */
export function tuneUp(parts: StationParts, load: LoadAdmittance): TuneUpResult {
  const match = matchPlate(networkOf(parts), intendedPlateOhm(parts), load);
  if (match === null) return { kind: "impossible" };
  const { tuningCapacitor, loadingCapacitor } = parts.station;
  const knobF = match.tuningF - parts.strayF;
  const wanted: TuneUp = {
    ...match,
    tuningRatio: knobF / (parts.tuningF - parts.strayF),
    loadingRatio: match.loadingF / parts.loadingF,
  };
  const stops: StopName[] = [];
  if (knobF < tuningCapacitor.minF) stops.push("tuningLow");
  if (knobF > tuningCapacitor.maxF) stops.push("tuningHigh");
  if (match.loadingF < loadingCapacitor.minF) stops.push("loadingLow");
  if (match.loadingF > loadingCapacitor.maxF) stops.push("loadingHigh");
  return stops.length > 0 ? { kind: "stopped", stops, wanted } : { kind: "found", ...wanted };
}
