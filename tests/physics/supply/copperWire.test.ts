import { describe, expect, it } from "vitest";
import { copperFusingA, copperMeltingJ, testWireA2s } from "../../../src/physics/supply/copperWire";
import { actionIntegralA2s, dischargeS } from "../../../src/physics/supply/faultEnergy";
import { expectWithin } from "../../support/expectWithin";

describe("copper-wire test", () => {
  it.each([
    // ASTM B258 diameters; energies of 6 in from copper's density, heat capacity and heat of fusion, worked by hand
    ["No. 24", 0.5106e-3, 190],
    ["No. 30", 0.2546e-3, 47],
    ["No. 36", 0.127e-3, 11.8],
  ])("melts 6 in of %s with the energy worked by hand", (_gauge, diameterM, joule) => {
    expectWithin(
      copperMeltingJ(diameterM, 0.1524),
      joule,
      0.1 * joule,
      "heat capacity of copper between 25 and 1083 degC differs by 10 % from table to table",
    );
  });

  it("melts No. 30 at Onderdonk's 216 A2s", () => {
    // 0.0214026 A2s per square circular mil, 100.5 circular mils
    expectWithin(testWireA2s(), 216.2, 0.7, "diameter printed to four digits, squared twice");
  });

  it("melts 1 mm in the end at Preece's 80 A", () => {
    // 10244 A for 1 inch, to the power of 1.5
    expectWithin(copperFusingA(1e-3), 80.02, 0.01, "the constant printed to four digits");
    expectWithin(copperFusingA(0.2546e-3), 10.3, 0.05, "printed to three digits");
  });

  it("lets the test wire live behind 10 ohm, and melts it behind half an ohm", () => {
    // 112.5 J: 11.25 A2s and 225 A2s against 216 A2s
    expect(actionIntegralA2s(25e-6, 3000, 10)).toBeLessThan(testWireA2s());
    expect(actionIntegralA2s(25e-6, 3000, 0.5)).toBeGreaterThan(testWireA2s());
  });
});

describe("time until a filter is safe", () => {
  it("is R C ln(V/50 V)", () => {
    // 100 kohm, 40 uF: 4 s; ln(3180/50) = 4.15261
    expectWithin(dischargeS(40e-6, 100e3, 3180, 50), 16.6104, 1e-3, "five digits worked by hand");
  });

  it("is nothing below that, and never comes without a bleeder", () => {
    expect(dischargeS(40e-6, 100e3, 40, 50)).toBe(0);
    expect(dischargeS(40e-6, Number.POSITIVE_INFINITY, 3180, 50)).toBe(Number.POSITIVE_INFINITY);
  });
});
