/**
 * What switches, knobs and faults make of the station at one instant: the live circuit, the available
 * drive, and what each gap withstands. Pure reading of the logic; nothing is kept.
 */
import { atan2, cos, sin } from "../math/elementary";
import {
  absoluteHumidityGPerM3,
  humidityFactor,
  relativeAirDensity,
  standardPressurePa,
} from "../physics/airgap/airDensity";
import { gapWithstandV, RF_STRENGTH_FACTOR } from "../physics/airgap/breakdown";
import { dustyGapM, insectResidualGapM, recoveredFraction } from "../physics/airgap/gapState";
import { ARC_PLACES } from "../physics/stage/layout";
import {
  LINE_OHM,
  type LiveStation,
  OPEN_SIEMENS,
  type StationParts,
} from "../physics/stage/stationCircuit";
import { admittanceFromGamma, gammaFromSwr, swrFromGamma } from "../physics/tank/reflection";
import type { PartName } from "../project/scenario";
import type { ArcPlace, Station } from "../project/station";
import type { Project } from "../project/types";
import { type Logic, type PlacedFault, rampAt } from "./logic";

/** Drive in tune mode goes no higher than this; common practice, no source. */
export const TUNE_DRIVE_W = 20;
/** A tuning capacitor fully open keeps about this much of its design value; estimate. */
const LEAST_TUNING = 0.05;
/** A forced arc strikes as soon as there is a little more than it needs to burn. */
const FORCED_STRIKE = 1.05;

/** Where an arc on this part burns; null for parts that have no gap. */
export function placeOf(part: PartName): ArcPlace | null {
  switch (part) {
    case "tuningCapacitor":
    case "loadingCapacitor":
      return part;
    case "bandSwitch":
      return "coilTap";
    case "outputContact":
      return "beyondCoupler";
    default:
      return null;
  }
}

/** SWR and phase of the load a station is given, so that the knob starts where the file stands. */
export function loadOfStation(parts: StationParts): { swr: number; phaseRad: number } {
  const g = parts.conductanceSiemens * LINE_OHM;
  const b = parts.susceptanceSiemens * LINE_OHM;
  const d = (1 + g) * (1 + g) + b * b;
  const re = ((1 - g) * (1 + g) - b * b) / d;
  const im = (-2 * b) / d;
  const magnitude = Math.min(Math.sqrt(re * re + im * im), 0.999999);
  return { swr: swrFromGamma(magnitude), phaseRad: magnitude > 1e-12 ? atan2(im, re) : 0 };
}

const admittance = { conductanceSiemens: 0, susceptanceSiemens: 0 };

/** Lays the logic over the parts at `ns`, into `live`. */
export function applyLogic(
  project: Project,
  parts: StationParts,
  logic: Logic,
  ns: number,
  live: LiveStation,
): void {
  const { controls } = logic;
  live.tuningRatio = rampAt(controls.tuningRatio, ns);
  live.loadingRatio = rampAt(controls.loadingRatio, ns);
  const swr = controls.loadSwr;
  const phase = controls.loadPhaseRad;
  if (swr.to === swr.from && phase.to === phase.from && swr.startNs < 0 && phase.startNs < 0) {
    live.loadSiemens = parts.conductanceSiemens;
    live.loadSusceptanceSiemens = parts.susceptanceSiemens;
  } else {
    const gamma = gammaFromSwr(Math.max(rampAt(swr, ns), 1));
    const angle = rampAt(phase, ns);
    admittanceFromGamma(gamma * cos(angle), gamma * sin(angle), LINE_OHM, admittance);
    live.loadSiemens = admittance.conductanceSiemens;
    live.loadSusceptanceSiemens = admittance.susceptanceSiemens;
  }
  live.loadConnected = logic.sequence.antennaClosed || logic.failures.relayStuck;
  live.contactorClosed = !logic.contactorOpen;
  live.supplyAlive = true;
  live.supplyShare = 1;
  live.shortSiemens = 0;
  live.biasV = project.station.bias.cathodeV;
  live.cutoff = !logic.sequence.biasOn;
  const cut = project.actuators.cathodeCutoff;
  if (logic.cathodeCut) {
    if (cut.kind === "resistor") live.cutoff = true;
    else live.biasV += cut.stepV;
  }
  let detune = 0;
  for (const f of logic.faults) detune += applyFault(parts, f, live);
  live.tuningRatio = Math.max(live.tuningRatio + detune, LEAST_TUNING);
}

