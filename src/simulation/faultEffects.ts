/**
 * What switches, knobs and faults make of the station at one instant: the live circuit and the available
 * drive. Pure reading of the logic; nothing is kept. What they make of the gaps is in `gaps`.
 */
import { atan2, cos, sin } from "../math/elementary";
import { BRIDGED_SIEMENS } from "../physics/stage/circuit";
import { ARC_COUNT } from "../physics/stage/layout";
import { LINE_OHM, type LiveStation, type StationParts } from "../physics/stage/stationCircuit";
import { admittanceFromGamma, gammaFromSwr, swrFromGamma } from "../physics/tank/reflection";
import type { Project } from "../project/types";
import type { Scene } from "./effects/effect";
import { EFFECTS } from "./effects/effects";
import { type Logic, rampAt } from "./logic";
import { presenceOf } from "./presence";

/** Drive in tune mode goes no higher than this; common practice, no source. */
export const TUNE_DRIVE_W = 20;
/** A tuning capacitor fully open keeps about this much of its design value; estimate. */
const LEAST_TUNING = 0.05;

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
  applyPower(project, logic, live);
  for (let a = 0; a < ARC_COUNT; a++) {
    live.bridgedSiemens[a] = (logic.bridgedSinceNs[a] as number) < 0 ? 0 : BRIDGED_SIEMENS;
  }
  live.biasV = project.station.bias.cathodeV;
  live.cutoff = !logic.sequence.biasOn;
  const cut = project.actuators.cathodeCutoff;
  if (logic.cathodeCut) {
    if (cut.kind === "resistor") live.cutoff = true;
    else live.biasV += cut.stepV;
  }
  if (logic.faults.length > 0) applyFaults(project, parts, logic, ns, live);
  live.tuningRatio = Math.max(live.tuningRatio, LEAST_TUNING);
}

function applyPower(project: Project, logic: Logic, live: LiveStation): void {
  const { power, failures } = logic;
  const { supply } = project.station;
  live.contactorClosed = !logic.contactorOpen && (power.plateOn || failures.contactorWelded);
  live.supplyAlive = power.on;
  live.supplyShare = 1;
  live.stepOhm = power.stepIn && supply.kind === "rectified" ? supply.stepStart.resistorOhm : 0;
  live.bleederOpen = false;
  live.fuseOpen = logic.fuseOpen;
  live.crowbarSiemens = logic.crowbarFired ? 1 / project.actuators.crowbar.resistanceOhm : 0;
  live.shortSiemens = 0;
  live.dcArcV = 0;
  live.dcArcSiemens = 0;
}

let scene: Scene | null = null;

function applyFaults(
  project: Project,
  parts: StationParts,
  logic: Logic,
  ns: number,
  live: LiveStation,
): void {
  scene ??= { project, parts, logic, ns, live, detune: 0 };
  scene.project = project;
  scene.parts = parts;
  scene.logic = logic;
  scene.ns = ns;
  scene.live = live;
  scene.detune = 0;
  for (const f of logic.faults) {
    const effect = EFFECTS[f.fault];
    const share = effect === undefined ? 0 : presenceOf(f, ns);
    if (share > 0) effect?.(scene, f, share);
  }
  live.tuningRatio += scene.detune;
}

/** Available drive at `ns`, before the key's envelope: knob, tune limit, overdrive. */
export function availableDriveW(logic: Logic, ns: number): number {
  let watts = rampAt(logic.controls.driveW, ns);
  if (logic.mode === "tune") watts = Math.min(watts, TUNE_DRIVE_W);
  for (const f of logic.faults) {
    if (f.fault === "overdrive") watts *= 1 + (f.severity - 1) * presenceOf(f, ns);
  }
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
