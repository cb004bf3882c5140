/**
 * A rate from counted events, with its exact confidence interval.
 *
 *   P(N >= n; lower) = a/2,   P(N <= n; upper) = a/2,   a = 1 - confidence
 *
 * N Poisson distributed, n what was counted; lower is 0 for n = 0. Source: F. Garwood, Biometrika 28 (1936) 437. Validity:
 * events independent of each other at a constant rate; the interval covers the rate at least as often as it says.
 * The tails are summed from their greatest term outwards and the ends found by halving: the chi-square quantile would
 * give the same, but the libraries that have one do not keep to arithmetic that is the same everywhere.
 */
import { exp, ln } from "../../math/elementary";

export interface RateInterval {
  /** Events over exposure. */
  readonly rate: number;
  readonly low: number;
  readonly high: number;
}

const TURNS = 200;
/** A term this small against the sum adds nothing. */
const NEGLIGIBLE = 1e-18;

/** Events per unit of `exposure` (hours, say), with the interval at `confidence`, 0.95 unless said. */
export function poissonRate(count: number, exposure: number, confidence = 0.95): RateInterval {
  if (!(Number.isInteger(count) && count >= 0)) throw new Error(`invalid count: ${count}`);
  if (!(exposure > 0)) throw new Error(`invalid exposure: ${exposure}`);
  if (!(confidence > 0 && confidence < 1)) throw new Error(`invalid confidence: ${confidence}`);
  const tail = 0.5 * (1 - confidence);
  const lnFactorial = lnFactorialOf(count);
  // the spread of n is its root: twelve of them, and a few more where n is small, are beyond any tail that is asked for
  const reach = 12 * Math.sqrt(count + 1) - 2 * ln(tail);
  const low =
    count === 0
      ? 0
      : halve(0, count, (mean) => tail - upperTail(count, mean, lnFactorial)) / exposure;
  const high =
    halve(count, count + reach, (mean) => lowerTail(count, mean, lnFactorial) - tail) / exposure;
  return { rate: count / exposure, low, high };
}

/** Where `falls`, which falls with its argument, passes zero. */
function halve(from: number, to: number, falls: (mean: number) => number): number {
  let low = from;
  let high = to;
  for (let i = 0; i < TURNS; i++) {
    const middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    if (falls(middle) > 0) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/** P(N <= n), for a mean of n or more: the terms fall from n downwards. */
function lowerTail(n: number, mean: number, lnFactorial: number): number {
  let term = 1;
  let sum = 1;
  for (let k = n; k > 0 && term > NEGLIGIBLE * sum; k--) {
    term *= k / mean;
    sum += term;
  }
  return atCount(n, mean, lnFactorial) * sum;
}

/** P(N >= n), for a mean of n or less: the terms fall from n upwards. */
function upperTail(n: number, mean: number, lnFactorial: number): number {
  let term = 1;
  let sum = 1;
  for (let k = n + 1; term > NEGLIGIBLE * sum; k++) {
    term *= mean / k;
    sum += term;
  }
  return atCount(n, mean, lnFactorial) * sum;
}

function atCount(n: number, mean: number, lnFactorial: number): number {
  return exp((n === 0 ? 0 : n * ln(mean)) - mean - lnFactorial);
}

function lnFactorialOf(n: number): number {
  let sum = 0;
  for (let k = 2; k <= n; k++) sum += ln(k);
  return sum;
}