/** One fault on the live station; answers how much of the tuning it takes away or adds. */
function applyFault(parts: StationParts, f: PlacedFault, live: LiveStation): number {
  switch (f.fault) {
    case "openLoad":
      live.loadSiemens = Math.max(live.loadSiemens * (1 - f.severity), OPEN_SIEMENS);
      live.loadSusceptanceSiemens *= 1 - f.severity;
      return 0;
    case "shortLoad":
      live.loadSiemens += 1 / f.severity;
      return 0;
    case "offResonance":
      return f.severity;
    case "lightLoading":
    case "heavyLoading": {
      const before = dipRatio(parts, live);
      live.loadingRatio *= f.severity;
      // the operator has followed the dip; the knob still turns from there
      return dipRatio(parts, live) - before;
    }
    case "plateSupplyShort":
      live.shortSiemens += 1 / f.severity;
      return 0;
    case "biasLost":
      live.biasV *= 1 - f.severity;
      return 0;
    case "plateSupplyLost":
      if (f.severity >= 1) live.supplyAlive = false;
      else live.supplyShare = 1 - f.severity;
      return 0;
    default:
      return 0;
  }
}

/**
 * Tuning at which the plate node is resonant for the loading and load as they are: where an operator
 * finds the dip. Per unit of the adjustable part as designed.
 */
export function dipRatio(parts: StationParts, live: LiveStation): number {
  const w = parts.omega;
  const gl = live.loadSiemens;
  const bl = w * parts.loadingF * live.loadingRatio + live.loadSusceptanceSiemens;
  const d = gl * gl + bl * bl;
  const r = parts.coilOhm + gl / d;
  const x = w * parts.coilH - bl / d;
  const susceptance = -x / (r * r + x * x) - 1 / (w * parts.chokeH);
  return (-susceptance / w - parts.strayF) / (parts.tuningF - parts.strayF);
}

/** Available drive at `ns`, before the key's envelope: knob, tune limit, overdrive. */
export function availableDriveW(logic: Logic, ns: number): number {
  let watts = rampAt(logic.controls.driveW, ns);
  if (logic.mode === "tune") watts = Math.min(watts, TUNE_DRIVE_W);
  for (const f of logic.faults) if (f.fault === "overdrive") watts *= f.severity;
  return watts;
}

/** The shaped envelope at `ns`: raised cosine in voltage. */
export function envelopeAt(logic: Logic, edgeNs: number, ns: number): number {
  const e = logic.envelope;
  if (e.from === e.to || ns >= e.startNs + edgeNs) return e.to;
  if (ns <= e.startNs) return e.from;
  const part = (ns - e.startNs) / edgeNs;
  return e.from + (e.to - e.from) * 0.5 * (1 - cos(Math.PI * part));
}

/** Drive that reaches the input circuit: nothing while it is inhibited. */
export function driveAtW(logic: Logic, edgeNs: number, ns: number): number {
  if (logic.driveInhibited) return 0;
  const e = envelopeAt(logic, edgeNs, ns);
  return e === 0 ? 0 : availableDriveW(logic, ns) * e * e;
}

/** Air of the site as the gaps feel it. */
export function gapAir(station: Station): { density: number; humidity: number } {
  const density = relativeAirDensity(standardPressurePa(station.site.altitudeM), station.site.airK);
  const grams = absoluteHumidityGPerM3(station.site.airK, station.site.relativeHumidity);
  return { density, humidity: humidityFactor(Math.min(Math.max(grams, 1), 13), density) };
}

/** Clean gap of a place. */
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
    if (f.fault === "arc" && placeOf(f.part) === place) return f.severity;
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
    if (placeOf(f.part) !== place) continue;
    if (f.fault === "arc") return f;
    if (f.fault === "insect" || (f.fault === "dust" && blamed === null)) blamed = f;
  }
  return blamed;
}

/** Peak voltage each place withstands at `ns`, into `out` in the order of ARC_PLACES. */
export function withstandAt(
  station: Station,
  air: { readonly density: number; readonly humidity: number },
  logic: Logic,
  ns: number,
  out: Float64Array,
): void {
  for (let a = 0; a < ARC_PLACES.length; a++) {
    const place = ARC_PLACES[a] as ArcPlace;
    let gapM = cleanGapM(station, place);
    let forcedV = Infinity;
    for (const f of logic.faults) {
      if (placeOf(f.part) !== place) continue;
      if (f.fault === "insect") gapM = insectResidualGapM(gapM, f.severity);
      else if (f.fault === "dust") gapM = dustyGapM(gapM, f.severity);
      else if (f.fault === "arc") forcedV = FORCED_STRIKE * f.severity;
    }
    const cold = gapWithstandV({
      gapM,
      relativeDensity: air.density,
      humidityFactor: air.humidity,
      rfFactor: RF_STRENGTH_FACTOR,
    });
    const since = ns - (logic.arcOutAtNs[a] as number);
    const limit = Math.min(cold, forcedV);
    // a hot gap strikes early, but never on less than an arc needs to burn
    const burnV = maintainingV(station, logic, place);
    out[a] =
      since < 50e6
        ? Math.max(limit * recoveredFraction(since * 1e-9), FORCED_STRIKE * burnV)
        : limit;
  }
}
