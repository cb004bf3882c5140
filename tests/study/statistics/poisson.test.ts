import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exp } from "../../../src/math/elementary";
import { poissonRate } from "../../../src/study/statistics/poisson";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

/**
 * 95 % limits of a Poisson count: F. Garwood, Biometrika 28 (1936) 437, table; the same figures in K. Ulm, Am. J.
 * Epidemiology 131 (1990) 373. Values from memory.
 */
const TABLE: readonly (readonly [
  count: number,
  low: number,
  high: number,
  lowUnit: number,
  highUnit: number,
])[] = [
  [0, 0, 3.689, 0, 1e-3],
  [1, 0.0253, 5.572, 1e-4, 1e-3],
  [2, 0.242, 7.225, 1e-3, 1e-3],
  [3, 0.619, 8.767, 1e-3, 1e-3],
  [4, 1.09, 10.24, 1e-2, 1e-2],
  [5, 1.623, 11.668, 1e-3, 1e-3],
  [10, 4.795, 18.39, 1e-3, 1e-2],
  [20, 12.22, 30.89, 1e-2, 1e-2],
  [50, 37.11, 65.92, 1e-2, 1e-2],
  [100, 81.36, 121.63, 1e-2, 1e-2],
];

describe("the rate of counted events", () => {
  it("has the published 95 % limits", () => {
    for (const [count, low, high, lowUnit, highUnit] of TABLE) {
      const rate = poissonRate(count, 1);
      expectWithin(rate.low, low, lowUnit, `one unit in the last printed digit, ${count} events`);
      expectWithin(
        rate.high,
        high,
        highUnit,
        `one unit in the last printed digit, ${count} events`,
      );
    }
  });

  it("follows the rule of three: nothing seen in so many hours leaves 3 an hour over them, one-sided 95 %", () => {
    // -ln 0.05 = 2.996: Hanley & Lippman-Hand, JAMA 249 (1983) 1743
    expectWithin(poissonRate(0, 10, 0.9).high, 0.2996, 1e-4, "one unit in the last printed digit");
  });

  it("puts half the doubt on either side", () => {
    // by definition, summed the plain way
    const { low, high } = poissonRate(7, 1, 0.8);
    const upTo = (n: number, mean: number): number => {
      let term = exp(-mean);
      let sum = term;
      for (let k = 1; k <= n; k++) {
        term *= mean / k;
        sum += term;
      }
      return sum;
    };
    expectWithin(1 - upTo(6, low), 0.1, 1e-12, "rounding of a sum of seven terms");
    expectWithin(upTo(7, high), 0.1, 1e-12, "rounding of a sum of eight terms");
  });

  it("is the count over its exposure, inside its limits, which narrow as more is seen", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3000 }),
        fc.double({ min: 0.01, max: 1000, noNaN: true }),
        (count, hours) => {
          const { rate, low, high } = poissonRate(count, hours);
          expect(rate).toBe(count / hours);
          expect(low).toBeLessThan(rate);
          expect(high).toBeGreaterThan(rate);
          const longer = poissonRate(4 * count, 4 * hours);
          expect(longer.high - longer.low).toBeLessThan(high - low);
        },
      ),
      fixedRuns(30),
    );
  });

  it("refuses what is no count", () => {
    expect(() => poissonRate(-1, 1)).toThrow("invalid count: -1");
    expect(() => poissonRate(1.5, 1)).toThrow("invalid count: 1.5");
    expect(() => poissonRate(1, 0)).toThrow("invalid exposure: 0");
    expect(() => poissonRate(1, 1, 1)).toThrow("invalid confidence: 1");
  });
});
