import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  advanceClock,
  type ClockDef,
  damageClocks,
  damageFraction,
  stressOf,
  timeLeftS,
} from "../../../src/physics/heat/clocks";
import { expectWithin } from "../../support/expectWithin";

const clocks = damageClocks({
  plateDissipationW: 1500,
  plateCurrentA: 1,
  gridCurrentA: 0.15,
  gridDissipationW: 25,
  plateV: 4000,
  plateRfPeakV: 4500,
  exciterReflectedW: 30,
  tuningRmsA: 15,
  loadingRmsA: 15,
  coilRmsA: 20,
  chokeRmsA: 1,
  blockingRmsA: 10,
  outputRmsA: 10,
});
const anyClock = fc.constantFrom(...Object.values(clocks));
const level = fc.double({ min: 0, max: 6, noNaN: true });
const seconds = fc.double({ min: 1e-6, max: 100, noNaN: true });
const RUNS = { seed: 7, numRuns: 100 };

describe("clocks on the way to damage", () => {
  it("come within 1/e of a steady stress after one time constant", () => {
    // first-order step response, 1 - 1/e
    const { anode } = clocks;
    expectWithin(
      advanceClock(anode, 0, 2, anode.timeConstantS),
      2 * (1 - Math.exp(-1)),
      1e-12,
      "rounding",
    );
  });

  it("take the anode 0.6 kg of copper to warm", () => {
    // 0.6 kg x 385 J/(kg K) x 225 K / 1500 W = 34.65 s
    expectWithin(clocks.anode.timeConstantS, (0.6 * 385 * 225) / 1500, 0.5, "rounded to a second");
  });

  it("never fill at the continuous rating", () => {
    for (const clock of Object.values(clocks)) {
      expect(stressOf(clock, clock.rating)).toBe(1);
      expect(timeLeftS(clock, 0, 1)).toBe(Infinity);
      expect(damageFraction(clock, advanceClock(clock, 0, 1, 1e6))).toBeLessThan(1);
    }
  });

  it("have no time left once full, and count negative input as none", () => {
    expect(timeLeftS(clocks.grid, clocks.grid.damageRatio, 9)).toBe(0);
    expect(stressOf(clocks.grid, -3)).toBe(0);
  });

  it("are full exactly when the time that was left has passed", () => {
    fc.assert(
      fc.property(anyClock, level, level, (clock: ClockDef, image, stress) => {
        const left = timeLeftS(clock, image, stress);
        fc.pre(left > 0 && left < 1e4);
        const then = advanceClock(clock, image, stress, left);
        expectWithin(then, clock.damageRatio, 1e-9, "rounding of logarithm and exponential");
      }),
      RUNS,
    );
  });

  it("agree whether advanced in one step or in two", () => {
    fc.assert(
      fc.property(anyClock, level, level, seconds, seconds, (clock, image, stress, a, b) => {
        const once = advanceClock(clock, image, stress, a + b);
        const twice = advanceClock(clock, advanceClock(clock, image, stress, a), stress, b);
        expectWithin(twice, once, 1e-12, "rounding");
      }),
      RUNS,
    );
  });

  it("never stand lower for more stress, nor have more time left", () => {
    fc.assert(
      fc.property(anyClock, level, level, level, seconds, (clock, image, stress, more, dtS) => {
        const a = advanceClock(clock, image, stress, dtS);
        const b = advanceClock(clock, image, stress + more, dtS);
        expect(damageFraction(clock, b)).toBeGreaterThanOrEqual(damageFraction(clock, a));
        expect(timeLeftS(clock, image, stress + more)).toBeLessThanOrEqual(
          timeLeftS(clock, image, stress),
        );
      }),
      RUNS,
    );
  });
});
