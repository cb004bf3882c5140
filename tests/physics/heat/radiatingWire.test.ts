/** Radiating grid wires against closed forms of Stefan and Boltzmann's law. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  advanceWireK,
  type RadiatingWire,
  radiatingWire,
  wireTimeLeftS,
} from "../../../src/physics/heat/radiatingWire";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

/** 25 W brings it from 600 to 1050 K. */
const WIRE = radiatingWire(25, 1050, 600, 1337.33, 0.3);

function warmed(wire: RadiatingWire, fromK: number, watts: number, s: number, steps: number) {
  let atK = fromK;
  for (let i = 0; i < steps; i++) atK = advanceWireK(wire, atK, watts, s / steps);
  return atK;
}

describe("grid wires that radiate", () => {
  it("come to their rated temperature on their rated dissipation and stay there", () => {
    expectWithin(warmed(WIRE, 600, 25, 30, 3000), 1050, 1e-6, "a hundred time constants");
    expectWithin(advanceWireK(WIRE, 1050, 25, 1), 1050, 1e-9, "rounding");
  });

  it("cool in dark surroundings as 1/T^3 = 1/To^3 + 3kt/C", () => {
    // separation of variables of C dT/dt = -k T^4
    const dark = { ...WIRE, idleK: 0 };
    const { radiatesWPerK4: k, heatJPerK: c } = dark;
    const t = 0.4;
    const cube = 1 / (1 / 1200 ** 3 + (3 * k * t) / c);
    expectWithin(warmed(dark, 1200, 0, t, 8000), Math.cbrt(cube), 1e-4, "second order in 50 us");
  });

  it("follow a small step round the rating with their time constant", () => {
    // linearised: 4 k T^3/C = 1/tau
    const stepW = 0.01;
    const gainK = stepW / (4 * WIRE.radiatesWPerK4 * 1050 ** 3);
    const risen = warmed(WIRE, 1050, 25 + stepW, 0.3, 6000) - 1050;
    expectWithin(risen / gainK, 1 - Math.exp(-1), 2e-4, "curvature of T^4 over 0.1 K");
  });

  it("add up energy when heated fast against their time constant", () => {
    // adiabatic: C dT = P dt; 2.5 kW for 0.1 ms is a hundred times rated and 0.25 J
    const risen = warmed(WIRE, 600, 2500, 1e-4, 2) - 600;
    expectWithin(risen, 0.25 / WIRE.heatJPerK, 1e-3 * risen, "radiation in 0.1 ms");
  });

  it("hardly differ whether a sample is 50 or 25 microseconds", () => {
    const coarse = warmed(WIRE, 600, 200, 0.1, 2000);
    const fine = warmed(WIRE, 600, 200, 0.1, 4000);
    expectWithin(coarse, fine, 1e-4, "second order");
  });

  it("melt their plating in the closed form's time at four times rated, and never at twice", () => {
    // 2.82 times rated heat is the limit: (1337.33^4 - 600^4)/(1050^4 - 600^4), by hand
    expectWithin((1337.33 ** 4 - 600 ** 4) / (1050 ** 4 - 600 ** 4), 2.82, 0.01, "by hand");
    expect(wireTimeLeftS(WIRE, 600, 50)).toBe(Infinity);
    const leftS = wireTimeLeftS(WIRE, 600, 100);
    expectWithin(warmed(WIRE, 600, 100, leftS, 20_000), 1337.33, 1e-3, "second order steps");
    expect(wireTimeLeftS(WIRE, 1337.33, 100)).toBe(0);
  });

  it("have a time left that the clock run on confirms", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 600, max: 1330, noNaN: true }),
        fc.double({ min: 80, max: 2000, noNaN: true }),
        (fromK, watts) => {
          const leftS = wireTimeLeftS(WIRE, fromK, watts);
          const atK = warmed(WIRE, fromK, watts, leftS, 2000);
          expectWithin(atK, 1337.33, 0.02, "second order in 2000 steps");
        },
      ),
      fixedRuns(20),
    );
  });

  it("never get colder for more heat", () => {
    const watts = fc.double({ min: 0, max: 1000, noNaN: true });
    const kelvins = fc.double({ min: 600, max: 2500, noNaN: true });
    fc.assert(
      fc.property(kelvins, watts, watts, (fromK, w, more) => {
        const a = advanceWireK(WIRE, fromK, w, 50e-6);
        expect(advanceWireK(WIRE, fromK, w + more, 50e-6)).toBeGreaterThanOrEqual(a);
        expect(a).toBeGreaterThan(0);
      }),
      fixedRuns(50),
    );
  });
});
