import { describe, expect, it } from "vitest";
import {
  actionIntegralA2s,
  copperFusingA2s,
  seriesArcEnergyJ,
  storedEnergyJ,
} from "../../../src/physics/supply/faultEnergy";
import { expectWithin } from "../../support/expectWithin";

describe("energy of a charged filter", () => {
  it.each([
    // C V^2/2, C V^2/(2R), C Va (V - Va) with Va = 50 V; circuit theory
    [25e-6, 3000, 10, 112.5, 11.25, 3.69],
    [25e-6, 3000, 47, 112.5, 2.394, 3.69],
    [50e-6, 3500, 10, 306.25, 30.625, 8.63],
    [10e-6, 4000, 50, 80, 1.6, 1.98],
  ])("of %d F at %d V through %d ohm", (farad, volts, ohm, joule, a2s, arcJ) => {
    expectWithin(storedEnergyJ(farad, volts), joule, 1e-9, "exact but for rounding");
    expectWithin(actionIntegralA2s(farad, volts, ohm), a2s, 1e-3, "printed to 1e-3");
    expectWithin(
      seriesArcEnergyJ(farad, volts, 50),
      arcJ,
      0.006,
      "half a unit of the last printed digit",
    );
  });

  it("gives an arc nothing from a filter that is lower than the arc", () => {
    expect(seriesArcEnergyJ(1e-6, 40, 50)).toBe(0);
  });
});

describe("melting of fine copper wire", () => {
  const CIRCULAR_MIL_M2 = (Math.PI / 4) * 25.4e-6 * 25.4e-6;

  it("has Onderdonk's constant of 0.0214026 A2s per square circular mil at 25 degC", () => {
    // log10((1083 - 25)/(234 + 25) + 1)/33
    expectWithin(
      copperFusingA2s(CIRCULAR_MIL_M2, 298.15),
      0.0214026,
      1e-7,
      "one unit in the last printed digit",
    );
  });

  it.each([
    // wire tables: cross-section in mm2; action integral by Onderdonk, worked with another program
    ["AWG 24", 0.20473, 3494],
    ["AWG 30", 0.05093, 216.2],
    ["AWG 36", 0.01267, 13.4],
  ])("gives the worked action integral of %s", (_gauge, mm2, a2s) => {
    expectWithin(
      copperFusingA2s(mm2 * 1e-6, 298.15),
      a2s,
      0.003 * a2s,
      "cross-section and result printed to three or four digits",
    );
  });

  it("lets AWG 30 live through 25 uF at 3 kV behind 10 ohm", () => {
    expect(actionIntegralA2s(25e-6, 3000, 10)).toBeLessThan(copperFusingA2s(0.05093e-6, 298.15));
  });
});
