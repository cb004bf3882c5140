import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  atan2,
  cbrt,
  cos,
  exp,
  expm1,
  ln,
  log10,
  powerOfTen,
  sin,
} from "../../src/math/elementary";
import { expectWithin } from "../support/expectWithin";
import { fixedRuns } from "../support/properties";

// Reference digits: Abramowitz & Stegun, Handbook of Mathematical Functions, table 1.1 (mathematical constants),
// which prints 24 or more decimals; the nearest double is what the literal becomes.
const LAST_PLACE = 2.3e-16; // one unit in the last place of a number just above 1

describe("elementary functions", () => {
  it("e^1 is e and e^0 is exactly one", () => {
    expectWithin(exp(1), 2.718281828459045, 2 * LAST_PLACE, "one unit in the last place above 2");
    expect(exp(0)).toBe(1);
  });

  it("e^x leaves the range of doubles where IEEE 754 does", () => {
    // Largest double 1.797...e308: ln of it is 709.7827; smallest denormal 4.94e-324: ln of it is -744.44.
    expect(exp(709.9)).toBe(Number.POSITIVE_INFINITY);
    expect(Number.isFinite(exp(709.7))).toBe(true);
    expect(exp(-746)).toBe(0);
  });

  it("e^x - 1 keeps its digits near zero", () => {
    // Series x + x^2/2 + ...: at 1e-10 the second term is 5e-21, the third below 2e-31.
    expectWithin(expm1(1e-10), 1.00000000005e-10, 1.3e-26, "one unit in the last place at 1e-10");
  });

  it("the logarithms of 2 and 10 are the tabulated ones", () => {
    expectWithin(ln(2), 0.693147180559945309417, LAST_PLACE, "one unit in the last place");
    expectWithin(ln(10), 2.302585092994045684018, 2 * LAST_PLACE, "one unit above 2");
    expectWithin(log10(2), 0.301029995663981195214, LAST_PLACE, "one unit in the last place");
  });

  it("a whole power of ten has a whole decimal logarithm", () => {
    for (const [x, logarithm] of [
      [1e-3, -3],
      [1, 0],
      [1000, 3],
      [1e6, 6],
    ] as const) {
      expectWithin(
        log10(x),
        logarithm,
        6 * LAST_PLACE,
        "one unit in the last place between 4 and 8",
      );
    }
  });

  it("the logarithm of zero is minus infinity and of a negative number nothing", () => {
    expect(ln(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(ln(-1)).toBeNaN();
    expect(log10(-1)).toBeNaN();
  });

  it("sine and cosine of one radian are the tabulated ones", () => {
    // Abramowitz & Stegun, table 4.6: sin 1 = 0.84147 09848 07896 50665, cos 1 = 0.54030 23058 68139 71740
    expectWithin(sin(1), 0.84147098480789650665, LAST_PLACE, "one unit in the last place");
    expectWithin(cos(1), 0.5403023058681397174, LAST_PLACE, "one unit in the last place");
  });

  it("the cube root of 27 is 3, of minus 8 is minus 2", () => {
    expectWithin(cbrt(27), 3, 2 * LAST_PLACE, "one unit in the last place above 2");
    expectWithin(cbrt(-8), -2, 2 * LAST_PLACE, "one unit in the last place at 2");
  });

  it("the angle of a point takes its quadrant from both signs", () => {
    expectWithin(atan2(1, 1), Math.PI / 4, LAST_PLACE, "one unit in the last place");
    expectWithin(atan2(1, -1), (3 * Math.PI) / 4, 2 * LAST_PLACE, "one unit above 2");
    expectWithin(atan2(-2, 0), -Math.PI / 2, LAST_PLACE, "one unit in the last place");
  });

  it("ten to the 0.3 is one bel third: twice the power within half a per cent", () => {
    // 10^0.3 = 1.9952623149688796 (A&S table 1.1 gives 10^(3/10) through log10 2; checked: 10 log10 of it is 3 dB)
    expectWithin(powerOfTen(0.3), 1.9952623149688796, 4 * LAST_PLACE, "rounding of x ln 10, 0.7");
  });

  it("ln undoes exp, and sine and cosine lie on the unit circle", () => {
    fc.assert(
      fc.property(fc.double({ min: -700, max: 700, noNaN: true }), (x) => {
        expectWithin(ln(exp(x)), x, 1e-13 * Math.max(Math.abs(x), 1), "a few roundings of x");
        const s = sin(x);
        const c = cos(x);
        expectWithin(s * s + c * c, 1, 4 * LAST_PLACE, "rounding of two squares and a sum");
      }),
      fixedRuns(50),
    );
  });
});
