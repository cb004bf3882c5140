/** Comparison of numbers whose tolerance has a stated reason. */
import { expect } from "vitest";

/**
 * Fails unless |actual - expected| <= tolerance. All three share one unit. `reason` says why this tolerance
 * and no other; it is printed with the failure. A tolerance that is not a finite non-negative number, an
 * expected value that is not finite, or an empty reason is a mistake in the test itself and throws.
 */
export function expectWithin(
  actual: number,
  expected: number,
  tolerance: number,
  reason: string,
): void {
  if (!Number.isFinite(tolerance) || tolerance < 0)
    throw new Error(`invalid tolerance: ${tolerance}`);
  if (!Number.isFinite(expected)) throw new Error(`invalid expected value: ${expected}`);
  if (reason.trim() === "") throw new Error("a tolerance needs a reason");
  const difference = Math.abs(actual - expected);
  // A NaN difference fails here too: no comparison with NaN holds.
  if (difference <= tolerance) {
    expect(difference).toBeLessThanOrEqual(tolerance); // counts as an assertion
    return;
  }
  expect.fail(
    `expected ${actual} to lie within ${tolerance} of ${expected}, off by ${difference} (${reason})`,
  );
}
