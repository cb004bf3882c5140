/** Faults of the tank circuit and of who tunes it. */
import { AT_LOADING, AT_PLATE } from "../../physics/stage/layout";
import { otherBandCoils } from "../../physics/stage/otherBand";
import type { LiveStation, StationParts } from "../../physics/stage/stationCircuit";
import { shortedTurnOhm } from "../../physics/tank/coilFaults";
import { dipTuningF } from "../../physics/tank/plateNetwork";
import { isTravelling } from "../contacts";
import type { Effect } from "./effect";

export const offResonance: Effect = (scene, f, share) => {
  scene.detune += f.severity * share;
};

/** Loaded wrongly, and the dip followed; the knob still turns from there. */
export const wrongLoading: Effect = (scene, f, share) => {
  const { parts, live } = scene;
  const before = dipRatio(parts, live);
  live.loadingRatio *= 1 + (f.severity - 1) * share;
  scene.detune += dipRatio(parts, live) - before;
};

/**
 * Tuning at which the plate node is resonant for the loading and load as they are: where an operator finds the dip.
 * Per unit of the adjustable part as designed.
 */
function dipRatio(parts: StationParts, live: LiveStation): number {
  load.conductanceSiemens = live.loadSiemens;
  load.susceptanceSiemens = live.loadSusceptanceSiemens;
  const dipF = dipTuningF(parts, parts.loadingF * live.loadingRatio, load);
  return (dipF - parts.strayF) / (parts.tuningF - parts.strayF);
}

const load = { conductanceSiemens: 0, susceptanceSiemens: 0 };

/** Leads and strays that are left of a loading capacitor whose connection is lost; estimate. */
const LEAST_LOADING = 0.02;

export const loadingOpen: Effect = ({ live }, f, share) => {
  live.loadingRatio *= Math.max(1 - f.severity * share, LEAST_LOADING);
};

export const platesTouch: Effect = ({ live }, f, share) => {
  const at = f.part === "loadingCapacitor" ? AT_LOADING : AT_PLATE;
  live.bridgedSiemens[at] = (live.bridgedSiemens[at] as number) + share / f.severity;
};

export const shortedTurn: Effect = ({ parts, live }, f, share) => {
  const lost = f.severity * share;
  live.extraCoilOhm += shortedTurnOhm(lost, parts.omega * parts.coilH);
  live.coilShare *= 1 - lost;
};

export const wrongBand: Effect = ({ parts, live }, f) => {
  switchBand(parts, live, f.severity);
};

/** While the switch is on its way the arc drawn there carries the coil's current. */
export const bandSwitchMoved: Effect = ({ parts, live, ns }, f) => {
  if (!isTravelling(f, ns)) switchBand(parts, live, f.severity);
};

function switchBand(parts: StationParts, live: LiveStation, ratio: number): void {
  const { coilShare, outputCoilShare } = otherBandCoils(parts, ratio);
  live.extraCoilOhm += parts.coilOhm * (coilShare - 1);
  live.coilShare *= coilShare;
  live.outputCoilShare *= outputCoilShare;
}
