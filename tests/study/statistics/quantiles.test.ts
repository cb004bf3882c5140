import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { histogram, quantile, sorted } from "../../../src/study/statistics/quantiles";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

describe("quantiles", () => {
  it("lie between order statistics as definition 7 of Hyndman and Fan has it", () => {
    // by hand: n = 8, h = 7 x 0.25 = 1.75, so 2 + 0.75 (4 - 2) = 3.5; h = 6.3 at 0.9, so 10 + 0.3 (12 - 10)
    const sample = sorted([12, 1, 8, 4, 10, 2, 7, 9]);
    expect(quantile(sample, 0.25)).toBe(3.5);
    expect(quantile(sample, 0.5)).toBe(7.5);
    expectWithin(quantile(sample, 0.9), 10.6, 1e-12, "rounding");
    expect([quantile(sample, 0), quantile(sample, 1)]).toEqual([1, 12]);
  });

  it("are infinite where what never happens begins", () => {
    const sample = sorted([Infinity, 2, 3, Infinity, 1]);
    expect(quantile(sample, 0.5)).toBe(3);
    expect(quantile(sample, 0.6)).toBe(Infinity);
    expect(quantile(sorted([]), 0.5)).toBeNaN();
  });

  it("never leave the sample and never fall as p rises", () => {
    const values = fc.array(fc.double({ noNaN: true, min: -1e9, max: 1e9 }), { minLength: 1 });
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(values, share, share, (xs, p, q) => {
        const sample = sorted(xs);
        const low = quantile(sample, Math.min(p, q));
        const high = quantile(sample, Math.max(p, q));
        expect(low).toBeLessThanOrEqual(high + 1e-6);
        expect(low).toBeGreaterThanOrEqual(Math.min(...xs) - 1e-6);
        expect(high).toBeLessThanOrEqual(Math.max(...xs) + 1e-6);
      }),
      fixedRuns(40),
    );
  });

  it("refuse what is no number and no share", () => {
    expect(() => sorted([1, Number.NaN])).toThrow("invalid values");
    expect(() => quantile(sorted([1]), 1.2)).toThrow("invalid p: 1.2");
  });
});

describe("a histogram", () => {
  it("counts a value in the bin that begins with it, the last end too, and nothing outside", () => {
    const { counts } = histogram([-1, 0, 0.5, 1, 1.5, 2, 3, 3.1, Infinity], [0, 1, 2, 3]);
    expect(counts).toEqual([2, 2, 2]);
    expect(histogram([1], [1]).counts).toEqual([]);
  });
});
