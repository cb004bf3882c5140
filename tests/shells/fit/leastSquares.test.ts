import { describe, expect, it } from "vitest";
import { minimise } from "../../../src/shells/fit/leastSquares";
import { expectWithin } from "../../support/expectWithin";

describe("the search for least squares", () => {
  it("reaches the bottom of the banana valley", () => {
    // Rosenbrock 1960: residuals 10 (y - x^2) and 1 - x vanish at (1, 1); usual start (-1.2, 1).
    const found = minimise({
      start: [-1.2, 1],
      lowest: [-5, -5],
      highest: [5, 5],
      count: 2,
      residuals: ([x = 0, y = 0]) => Float64Array.of(10 * (y - x * x), 1 - x),
    });
    expectWithin(found[0] ?? 0, 1, 1e-6, "zero residual: the stopping rule's 1e-9 is far below");
    expectWithin(found[1] ?? 0, 1, 1e-6, "the same");
  });

  it("agrees with the normal equations of a straight line", () => {
    // y = a + b x through (0, 1) (1, 3) (2, 4) (3, 4): b = 1, a = 1.5, by hand.
    const y = [1, 3, 4, 4];
    const found = minimise({
      start: [0, 0],
      lowest: [-10, -10],
      highest: [10, 10],
      count: 4,
      residuals: ([a = 0, b = 0]) => Float64Array.from(y, (value, x) => a + b * x - value),
    });
    expectWithin(found[0] ?? 0, 1.5, 1e-6, "differences are exact on a line; rounding");
    expectWithin(found[1] ?? 0, 1, 1e-6, "the same");
  });

  it("stays inside its limits and takes a single figure", () => {
    const found = minimise({
      start: [0],
      lowest: [-1],
      highest: [2],
      count: 1,
      residuals: ([x = 0]) => Float64Array.of(x - 7),
    });
    expectWithin(found[0] ?? 0, 2, 1e-6, "the limit nearest to the root at 7");
  });

  it("gives the same bits twice", () => {
    const problem = {
      start: [0.3, 0.4],
      lowest: [-5, -5],
      highest: [5, 5],
      count: 3,
      residuals: ([x = 0, y = 0]: readonly number[]) =>
        Float64Array.of(x * y - 0.2, x - 0.9, y * y - 0.1),
    };
    expect(minimise(problem)).toEqual(minimise(problem));
  });
});
