import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  antennaAdmittance,
  qFromBandwidth,
  shiftedAdmittance,
} from "../../../src/physics/feeder/antenna";
import { DEFAULT_BANDS } from "../../../src/project/defaults";
import { DIPOLES, dipoleNear } from "../../../src/project/feeders";
import type { Antenna } from "../../../src/project/station";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const DIPOLE: Antenna = {
  kind: "resonant",
  name: "",
  resonanceHz: 7.1e6,
  resistanceOhm: 60,
  q: 13,
};

function impedance(antenna: Antenna, freqHz: number, lineOhm = 50, ratio = 1) {
  const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
  antennaAdmittance(antenna, freqHz, lineOhm, ratio, y);
  const d = y.conductanceSiemens ** 2 + y.susceptanceSiemens ** 2;
  return { re: y.conductanceSiemens / d, im: -y.susceptanceSiemens / d };
}

function swr({ re, im }: { re: number; im: number }, lineOhm: number): number {
  const rho = Math.hypot(re - lineOhm, im) / Math.hypot(re + lineOhm, im);
  return (1 + rho) / (1 - rho);
}

describe("a resonant antenna", () => {
  it("is its resistance at resonance, and nothing else", () => {
    const z = impedance(DIPOLE, 7.1e6);
    expectWithin(z.re, 60, 1e-10, "rounding");
    expectWithin(z.im, 0, 1e-10, "rounding");
  });

  it("has the Q that is asked for: (f0/2R) dX/df", () => {
    const step = 7.1e6 * 1e-5;
    const slope = (impedance(DIPOLE, 7.1e6 + step).im - impedance(DIPOLE, 7.1e6 - step).im) / 2;
    expectWithin(
      (7.1e6 * slope) / (2 * 60 * step),
      13,
      1e-5,
      "curvature over the step, 1e-10, and rounding",
    );
  });

  it("reaches a standing-wave ratio of 2 where its bandwidth says", () => {
    // B/f0 = (S - 1)/(Q sqrt S) from |rho| of R(1 + j2Q delta) on R: 0.7071/Q, textbook (from
    // memory)
    const q = 12;
    const half = (0.5 * 0.70711) / q;
    const antenna: Antenna = { ...DIPOLE, kind: "resonant", q, resistanceOhm: 50 };
    for (const side of [-1, 1]) {
      const ratio = swr(impedance(antenna, 7.1e6 * (1 + side * half)), 50);
      expectWithin(ratio, 2, 0.01, "R grows by (pi delta)^2/4 = 0.2 %, X by half of it");
    }
    expectWithin(qFromBandwidth(0.0589, 2), 12.005, 1e-3, "one unit in the last digit");
  });

  it("is a series R-L-C near resonance: within 3 % in X and 1 % in R at 5 % off", () => {
    for (const ratio of [0.95, 1.05]) {
      const z = impedance(DIPOLE, 7.1e6 * ratio);
      const x = 60 * 13 * (ratio - 1 / ratio);
      expectWithin(z.im / x, 1, 0.03, "half the detuning, 2.5 %, and its square");
      expectWithin(z.re / 60, 1, 0.01, "(pi delta)^2/4 = 0.6 %");
    }
  });

  it("is high and resistive at its second harmonic, resonant again at its third", () => {
    const second = impedance(DIPOLE, 14.2e6);
    // (4Q/pi)^2 R = 16.4 kohm in the limit of large Q
    expectWithin(
      second.re / ((4 * 13) / Math.PI) ** 2 / 60,
      1,
      0.02,
      "2 R^2/Ka^2 = 0.7 % twice over",
    );
    expectWithin(second.im / second.re, 0, 1e-9, "rounding");
    const third = impedance(DIPOLE, 21.3e6);
    expectWithin(third.re, 60, 1e-9, "rounding");
    expectWithin(third.im, 0, 1e-8, "rounding");
  });

  it("under ice is inductive where it was resonant", () => {
    const z = impedance(DIPOLE, 7.1e6, 50, 0.98);
    expectWithin(
      z.im / (60 * 13 * (1 / 0.98 - 0.98)),
      1,
      0.02,
      "half the detuning, 1 %, and its square",
    );
    expect(z.im).toBeGreaterThan(0);
  });

  it("is passive at every frequency, whatever its Q", () => {
    const q = fc.double({ min: 0.1, max: 1e4, noNaN: true });
    const freq = fc.double({ min: 1e5, max: 1e8, noNaN: true });
    const ratio = fc.double({ min: 0.2, max: 2, noNaN: true });
    fc.assert(
      fc.property(q, freq, ratio, (made, freqHz, moved) => {
        const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        antennaAdmittance({ ...DIPOLE, kind: "resonant", q: made }, freqHz, 50, moved, y);
        expect(y.conductanceSiemens).toBeGreaterThan(0);
        expect(Number.isFinite(y.susceptanceSiemens)).toBe(true);
      }),
      fixedRuns(50),
    );
  });
});

