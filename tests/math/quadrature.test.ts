import { describe, expect, it } from "vitest";
import { type GradedRule, gradedRule } from "../../src/math/quadrature";
import { expectWithin } from "../support/expectWithin";

/** Mean over the cycle, and cosine amplitude of the first harmonic with the pulse centred on theta = pi. */
function harmonics(rule: GradedRule, current: (cosFromPeak: number) => number) {
  let mean = 0;
  let first = 0;
  for (let j = 0; j < rule.weight.length; j++) {
    const fromPeak = -(rule.cosine[j] as number); // cos(theta - pi)
    const share = 2 * (rule.weight[j] as number); // both points of the pair
    mean += share * current(fromPeak);
    first += 2 * share * current(fromPeak) * fromPeak;
  }
  return { mean, first };
}

/** Pulse of unit height that conducts for |t| < tc, to the power n. */
function pulse(halfAngleRad: number, power: number): (cosFromPeak: number) => number {
  const edge = Math.cos(halfAngleRad);
  return (x) => Math.max((x - edge) / (1 - edge), 0) ** power;
}

const QUARTER = Math.PI / 2;
const fine = gradedRule(8192);
const FINE = "midpoint rule of 8192 points on a kinked pulse: about 1e-7";

describe("mean of a plate-current pulse over the cycle", () => {
  it("gives ideal class B an efficiency of pi/4 at full swing", () => {
    const { mean, first } = harmonics(fine, pulse(QUARTER, 1));
    expectWithin(first / (2 * mean), Math.PI / 4, 1e-6, FINE);
    expectWithin(first / mean, Math.PI / 2, 1e-6, FINE);
  });

  it("loses at most 1/pi of full-swing input in class B, at a swing of 2/pi", () => {
    // dissipation x - x^2 pi/4 of the full-swing input at swing x; textbook
    const { mean, first } = harmonics(fine, pulse(QUARTER, 1));
    const lost = (x: number) => x - (x * x * first) / (2 * mean);
    expectWithin(lost(2 / Math.PI), 0.31831, 1e-5, "printed to 1e-5");
    expect(lost(2 / Math.PI + 0.01)).toBeLessThan(lost(2 / Math.PI));
    expect(lost(2 / Math.PI - 0.01)).toBeLessThan(lost(2 / Math.PI));
  });

  it.each([
    // conduction angle in degrees, law, DC and fundamental per unit peak: closed forms (Terman, Everitt, from memory) and,
    // for the 3/2 law, adaptive quadrature by another program
    [120, 1, 0.218, 0.391],
    [180, 1, 0.31831, 0.5],
    [210, 1, 0.36418, 0.52661],
    [240, 1, 0.406, 0.53633],
    [360, 1, 0.5, 0.5],
    [120, 1.5, 0.19171, 0.35056],
    [180, 1.5, 0.27821, 0.45766],
    [210, 1.5, 0.31698, 0.48921],
    [360, 1.5, 0.42441, 0.5093],
  ])("has the tabulated coefficients at %d degrees, law %d", (degrees, power, dc, fundamental) => {
    const { mean, first } = harmonics(fine, pulse((degrees * Math.PI) / 360, power));
    expectWithin(mean, dc, 1e-5, "printed to 1e-5");
    expectWithin(first, fundamental, 1e-5, "printed to 1e-5");
  });

  it("needs only 32 graded points for a tube's pulse", () => {
    const rule = gradedRule(32);
    const { mean, first } = harmonics(rule, pulse((210 * Math.PI) / 360, 1.5));
    expectWithin(
      mean,
      0.31698,
      0.001 * 0.31698,
      "one part in a thousand is what the model asks of 32 points",
    );
    expectWithin(
      first,
      0.48921,
      0.001 * 0.48921,
      "one part in a thousand is what the model asks of 32 points",
    );
  });

  it("beats the six-ordinate Chaffee analysis of a half sine", () => {
    // I0 = (A/2 + B + C + D + E + F)/12, I1 = (A + 1.93 B + 1.73 C + 1.41 D + E + 0.52 F)/12; tube makers' sheets, from memory
    const at = (k: number) => Math.cos((k * Math.PI) / 12);
    const chaffee0 = (at(0) / 2 + at(1) + at(2) + at(3) + at(4) + at(5)) / 12;
    const chaffee1 =
      (at(0) + 1.93 * at(1) + 1.73 * at(2) + 1.41 * at(3) + at(4) + 0.52 * at(5)) / 12;
    expectWithin(chaffee0, 0.31649, 1e-5, "printed to 1e-5");
    expectWithin(chaffee1, 0.49951, 1e-5, "printed to 1e-5");
    const { mean, first } = harmonics(gradedRule(32), pulse(QUARTER, 1));
    expect(Math.abs(mean - 1 / Math.PI)).toBeLessThan(Math.abs(chaffee0 - 1 / Math.PI));
    expectWithin(first, 0.5, 0.001 * 0.5, "the kink at 90 degrees costs a part in a thousand");
  });

  it("halves the mean plate current from one tone to two of equal peak power, in the ratio 2/pi", () => {
    // ideal class B: current follows the envelope |cos|, whose mean is 2/pi = 0.63662; peak power is twice the mean
    let current = 0;
    let power = 0;
    for (let j = 0; j < fine.weight.length; j++) {
      const envelope = Math.abs(fine.cosine[j] as number);
      current += 2 * (fine.weight[j] as number) * envelope;
      power += 2 * (fine.weight[j] as number) * envelope * envelope;
    }
    expectWithin(current, 0.63662, 1e-5, "printed to 1e-5");
    expectWithin(1 / power, 2, 1e-5, "allowed to 1e-5");
  });
});

describe("graded rule", () => {
  it("weighs the whole cycle as one", () => {
    for (const points of [2, 16, 32, 64]) {
      const sum = gradedRule(points).weight.reduce((a, b) => a + 2 * b, 0);
      expectWithin(sum, 1, 1e-14, "rounding");
    }
  });

  it("crowds its points where the tube conducts", () => {
    const rule = gradedRule(32);
    const conducting = rule.cosine.filter((c) => c < 0).length;
    expect(conducting).toBeGreaterThan(rule.cosine.length / 2);
  });

  it("refuses an odd number of points, with the value", () => {
    expect(() => gradedRule(31)).toThrow("invalid points: 31");
  });
});
