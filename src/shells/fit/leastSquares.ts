/**
 * Levenberg-Marquardt by a general library, as the minimiser that the study of tubes asks for.
 *
 * It stands outside the core because the library uses the power operator, whose last digit is the engine's choice; what
 * it returns is rounded before it enters a project. The library damps all directions alike, takes absolute steps for its
 * differences and keeps only improvements above its tolerance: the problem is therefore given in logarithms and run in
 * rounds, each from the best point of the one before, until a round moves nothing.
 */
import { levenbergMarquardt } from "ml-levenberg-marquardt";
import type { Minimiser } from "../../study/tubeFit";

const ROUNDS = 12;
const ITERATIONS = 8;
/** Step of the central differences: error near 1e-8, far under a data sheet's digits. */
const DIFFERENCE = 1e-4;
const SETTLED = 1e-9;

/** The parameters with the least sum of squares that is found from `start`. */
export const minimise: Minimiser = ({ start, lowest, highest, count, residuals }) => {
  // The library wants two figures at least; one that is always met adds nothing.
  const indices = Array.from({ length: Math.max(count, 2) }, (_, index) => index);
  let best = [...start];
  for (let round = 0; round < ROUNDS; round += 1) {
    const { parameterValues } = levenbergMarquardt(
      { x: indices, y: indices.map(() => 0) },
      (parameters) => {
        const values = residuals(parameters);
        return (index) => values[index] ?? 0;
      },
      {
        initialValues: best,
        minValues: [...lowest],
        maxValues: [...highest],
        damping: 1e-3,
        maxIterations: ITERATIONS,
        errorTolerance: 1e-16,
        centralDifference: true,
        gradientDifference: DIFFERENCE,
      },
    );
    const before = best;
    best = [...parameterValues];
    if (best.every((value, index) => Math.abs(value - (before[index] ?? 0)) < SETTLED)) break;
  }
  return best;
};
