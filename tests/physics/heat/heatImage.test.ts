/** First-order images against the step response, adiabatic heating and themselves. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  advanceImage,
  type HeatImage,
  imageStep,
  imageTimeLeftS,
} from "../../../src/physics/heat/heatImage";
import { METALS, meltingHeatJPerKg } from "../../../src/physics/heat/metals";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const image = fc.record<HeatImage>({
  timeConstantS: fc.double({ min: 0.1, max: 200, noNaN: true }),
  damageRatio: fc.double({ min: 1, max: 4, noNaN: true }),
});
const level = fc.double({ min: 0, max: 6, noNaN: true });
const seconds = fc.double({ min: 1e-6, max: 100, noNaN: true });

function advance({ timeConstantS }: HeatImage, x: number, stress: number, dtS: number): number {
  return advanceImage(x, stress, imageStep(timeConstantS, dtS));
}

describe("heat image of a part", () => {
  it("comes within 1/e of a steady stress after one time constant", () => {
    // first-order step response, 1 - 1/e
    const part = { timeConstantS: 20, damageRatio: 2 };
    expectWithin(advance(part, 0, 2, 20), 2 * (1 - Math.exp(-1)), 1e-12, "rounding");
  });

  it("adds up energy in times short against its time constant", () => {
    // adiabatic: x = E/(rated watts x tau); 200 J into 25 W x 20 s in 1 ms
    const part = { timeConstantS: 20, damageRatio: 1 };
    expectWithin(advance(part, 0, 200 / 1e-3 / 25, 1e-3), 0.4, 2e-5, "1 ms of 20 s is cooling");
  });

  it("is full exactly when the time that was left has passed", () => {
    fc.assert(
      fc.property(image, level, level, (part, x, stress) => {
        const leftS = imageTimeLeftS(part, x, stress);
        fc.pre(leftS > 0 && leftS < 1e4);
        expectWithin(advance(part, x, stress, leftS), part.damageRatio, 1e-9, "rounding");
      }),
      fixedRuns(50),
    );
  });

  it("agrees whether advanced in one step or in two", () => {
    fc.assert(
      fc.property(image, level, level, seconds, seconds, (part, x, stress, a, b) => {
        const twice = advance(part, advance(part, x, stress, a), stress, b);
        expectWithin(twice, advance(part, x, stress, a + b), 1e-12, "rounding");
      }),
      fixedRuns(50),
    );
  });

  it("never stands lower for more stress, nor has more time left", () => {
    fc.assert(
      fc.property(image, level, level, level, seconds, (part, x, stress, more, dtS) => {
        const low = advance(part, x, stress, dtS);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(advance(part, x, stress + more, dtS)).toBeGreaterThanOrEqual(low);
        expect(imageTimeLeftS(part, x, stress + more)).toBeLessThanOrEqual(
          imageTimeLeftS(part, x, stress),
        );
      }),
      fixedRuns(50),
    );
  });
});

describe("copper heated too fast to lose anything", () => {
  it("of a No. 30 wire takes 311 J a metre to melt", () => {
    // wire table: 0.05093 mm2, energy to melt 311 J/m (worked from Onderdonk's constants)
    const kgPerM = 0.05093e-6 * METALS.copper.densityKgPerM3;
    const joules = kgPerM * meltingHeatJPerKg(METALS.copper, 298.15);
    expectWithin(joules, 311, 0.05 * 311, "one specific heat there, a table of it here");
  });
});
