import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rankCorrelation, rankNoise, ranksOf } from "../../../src/study/statistics/rankCorrelation";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const distinct = fc.uniqueArray(fc.integer({ min: -100_000, max: 100_000 }), {
  minLength: 3,
  maxLength: 40,
});

function permutations(values: readonly number[]): readonly (readonly number[])[] {
  if (values.length < 2) return [values];
  return values.flatMap((first, i) =>
    permutations(values.filter((_, k) => k !== i)).map((rest) => [first, ...rest]),
  );
}

describe("rank correlation", () => {
  it("agrees with the textbook's twelve students", () => {
    // S. Siegel, Nonparametric Statistics (1956), table 9.2: sum d^2 = 52, r = 0.82 (data from memory)
    const authority = [82, 98, 87, 40, 116, 113, 111, 83, 85, 126, 106, 117];
    const striving = [42, 46, 39, 37, 65, 88, 86, 56, 62, 92, 54, 81];
    const r = rankCorrelation(authority, striving) as number;
    expectWithin(r, 0.82, 0.01, "one unit in the last printed digit");
    expectWithin(r, 1 - (6 * 52) / (12 * 143), 1e-12, "rounding: the formula for no ties");
  });

  it("agrees with the ten test results beside hours before the screen", () => {
    // worked example of many introductions: sum d^2 = 194, r = -29/165 (data from memory)
    const score = [106, 100, 86, 101, 99, 103, 97, 113, 112, 110];
    const hours = [7, 27, 2, 50, 28, 29, 20, 12, 6, 17];
    expectWithin(rankCorrelation(score, hours) as number, -29 / 165, 1e-12, "rounding");
  });

  it("gives equal values the mean of their ranks", () => {
    expect([...ranksOf([5, 1, 5, 7, 5])]).toEqual([3, 1, 3, 5, 3]);
    // by hand: ranks 1 2.5 2.5 4 and 1 2 3 4, products of deviations 4.5, squares 4.5 and 5
    expectWithin(
      rankCorrelation([1, 2, 2, 3], [1, 2, 3, 4]) as number,
      4.5 / Math.sqrt(4.5 * 5),
      1e-12,
      "rounding",
    );
  });

  it("ranks what never happens last", () => {
    expect([...ranksOf([Infinity, 3, Infinity, 4, -Infinity])]).toEqual([4.5, 2, 4.5, 3, 1]);
  });

  it("strays between unrelated quantities by the standard error that the noise is two of", () => {
    // all 120 orders of five values are equally likely: the law counted out, no sampling
    const orders = permutations([1, 2, 3, 4, 5]);
    const squares = orders.map((order) => (rankCorrelation([1, 2, 3, 4, 5], order) as number) ** 2);
    const errorSquared = squares.reduce((a, b) => a + b, 0) / orders.length;
    expectWithin((rankNoise(5) as number) / 2, Math.sqrt(errorSquared), 1e-12, "rounding");
    expect(rankNoise(2)).toBeNull();
  });

  it("knows nothing of what does not vary, or of two pairs", () => {
    expect(rankCorrelation([1, 1, 1], [1, 2, 3])).toBeNull();
    expect(rankCorrelation([1, 2], [1, 2])).toBeNull();
  });

  it("does not care about the shape of a rising curve, and turns round with a falling one", () => {
    fc.assert(
      fc.property(distinct, (a) => {
        const b = a.map((x, i) => x * (i % 3) + i);
        const r = rankCorrelation(a, b);
        fc.pre(r !== null);
        expect(Math.abs(r)).toBeLessThanOrEqual(1 + 1e-12);
        expect(
          rankCorrelation(
            a.map((x) => x * x * x),
            b,
          ),
        ).toBe(r); // whole numbers up to 2^50 are exact
        expectWithin(
          rankCorrelation(
            a.map((x) => -x),
            b,
          ) as number,
          -r,
          1e-12,
          "rounding",
        );
      }),
      fixedRuns(40),
    );
  });
});
