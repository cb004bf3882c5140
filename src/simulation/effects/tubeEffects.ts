/** Faults of the tubes and their bias. */
import { ARC_PATH_OHM } from "../../physics/supply/dcArc";
import { addGas, addOscillation } from "../../physics/tube/strayCurrents";
import { hasBrokenDown } from "../presence";
import type { Effect } from "./effect";

export const biasLost: Effect = ({ live }, f, share) => {
  live.biasV *= 1 - f.severity * share;
};

export const tubeAgeing: Effect = ({ live }, f, share) => {
  live.perveanceShare *= 1 - f.severity * share;
};

/** Voltage of the flashover a gassy tube ends in; estimate, as of a flashover without a cause. */
const GAS_ARC_V = 50;

export const gassyTube: Effect = ({ live, logic, ns }, f, share) => {
  addGas(live.stray, f.severity * share);
  if (!hasBrokenDown(f, ns) || logic.dcArcsOut.includes(f.fault)) return;
  live.dcArcV = live.dcArcSiemens > 0 ? Math.min(live.dcArcV, GAS_ARC_V) : GAS_ARC_V;
  live.dcArcSiemens = 1 / ARC_PATH_OHM;
};

/** Cut off, a tube has nothing to oscillate with. */
export const selfOscillation: Effect = ({ live }, f, share) => {
  if (!live.cutoff) addOscillation(live.stray, f.severity * share);
};

/** The whole cathode current flows through the touch: the bias element drops nothing, and cut-off has nothing to open. */
export const gridTouch: Effect = ({ live }, f, share) => {
  live.touchSiemens += share / f.severity;
  live.cutoff = true;
};