describe("an antenna of fixed reflection", () => {
  it("has the ratio it is given at any angle, on its own line", () => {
    for (const lineOhm of [50, 75, 450]) {
      for (let k = 0; k < 12; k++) {
        const antenna: Antenna = {
          kind: "reflection",
          magnitude: 0.5,
          phaseRad: (k * Math.PI) / 6,
        };
        expectWithin(swr(impedance(antenna, 7e6, lineOhm), lineOhm), 3, 1e-9, "rounding");
      }
    }
  });

  it("is half Z0 at half a turn and inductive a quarter turn on", () => {
    // (1 + rho)/(1 - rho) with rho = -1/3: 1/2; with rho = j/3: (8 + 6j)/10
    const half = impedance({ kind: "reflection", magnitude: 1 / 3, phaseRad: Math.PI }, 7e6);
    expectWithin(half.re, 25, 1e-10, "rounding");
    const quarter = impedance({ kind: "reflection", magnitude: 1 / 3, phaseRad: Math.PI / 2 }, 7e6);
    expectWithin(quarter.re, 40, 1e-10, "rounding");
    expectWithin(quarter.im, 30, 1e-10, "rounding");
  });
});

describe("a plain load that moves", () => {
  it("keeps its resistance and gains the reactance of a resonant circuit of Q 12", () => {
    const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
    shiftedAdmittance(0.02, 0, 0.98, y);
    const d = y.conductanceSiemens ** 2 + y.susceptanceSiemens ** 2;
    expectWithin(y.conductanceSiemens / d, 50, 1e-10, "rounding");
    // 50 * 12 * (1/0.98 - 0.98) = 24.245
    expectWithin(-y.susceptanceSiemens / d, 24.245, 1e-3, "one unit in the last digit");
  });

  it("stays as it is at rest, and when it takes no power", () => {
    const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
    shiftedAdmittance(0.013, -0.007, 1, y);
    expect(y).toEqual({ conductanceSiemens: 0.013, susceptanceSiemens: -0.007 });
    shiftedAdmittance(0, 0, 0.9, y);
    expect(y).toEqual({ conductanceSiemens: 0, susceptanceSiemens: 0 });
  });
});

describe("the dipoles to choose from", () => {
  it("resonate inside a band each, and are found from anywhere in it", () => {
    expect(DIPOLES.length).toBe(DEFAULT_BANDS.length);
    for (const [index, band] of DEFAULT_BANDS.entries()) {
      const dipole = DIPOLES[index];
      expect(dipole?.name).toBe(`${band.name} dipole`);
      expect(dipole?.resonanceHz).toBeGreaterThan(band.fromHz);
      expect(dipole?.resonanceHz).toBeLessThan(band.toHz);
      expect(dipoleNear(band.fromHz)).toBe(dipole);
      expect(dipoleNear(band.toHz)).toBe(dipole);
    }
  });
});
