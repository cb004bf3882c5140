import { describe, expect, it } from "vitest";
import {
  absoluteHumidityGPerM3,
  humidityFactor,
  isHumidityInRange,
  relativeAirDensity,
  standardPressurePa,
} from "../../../src/physics/airgap/airDensity";
import { expectWithin } from "../../support/expectWithin";

describe("air on a hill", () => {
  it.each([
    // US Standard Atmosphere 1976: pressure and density ratio, computed with another program from its defining constants
    [0, 101325, 1],
    [1000, 89874.6, 0.90746],
    [3000, 70108.5, 0.74214],
    [5000, 54019.9, 0.60091],
  ])("follows the standard atmosphere at %d m", (altitudeM, pascal, densityRatio) => {
    const p = standardPressurePa(altitudeM);
    expectWithin(p, pascal, 0.1, "printed to 0.1 Pa");
    expectWithin(
      (p / 101325) * (288.15 / (288.15 - 0.0065 * altitudeM)),
      densityRatio,
      1e-5,
      "printed to 1e-5",
    );
  });

  it("thins with pressure alone in a heated room", () => {
    // p/101.3 kPa at 20 degC; IEC 60052 form
    expectWithin(
      relativeAirDensity(standardPressurePa(1000), 293.15),
      0.88721,
      1e-5,
      "printed to 1e-5",
    );
    expectWithin(
      relativeAirDensity(standardPressurePa(3000), 293.15),
      0.69209,
      1e-5,
      "printed to 1e-5",
    );
    expectWithin(relativeAirDensity(101300, 293.15), 1, 1e-12, "the reference itself; rounding");
  });
});

describe("moisture", () => {
  it("leaves the strength alone at 20 degC and half saturation", () => {
    // h 8.64 g/m3, k 1.0003; Magnus form and IEC 60052, worked with another program
    const h = absoluteHumidityGPerM3(293.15, 0.5);
    expectWithin(h, 8.64, 0.005, "half a unit of the last printed digit");
    expectWithin(humidityFactor(h, 1), 1.0003, 5e-5, "half a unit of the last printed digit");
    expect(isHumidityInRange(h)).toBe(true);
  });

  it("is out of the standard's range in the tropics, and says so", () => {
    const h = absoluteHumidityGPerM3(303.15, 0.8);
    expectWithin(h, 24.3, 0.05, "half a unit of the last printed digit");
    // printed 1.033, worked with the density at 30 degC
    expectWithin(
      humidityFactor(h, relativeAirDensity(101300, 303.15)),
      1.033,
      1e-3,
      "one unit in the last printed digit",
    );
    expect(isHumidityInRange(h)).toBe(false);
    expect(isHumidityInRange(0.5)).toBe(false);
  });
});
