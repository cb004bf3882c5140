/**
 * The gaps that can arc: which part has one, how wide it is with what lies in it, what it withstands at an
 * instant, and which fault an arc there is blamed on. Pure reading of station and logic; nothing is kept.
 */
import {
  absoluteHumidityGPerM3,
  humidityFactor,
  relativeAirDensity,
  standardPressurePa,
} from "../physics/airgap/airDensity";
import { gapWithstandV, strikeFactor } from "../physics/airgap/breakdown";
import {
  COLD_AFTER_S,
  dustyGapM,
  insectResidualGapM,
  recoveredFraction,
} from "../physics/airgap/gapState";
import { ARC_PLACES } from "../physics/stage/layout";
import { arcPlaceOf } from "../project/arcPlaceOf";
import type { ArcPlace, Station } from "../project/station";
import { drawsArc } from "./contacts";
import type { Logic, PlacedFault } from "./logic";
import { presenceOf } from "./presence";

/** A forced arc strikes as soon as there is a little more than it needs to burn. */
const FORCED_STRIKE = 1.05;

/** Air of the site as the gaps feel it: relative density, and the factor for its humidity. */
export interface GapAir {
  readonly density: number;
  readonly humidity: number;
}

/** Air of the site as the gaps feel it. */
export function gapAir(station: Station): GapAir {
  const density = relativeAirDensity(standardPressurePa(station.site.altitudeM), station.site.airK);
  const grams = absoluteHumidityGPerM3(station.site.airK, station.site.relativeHumidity);
  return { density, humidity: humidityFactor(Math.min(Math.max(grams, 1), 13), density) };
}

/** Clean gap of a place: what a bead has to cross, for whatever else lies in it is no metal. */
export function cleanGapM(station: Station, place: ArcPlace): number {
  switch (place) {
    case "tuningCapacitor":
      return station.tuningCapacitor.gapM;
    case "loadingCapacitor":
      return station.loadingCapacitor.gapM;
    case "coilTap":
      return station.bandSwitch.gapM;
    case "beyondCoupler":
      return station.outputContact.gapM;
  }
}

/** Maintaining voltage of an arc at a place, a forced arc's own first. */
export function maintainingV(station: Station, logic: Logic, place: ArcPlace): number {
  for (const f of logic.faults) {
    if (f.fault === "arc" && arcPlaceOf(f.part) === place) return f.severity;
  }
  switch (place) {
    case "tuningCapacitor":
      return station.tuningCapacitor.maintainingV;
    case "loadingCapacitor":
      return station.loadingCapacitor.maintainingV;
    case "coilTap":
      return station.bandSwitch.maintainingV;
    case "beyondCoupler":
      return station.outputContact.maintainingV;
  }
}

/** Fault whose gap this is, the one an arc is blamed on; null for a clean gap. */
export function faultAtPlace(logic: Logic, place: ArcPlace): PlacedFault | null {
  let blamed: PlacedFault | null = null;
  for (const f of logic.faults) {
    if (arcPlaceOf(f.part) !== place) continue;
    if (f.fault === "arc") return f;
    if (f.fault === "insect" || (f.fault === "dust" && blamed === null)) blamed = f;
  }
  return blamed;
}

/** Clear air left at a place with the insects and the dust that lie in it, metres. */
export function residualGapM(station: Station, logic: Logic, place: ArcPlace, ns: number): number {
  let gapM = cleanGapM(station, place);
  for (const f of logic.faults) {
    if (arcPlaceOf(f.part) !== place) continue;
    if (f.fault === "insect") gapM = insectResidualGapM(gapM, f.severity * presenceOf(f, ns));
    else if (f.fault === "dust") gapM = dustyGapM(gapM, f.severity * presenceOf(f, ns));
  }
  return gapM;
}

/** Peak voltage each place withstands at `ns`, into `out` in the order of ARC_PLACES. `seed` draws the spread of strikes. */
export function withstandAt(
  station: Station,
  seed: number,
  air: GapAir,
  logic: Logic,
  ns: number,
  out: Float64Array,
): void {
  const { rfStrength, edgeFactor, strikeSpread } = station.airGaps;
  for (let a = 0; a < ARC_PLACES.length; a++) {
    const place = ARC_PLACES[a] as ArcPlace;
    const gapM = residualGapM(station, logic, place, ns);
    if ((logic.bridgedSinceNs[a] as number) >= 0) {
      out[a] = Infinity; // metal lies across it: nothing is left to break down
      continue;
    }
    // a hot gap strikes early, but never on less than an arc needs to burn
    const burnV = maintainingV(station, logic, place);
    let forcedV = Infinity;
    for (const f of logic.faults) {
      if (drawsArc(f, place, ns)) forcedV = Math.min(forcedV, FORCED_STRIKE * burnV);
      if (f.fault !== "arc" || arcPlaceOf(f.part) !== place) continue;
      if (presenceOf(f, ns) === 1) forcedV = FORCED_STRIKE * f.severity;
    }
    const cold =
      strikeFactor(seed, a, logic.strikes[a] as number, strikeSpread) *
      gapWithstandV({
        gapM,
        relativeDensity: air.density,
        humidityFactor: air.humidity,
        rfFactor: rfStrength,
        edgeFactor,
      });
    const since = ns - (logic.arcOutAtNs[a] as number);
    const limit = Math.min(cold, forcedV);
    out[a] =
      since < COLD_AFTER_S * 1e9
        ? Math.max(limit * recoveredFraction(since * 1e-9), FORCED_STRIKE * burnV)
        : limit;
  }
}
