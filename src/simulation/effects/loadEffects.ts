/** Faults of the load as conductance and susceptance at the connector, and of the contact that leads there. */
import { LINE_OHM, OPEN_SIEMENS } from "../../physics/stage/stationCircuit";
import { isTravelling } from "../contacts";
import type { Effect } from "./effect";

export const openLoad: Effect = ({ live }, f, share) => {
  const left = 1 - f.severity * share;
  live.loadSiemens = Math.max(live.loadSiemens * left, OPEN_SIEMENS);
  live.loadSusceptanceSiemens *= left;
};

export const shortLoad: Effect = ({ live }, f, share) => {
  live.loadSiemens += share / f.severity;
};

/** Nothing while the switch is on its way, then a resistance above the line's own. */
export const antennaChanged: Effect = ({ live, ns }, f) => {
  live.loadSiemens = isTravelling(f, ns) ? OPEN_SIEMENS : 1 / (LINE_OHM * f.severity);
  live.loadSusceptanceSiemens = 0;
};

export const relayOpens: Effect = ({ live, logic }) => {
  if (!logic.failures.relayStuck) live.loadConnected = false;
};

/** The bias comes with the drive, not with the relay. */
export const driveAhead: Effect = ({ live, logic }) => {
  const isAhead = logic.sequence.phase === "closing" && logic.envelope.to > 0;
  if (isAhead && !logic.cathodeCut) live.cutoff = false;
};
