import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  buildEnthalpyTable,
  enthalpyAt,
  temperatureAt,
  thetaAt,
} from "../../../src/physics/heat/enthalpyTable";
import {
  METALS,
  meltingHeatJPerKg,
  solidConductionIntegral,
  solidEnthalpyJPerKg,
  solidHeatJPerKgK,
} from "../../../src/physics/heat/metals";
import { expectWithin } from "../../support/expectWithin";

const { aluminium, alloy5052, copper } = METALS;
const WEBBOOK = "printed to 0.01";

describe("heat content of aluminium", () => {
  it("melts at the fixed point of the temperature scale", () => {
    expectWithin(aluminium.meltingK, 933.473, 0, "ITS-90: exact by definition");
  });

  it("has the specific heat of the NIST WebBook", () => {
    // Shomate coefficients of Chase 1998, evaluated with another program
    expectWithin(solidHeatJPerKgK(aluminium, 300), 898.61, 0.01, WEBBOOK);
    expectWithin(solidHeatJPerKgK(aluminium, 600), 1033.74, 0.01, WEBBOOK);
    expectWithin(solidHeatJPerKgK(aluminium, 900), 1197.33, 0.01, WEBBOOK);
    // independent of the Shomate fit: Incropera and DeWitt A.1 print 1033 at 600 K
    expectWithin(solidHeatJPerKgK(aluminium, 600), 1033, 10, "two compilations differ by 1 %");
  });

  it("takes 666.49 kJ/kg to the melting point and 1063.43 kJ/kg to the liquid", () => {
    const solid = solidEnthalpyJPerKg(aluminium, 933.473);
    expectWithin(solid, 666.49e3, 50, "NIST WebBook, printed to 0.01 kJ/kg; 0.05 allowed");
    expectWithin(solid + aluminium.fusionJPerKg, 1063.43e3, 50, "NIST WebBook, same");
  });

  it("takes 396.94 kJ/kg to melt, within what handbooks print", () => {
    // 10.7101 kJ/mol over 26.9815386 g/mol; handbooks print 389 to 398
    expectWithin(aluminium.fusionJPerKg, 10710.1 / 0.0269815386, 400, "0.1 %");
  });

  it("takes 2.873 J to melt a cold cubic millimetre", () => {
    // derived: 2702 kg/m3 x 1063.43 kJ/kg x 1e-9 m3
    const joule = meltingHeatJPerKg(aluminium, 298.15) * aluminium.densityKgPerM3 * 1e-9;
    expectWithin(joule, 2.873, 0.002 * 2.873, "0.2 %: densities of the cold metal differ by that");
  });

  it("has an enthalpy that is the integral of its specific heat", () => {
    for (const metal of Object.values(METALS)) {
      // midpoint sum of 1 K steps
      let sum = 0;
      for (let T = 298.15; T < 798; T += 1) sum += solidHeatJPerKgK(metal, T + 0.5);
      expectWithin(
        solidEnthalpyJPerKg(metal, 798.15),
        sum,
        2e-4 * sum,
        "midpoint sum, and NIST's datum is rounded to 0.01 %",
      );
    }
  });
});

describe("data of the other metals", () => {
  it("melts copper at the fixed point of the temperature scale", () => {
    expectWithin(copper.meltingK, 1357.77, 0, "ITS-90: exact by definition");
  });

  it("takes a 5052-type sheet to begin melting at its solidus", () => {
    // public materials database: solidus 607 degC = 880 K; 883 K is used
    expectWithin(alloy5052.meltingK, 880, 5, "alloys of one designation differ by some kelvin");
  });

  it("integrates conductivity exactly between table knots", () => {
    // copper 300 to 400 K: mean of 401 and 393 over 100 K; Incropera and DeWitt A.1
    const watts = solidConductionIntegral(copper, 400) - solidConductionIntegral(copper, 300);
    expectWithin(watts, 397 * 100, 1e-6, "trapezoid is exact for a line");
  });
});

describe("enthalpy tables of the inner loop", () => {
  it("turn temperature into enthalpy and back", () => {
    const anyMetal = fc.constantFrom(...Object.values(METALS).map(buildEnthalpyTable));
    fc.assert(
      fc.property(anyMetal, fc.double({ min: 0, max: 1, noNaN: true }), (table, part) => {
        const T = 250 + part * (table.metal.meltingK - 250);
        expect(Math.abs(temperatureAt(table, enthalpyAt(table, T)) - T)).toBeLessThan(0.02); // linear over steps of 7 K
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it("never fall, stay level while melting, and do not jump", () => {
    for (const metal of Object.values(METALS)) {
      const table = buildEnthalpyTable(metal);
      const step = table.boilingJPerKg / 5000;
      for (let i = 0; i < 5000; i++) {
        const [h0, h1] = [i * step, (i + 1) * step];
        const rise = thetaAt(table, h1) - thetaAt(table, h0);
        expect(rise).toBeGreaterThanOrEqual(0);
        expect(rise).toBeLessThanOrEqual(table.steepestSlope * step * (1 + 1e-9));
      }
      expect(temperatureAt(table, table.solidusJPerKg)).toBe(metal.meltingK);
      expect(temperatureAt(table, table.liquidusJPerKg)).toBe(metal.meltingK);
      expectWithin(
        temperatureAt(table, table.boilingJPerKg),
        metal.boilingK,
        1e-9 * metal.boilingK,
        "rounding",
      );
    }
  });

  it("refuse a start outside their range, with the value", () => {
    expect(() => enthalpyAt(buildEnthalpyTable(copper), 200)).toThrow("invalid atK: 200");
  });
});
