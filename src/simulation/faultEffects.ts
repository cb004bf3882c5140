/**
 * What switches, knobs and faults make of the station at one instant: the live circuit, the available
 * drive and the airflow. Pure reading of the logic; nothing is kept. What they make of the gaps is in `gaps`.
 */
import { cos } from "../math/elementary";
import { BRIDGED_SIEMENS } from "../physics/stage/circuit";
import { ARC_COUNT } from "../physics/stage/layout";
import type { LiveStation, StationParts } from "../physics/stage/stationCircuit";
import { clearStray } from "../physics/tube/strayCurrents";
import type { Project } from "../project/types";
import type { Scene } from "./effects/effect";
import { EFFECTS, FEEDER_EFFECTS } from "./effects/effects";
import { type MovedFeeder, moveLoad, setLoad } from "./liveLoad";
import { type Logic, rampAt } from "./logic";
import { presenceOf, presenceUntil } from "./presence";

/** Drive in tune mode goes no higher than this; common practice, no source. */
export const TUNE_DRIVE_W = 20;
/** A tuning capacitor fully open keeps about this much of its design value; estimate. */
const LEAST_TUNING = 0.05;

/** Lays the logic over the parts, into `live`, for the piece of time that ends at `ns`. */
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
  live.coilShare = 1;
  live.outputCoilShare = 1;
  live.extraCoilOhm = 0;
  setLoad(parts, logic, ns, live);
  live.loadConnected = logic.sequence.antennaClosed || logic.failures.relayStuck;
  applyPower(project, logic, live);
  for (let a = 0; a < ARC_COUNT; a++) {
    live.bridgedSiemens[a] = (logic.bridgedSinceNs[a] as number) < 0 ? 0 : BRIDGED_SIEMENS;
  }
  live.biasV = project.station.bias.cathodeV;
  live.perveanceShare = 1;
  live.touchSiemens = 0;
  clearStray(live.stray);
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
const feeder: MovedFeeder = { resonanceRatio: 1, feedPointConnected: true };

function applyFaults(
  project: Project,
  parts: StationParts,
  logic: Logic,
  ns: number,
  live: LiveStation,
): void {
  scene ??= { project, parts, logic, ns, live, detune: 0, feeder };
  scene.project = project;
  scene.parts = parts;
  scene.logic = logic;
  scene.ns = ns;
  scene.live = live;
  scene.detune = 0;
  feeder.resonanceRatio = 1;
  feeder.feedPointConnected = true;
  layOver(scene, FEEDER_EFFECTS);
  moveLoad(parts, feeder, live);
  layOver(scene, EFFECTS);
  live.tuningRatio += scene.detune;
}

function layOver(over: Scene, effects: typeof EFFECTS): void {
  for (const f of over.logic.faults) {
    const effect = effects[f.fault];
    const share = effect === undefined ? 0 : presenceUntil(f, over.ns);
    if (share > 0) effect?.(over, f, share);
  }
}

/** Available drive at `ns`, before the key's envelope: knob, tune limit, overdrive. */
export function availableDriveW(logic: Logic, ns: number): number {
  let watts = rampAt(logic.controls.driveW, ns);
  if (logic.mode === "tune") watts = Math.min(watts, TUNE_DRIVE_W);
  for (const f of logic.faults) {
    if (f.fault === "overdrive" || f.fault === "alcLost")
      watts *= 1 + (f.severity - 1) * presenceOf(f, ns);
  }
  return watts;
}

/** Overshoot of the leading edge, dB: the exciter's own, or a worse one. */
export function overshootDbAt(logic: Logic, ownDb: number): number {
  let db = ownDb;
  for (const f of logic.faults) if (f.fault === "leadingEdge") db = Math.max(db, f.severity);
  return db;
}

/** Whether the level control is there to hold the drive back. */
export function levelControlHolds(logic: Logic, ns: number): boolean {
  for (const f of logic.faults) if (f.fault === "alcLost" && presenceOf(f, ns) > 0) return false;
  return true;
}

/** Share of full airflow through the anode's cooler during the piece of time that ends at `ns`; none once the fan has stopped. */
export function airflowAt(logic: Logic, ns: number): number {
  let share = logic.power.fanOn ? 1 : 0;
  for (const f of logic.faults)
    if (f.fault === "airflowLost") share *= 1 - f.severity * presenceUntil(f, ns);
  return share;
}

/** The shaped envelope at `ns`: raised cosine in voltage. */
export function envelopeAt(logic: Logic, edgeNs: number, ns: number): number {
  const e = logic.envelope;
  if (e.from === e.to || ns >= e.startNs + edgeNs) return e.to;
  if (ns <= e.startNs) return e.from;
  const part = (ns - e.startNs) / edgeNs;
  return e.from + (e.to - e.from) * 0.5 * (1 - cos(Math.PI * part));
}
