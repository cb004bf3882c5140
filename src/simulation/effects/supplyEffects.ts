/** Faults of the plate supply and of the mains behind it. */
import { ARC_PATH_OHM } from "../../physics/supply/dcArc";
import type { Effect } from "./effect";

export const plateSupplyShort: Effect = ({ live }, f, share) => {
  live.shortSiemens += share / f.severity;
};

export const plateSupplyLost: Effect = ({ live }, f, share) => {
  const gone = f.severity * share;
  if (gone >= 1) live.supplyAlive = false;
  else live.supplyShare *= 1 - gone;
};

/** A short through the tank coils and the safety choke; without the choke nothing flows. */
export const blockingShorted: Effect = ({ parts, live, logic, project }, _, share) => {
  if (logic.faults.some((f) => f.fault === "safetyChokeOpen")) return;
  const ohm = parts.coilOhm + parts.outputCoilOhm + project.station.safetyChoke.resistanceOhm;
  live.shortSiemens += share / Math.max(ohm, ARC_PATH_OHM);
};

/** An arc of the voltage `severity`, until it has gone out. Of two the one with the lower voltage burns. */
export const dcArc: Effect = ({ live, logic }, f) => {
  if (logic.dcArcsOut.includes(f.fault)) return;
  live.dcArcV = live.dcArcSiemens > 0 ? Math.min(live.dcArcV, f.severity) : f.severity;
  live.dcArcSiemens = 1 / ARC_PATH_OHM;
};

export const mainsDip: Effect = ({ live }, f, share) => {
  const left = 1 - f.severity * share;
  if (left > 0) live.supplyShare *= left;
  else live.supplyAlive = false;
};

export const mainsLevel: Effect = ({ live }, f, share) => {
  live.supplyShare *= 1 + (f.severity - 1) * share;
};

export const stepStartStuck: Effect = ({ live, project }, _, share) => {
  const { supply } = project.station;
  if (supply.kind !== "rectified") return;
  live.stepOhm = Math.max(live.stepOhm, supply.stepStart.resistorOhm * share);
};

export const bleederOpen: Effect = ({ live }) => {
  live.bleederOpen = true;
};
