/**
 * Means over one cycle by the midpoint rule on a graded angle.
 *
 *   theta = phi + 0.7 sin phi,   mean f = (1/N) sum f(theta_j) (1 + 0.7 cos phi_j),   phi_j = (j + 1/2) 2 pi/N
 *
 * The rule is exact in the limit and periodic, so smooth integrands converge faster than any power of N. The grading
 * crowds the points round theta = pi, where a cathode-driven tube conducts (cathode voltage Ek + Vk cos theta, lowest
 * at pi), and thins them round theta = 0, where nothing flows.
 *
 * Angles come in pairs +theta, -theta with equal weight; a rule of N points stores the N/2 positive ones.
 * Standing: midpoint rule, textbook; the factor 0.7 was found by trial against 64 uniform points (estimate).
 */
import { cos, sin } from "./elementary";

const GRADING = 0.7;

export interface GradedRule {
  /** Positive angles, as cosine and sine. */
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
  /** Weight of ONE point of a pair: twice the sum of all weights is 1. */
  readonly weight: Float64Array;
}

/** Builds the rule for an even number of points on the whole cycle. */
export function gradedRule(points: number): GradedRule {
  if (!Number.isInteger(points) || points < 2 || points % 2 !== 0)
    throw new Error(`invalid points: ${points}`);
  const pairs = points / 2;
  const cosine = new Float64Array(pairs);
  const sine = new Float64Array(pairs);
  const weight = new Float64Array(pairs);
  for (let j = 0; j < pairs; j++) {
    const phi = ((j + 0.5) * 2 * Math.PI) / points;
    const theta = phi + GRADING * sin(phi);
    cosine[j] = cos(theta);
    sine[j] = sin(theta);
    weight[j] = (1 + GRADING * cos(phi)) / points;
  }
  return { cosine, sine, weight };
}
