/** The output network seen from the plate, and the settings that match it, against handbook reactances. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  dipTuningF,
  matchPlate,
  type PlateNetwork,
  plateAdmittance,
} from "../../../src/physics/tank/plateNetwork";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const W = 2 * Math.PI * 3.6e6;
const LOAD_50 = { conductanceSiemens: 0.02, susceptanceSiemens: 0 };

function lossless(coilOhm: number, outputCoilOhm = 0): PlateNetwork {
  return {
    omega: W,
    coilH: coilOhm / W,
    coilOhm: 0,
    chokeH: 1e3, // as good as none
    outputCoilH: outputCoilOhm / W,
    outputCoilOhm: 0,
  };
}

describe("pi and pi-L network at the plate", () => {
  it("asks for the handbook's capacitances: pi, 3000 ohm, Q 12", () => {
    // ARRL Handbook pi network (from memory): XC1 250, XL 272.901, XC2 42.008 ohm
    const match = matchPlate(lossless(272.901), 3000, LOAD_50);
    expectWithin(1 / (W * (match?.tuningF ?? 0)), 250, 0.02, "XL is given to six digits");
    expectWithin(1 / (W * (match?.loadingF ?? 0)), 42.008, 0.003, "XL is given to six digits");
  });

  it("asks for the worked pi-L's capacitances: 3000 ohm through 300 ohm", () => {
    // pi-L, R1 3000, Rm 300, Q 12 (worked by hand from two L-sections): XC1 250, XL1 324.29, XC2 50.759, XL2 111.80
    const match = matchPlate(lossless(324.29, 111.8034), 3000, LOAD_50);
    expectWithin(1 / (W * (match?.tuningF ?? 0)), 250, 0.05, "XL1 is given to five digits");
    expectWithin(1 / (W * (match?.loadingF ?? 0)), 50.759, 0.01, "XL1 is given to five digits");
  });

  it("shows the plate what the match promised, for any load, and is at its dip there", () => {
    const part = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(part, part, part, fc.boolean(), (a, b, c, hasOutputCoil) => {
        const n = {
          ...lossless(150 + 200 * a, hasOutputCoil ? 110 : 0),
          coilOhm: 0.2 + c,
          chokeH: 200e-6,
        };
        const load = { conductanceSiemens: 0.01 + 0.03 * b, susceptanceSiemens: 0.02 * (c - 0.5) };
        const match = matchPlate(n, 2500, load);
        if (match === null) return;
        const y = plateAdmittance(n, match.tuningF, match.loadingF, load);
        expectWithin(y.conductanceSiemens * 2500, 1, 1e-9, "the solution of a quadratic");
        expectWithin(y.susceptanceSiemens * 2500, 0, 1e-9, "cancelled by C1");
        const dip = dipTuningF(n, match.loadingF, load);
        expectWithin(dip / match.tuningF, 1, 1e-9, "the same condition");
      }),
      fixedRuns(50),
    );
  });

  it("finds nothing where no loading can give the plate load, nor into an open line", () => {
    expect(matchPlate(lossless(272.9), 10, LOAD_50)).toBeNull();
    const open = { conductanceSiemens: 0, susceptanceSiemens: 0 };
    expect(matchPlate(lossless(272.9), 3000, open)).toBeNull();
  });
});
