/** Faults of the plate supply and of the mains behind it. */
import type { Effect } from "./effect";

export const plateSupplyShort: Effect = ({ live }, f, share) => {
  live.shortSiemens += share / f.severity;
};

export const plateSupplyLost: Effect = ({ live }, f, share) => {
  const gone = f.severity * share;
  if (gone >= 1) live.supplyAlive = false;
  else live.supplyShare *= 1 - gone;
};
