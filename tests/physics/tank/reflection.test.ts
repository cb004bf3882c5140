import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  admittanceFromGamma,
  gammaFromSwr,
  mismatchLossDb,
  returnLossDb,
  swrFromGamma,
} from "../../../src/physics/tank/reflection";
import { expectWithin } from "../../support/expectWithin";

const admittance = () => ({ conductanceSiemens: 0, susceptanceSiemens: 0 });

describe("reflection in its several words", () => {
  it.each([
    [1.5, 0.2, 13.979, 0.1773],
    [2, 0.33333, 9.542, 0.5115],
    [3, 0.5, 6.021, 1.2494],
    [10, 0.81818, 1.743, 4.8073],
  ])("at a standing-wave ratio of %d", (swr, rho, lossDb, mismatchDb) => {
    // definitions, computed with another program
    expectWithin(gammaFromSwr(swr), rho, 1e-5, "printed to 1e-5");
    expectWithin(returnLossDb(gammaFromSwr(swr)), lossDb, 1e-3, "printed to 1e-3");
    expectWithin(mismatchLossDb(gammaFromSwr(swr)), mismatchDb, 1e-4, "printed to 1e-4");
  });

  it("sends back a quarter of the power at 3", () => {
    expectWithin(gammaFromSwr(3) ** 2, 0.25, 0, "exact");
  });

  it("knows the ends: perfect match and total reflection", () => {
    expect(returnLossDb(0)).toBe(Infinity);
    expect(mismatchLossDb(1)).toBe(Infinity);
    expect(swrFromGamma(1)).toBe(Infinity);
    expect(gammaFromSwr(Infinity)).toBe(1);
  });

  it("gives the ratio back", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 50, noNaN: true }), (swr) => {
        expectWithin(
          swrFromGamma(gammaFromSwr(swr)),
          swr,
          1e-12 * swr * swr,
          "rounding grows with the ratio",
        );
      }),
      { seed: 5 },
    );
  });
});

describe("admittance of a reflecting load", () => {
  it("is 1/100 siemens where a 100 ohm resistor ends a 50 ohm line", () => {
    const y = admittance();
    admittanceFromGamma(1 / 3, 0, 50, y); // (100 - 50)/(100 + 50)
    expectWithin(y.conductanceSiemens, 0.01, 1e-15, "rounding");
    expectWithin(y.susceptanceSiemens, 0, 1e-15, "rounding");
  });

  it("is an inductor's where 50 ohm of inductance ends a 50 ohm line", () => {
    const y = admittance();
    admittanceFromGamma(0, 1, 50, y); // (j50 - 50)/(j50 + 50) = j
    expectWithin(y.conductanceSiemens, 0, 1e-15, "rounding");
    expectWithin(y.susceptanceSiemens, -1 / 50, 1e-15, "rounding");
  });

  it("is nothing for an open and a wire for a short", () => {
    const y = admittance();
    admittanceFromGamma(1, 0, 50, y);
    expect([y.conductanceSiemens, Math.abs(y.susceptanceSiemens)]).toEqual([0, 0]);
    admittanceFromGamma(-1 + 1e-9, 0, 50, y);
    expect(y.conductanceSiemens).toBeGreaterThan(1);
    expect(Number.isFinite(y.conductanceSiemens)).toBe(true);
  });

  it("is passive, and reflects what it was made from", () => {
    const unit = fc.double({ min: 0, max: 0.99, noNaN: true });
    const angle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });
    fc.assert(
      fc.property(unit, angle, (rho, phaseRad) => {
        const [re, im] = [rho * Math.cos(phaseRad), rho * Math.sin(phaseRad)];
        const y = admittance();
        admittanceFromGamma(re, im, 50, y);
        expect(y.conductanceSiemens).toBeGreaterThanOrEqual(0);
        // gamma = (1 - Z0 Y)/(1 + Z0 Y)
        const [g, b] = [50 * y.conductanceSiemens, 50 * y.susceptanceSiemens];
        const d = (1 + g) ** 2 + b ** 2;
        expectWithin((1 - g * g - b * b) / d, re, 1e-9, "rounding near total reflection");
        expectWithin((-2 * b) / d, im, 1e-9, "rounding near total reflection");
      }),
      { seed: 9 },
    );
  });
});
