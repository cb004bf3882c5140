/** Faults of the tubes and their bias. */
import type { Effect } from "./effect";

export const biasLost: Effect = ({ live }, f, share) => {
  live.biasV *= 1 - f.severity * share;
};
