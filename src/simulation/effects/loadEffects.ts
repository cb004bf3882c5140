/** Faults of the load as conductance and susceptance at the connector. */
import { OPEN_SIEMENS } from "../../physics/stage/stationCircuit";
import type { Effect } from "./effect";

export const openLoad: Effect = ({ live }, f, share) => {
  const left = 1 - f.severity * share;
  live.loadSiemens = Math.max(live.loadSiemens * left, OPEN_SIEMENS);
  live.loadSusceptanceSiemens *= left;
};

export const shortLoad: Effect = ({ live }, f, share) => {
  live.loadSiemens += share / f.severity;
};
