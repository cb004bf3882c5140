/** One seed for all property tests, so that a run can be repeated anywhere; fast-check prints the path of a failure. */
import type { Parameters } from "fast-check";

const SEED = 20_260_114;

/**
 * Settings for `fc.assert(property, fixedRuns(40))`. 30 to 50 runs fit the time the whole suite has. QUIETARC_RUNS
 * multiplies them and QUIETARC_SEED replaces the seed for a longer search by hand.
 */
export function fixedRuns<T = unknown>(runs: number): Parameters<T> {
  if (!Number.isInteger(runs) || runs < 1) throw new Error(`invalid number of runs: ${runs}`);
  const factor = Number(process.env.QUIETARC_RUNS ?? 1);
  return { seed: Number(process.env.QUIETARC_SEED ?? SEED), numRuns: runs * factor };
}
