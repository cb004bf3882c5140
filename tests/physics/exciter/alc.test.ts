import { describe, expect, it } from "vitest";
import { alcLaw, nextReductionDb, reductionFactor } from "../../../src/physics/exciter/alc";
import { overshootFactor } from "../../../src/physics/exciter/overshoot";
import type { LevelControl } from "../../../src/project/station";
import { expectWithin } from "../../support/expectWithin";

const STEP_S = 50e-6;
const OUTPUT: LevelControl = {
  kind: "output",
  thresholdW: 1000,
  attackS: 2e-3,
  releaseS: 0.5,
  rangeDb: 20,
};

function law(control: LevelControl = OUTPUT) {
  const made = alcLaw(control, STEP_S);
  if (made === null) throw new Error("no law");
  return made;
}

/** Reduction after `seconds` of an amplifier that gives `freeW` without reduction, decibel for decibel. */
function settle(freeW: number, seconds: number, fromDb = 0): number {
  let r = fromDb;
  for (let k = 0; k < Math.round(seconds / STEP_S); k++) {
    r = nextReductionDb(law(), r, freeW * reductionFactor(r) ** 2);
  }
  return r;
}

describe("level control", () => {
  it("is no law at all where the exciter has none", () => {
    expect(alcLaw({ kind: "none" }, STEP_S)).toBe(null);
    expect(reductionFactor(0)).toBe(1);
  });

  it("holds the reading at its threshold", () => {
    // 3 dB too much is taken off and no more: 10 lg 2 = 3.0103 dB
    expectWithin(settle(2000, 0.1), 3.0103, 1e-4, "50 time constants; printed digits");
  });

  it("goes 63.2 % of the way in its attack time", () => {
    // 1 - 1/e = 0.63212
    expectWithin(
      settle(2000, 2e-3) / 3.0103,
      0.63212,
      1e-4,
      "the step response is exact at the steps",
    );
  });

  it("lets go of 63.2 % in its release time once the reading has fallen away", () => {
    expectWithin(settle(0, 0.5, 10), 10 * 0.36788, 1e-4, "1/e = 0.36788, printed digits");
  });

  it("does not make the drive creep under its threshold", () => {
    expectWithin(settle(2000 * 0.999, 5, 3.0103), 3.00596, 1e-4, "10 lg 1.998, printed digits");
  });

  it("takes off no more than its range", () => {
    expectWithin(settle(1e6, 1), 20, 1e-9, "30 dB too much, range 20");
  });

  it("reads amperes where it is told by grid current", () => {
    const grid = law({ ...OUTPUT, kind: "grid", thresholdA: 0.15 } as LevelControl);
    expect(nextReductionDb(grid, 0, 0.149)).toBe(0);
    expect(nextReductionDb(grid, 0, 0.151)).toBeGreaterThan(0);
  });

  it("takes 20 dB as a tenth of the voltage", () => {
    expectWithin(reductionFactor(20), 0.1, 1e-15, "rounding");
  });
});

describe("overshoot of the leading edge", () => {
  it("begins at its decibels and passes with its time constant", () => {
    // 3 dB is 1.99526; (1.99526 - 1)/e = 0.36614
    expectWithin(overshootFactor(3, 0.01, 0), 1.99526, 1e-5, "printed digits");
    expectWithin(overshootFactor(3, 0.01, 0.01), 1.36614, 1e-5, "printed digits");
    expect(overshootFactor(3, 0.01, 1)).toBe(1);
  });

  it("is exactly none where there is none, and before drive begins", () => {
    expect(overshootFactor(0, 0.01, 0.001)).toBe(1);
    expect(overshootFactor(3, 0.01, -1e-9)).toBe(1);
  });

  it("peaks 2.1 dB high under an edge of 5 ms", () => {
    // raised cosine squared times the course: at 4.9 ms 0.9980 x 1.6097 = 1.606, by hand
    let highest = 0;
    for (let s = 0; s < 0.03; s += 1e-5) {
      const v = s < 5e-3 ? 0.5 * (1 - Math.cos((Math.PI * s) / 5e-3)) : 1;
      highest = Math.max(highest, v * v * overshootFactor(3, 0.01, s));
    }
    expectWithin(10 * Math.log10(highest), 2.06, 0.01, "printed digits");
  });
});
