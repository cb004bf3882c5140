/**
 * The load as it hangs on the connector now: the station's own, or where the knobs have put a plain one, with what moves
 * the antenna laid over it. An antenna behind a line is worked out again from line and antenna; a plain load moves as an
 * antenna of ordinary Q would.
 */
import { atan2, cos, sin } from "../math/elementary";
import { shiftedAdmittance } from "../physics/feeder/antenna";
import { feederAdmittance } from "../physics/feeder/connector";
import {
  LINE_OHM,
  type LiveStation,
  OPEN_SIEMENS,
  type StationParts,
} from "../physics/stage/stationCircuit";
import { admittanceFromGamma, gammaFromSwr, swrFromGamma } from "../physics/tank/reflection";
import { type Logic, rampAt } from "./logic";

const admittance = { conductanceSiemens: 0, susceptanceSiemens: 0 };

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

/** Load as the knobs have it, into `live`. */
export function setLoad(parts: StationParts, logic: Logic, ns: number, live: LiveStation): void {
  const swr = logic.controls.loadSwr;
  const phase = logic.controls.loadPhaseRad;
  if (swr.to === swr.from && phase.to === phase.from && swr.startNs < 0 && phase.startNs < 0) {
    live.loadSiemens = parts.conductanceSiemens;
    live.loadSusceptanceSiemens = parts.susceptanceSiemens;
    return;
  }
  const gamma = gammaFromSwr(Math.max(rampAt(swr, ns), 1));
  const angle = rampAt(phase, ns);
  admittanceFromGamma(gamma * cos(angle), gamma * sin(angle), LINE_OHM, admittance);
  live.loadSiemens = admittance.conductanceSiemens;
  live.loadSusceptanceSiemens = admittance.susceptanceSiemens;
}

/** What faults move on a feeder. */
export interface MovedFeeder {
  resonanceRatio: number;
  feedPointConnected: boolean;
}

/** Lays a moved or broken antenna over the load in `live`. Allocation-free. */
export function moveLoad(parts: StationParts, feeder: MovedFeeder, live: LiveStation): void {
  if (feeder.feedPointConnected && feeder.resonanceRatio === 1) return;
  const { load, freqHz } = parts.station;
  if (load.kind === "antenna") {
    feederAdmittance(load.line, load.antenna, freqHz, feeder, admittance);
  } else if (feeder.feedPointConnected) {
    const { loadSiemens: g, loadSusceptanceSiemens: b } = live;
    shiftedAdmittance(g, b, feeder.resonanceRatio, admittance);
  } else {
    admittance.conductanceSiemens = OPEN_SIEMENS;
    admittance.susceptanceSiemens = 0;
  }
  live.loadSiemens = admittance.conductanceSiemens;
  live.loadSusceptanceSiemens = admittance.susceptanceSiemens;
}
