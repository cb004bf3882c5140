/** Faults of the tank circuit and of who tunes it. */
import type { LiveStation, StationParts } from "../../physics/stage/stationCircuit";
import { dipTuningF } from "../../physics/tank/plateNetwork";
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
