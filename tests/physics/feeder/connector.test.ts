import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  FEEDER_AT_REST,
  type FeederState,
  feederAdmittance,
} from "../../../src/physics/feeder/connector";
import { resolveStation } from "../../../src/physics/stage/stationCircuit";
import { DEFAULT_LINE, DEFAULT_STATION } from "../../../src/project/defaults";
import { DIPOLES, dipoleNear, LINE_KINDS, type LineKind } from "../../../src/project/feeders";
import type { Antenna, FeedLine } from "../../../src/project/station";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const CABLE = LINE_KINDS[0] as LineKind;
const HUNDRED_OHM: Antenna = { kind: "reflection", magnitude: 1 / 3, phaseRad: 0 };
const BROKEN = { resonanceRatio: 1, feedPointConnected: false };

function admittance(
  line: FeedLine,
  antenna: Antenna,
  freqHz: number,
  state: FeederState = FEEDER_AT_REST,
): { g: number; b: number; rho: number } {
  const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
  feederAdmittance(line, antenna, freqHz, state, y);
  const g = y.conductanceSiemens;
  const b = y.susceptanceSiemens;
  const rho = Math.sqrt(((1 - 50 * g) ** 2 + (50 * b) ** 2) / ((1 + 50 * g) ** 2 + (50 * b) ** 2));
  return { g, b, rho };
}

const swrOf = (rho: number) => (1 + rho) / (1 - rho);

describe("line and antenna at the connector", () => {
  it("show a load of 100 ohm through 20 m of cable as 71.9 + j30.0 ohm", () => {
    // telegrapher's equations at 14.2 MHz with R = wLi, computed with another program
    const { g, b } = admittance({ ...CABLE, lengthM: 20 }, HUNDRED_OHM, 14.2e6);
    const d = g * g + b * b;
    expectWithin(g / d, 71.935, 0.04, "attenuation to second order");
    expectWithin(-b / d, 30.042, 0.04, "attenuation to second order");
  });

  it("match at the dipole's resonance, and at the edges of 80 m no longer", () => {
    const dipole = dipoleNear(3.7e6);
    const line = { ...CABLE, lengthM: 0 };
    expectWithin(admittance(line, dipole, 3.68e6).rho, 0, 1e-12, "50 ohm on 50 ohm, rounding");
    for (const [freqHz, least, most] of [
      // X = 2 Q R (f/f0 - 1): 59 ohm low, 104 ohm high; SWR = ((1+rho)/(1-rho)) of 50 + jX: 3.1 and
      // 6.2
      [3.5e6, 2.8, 3.5],
      [4.0e6, 5.4, 7.2],
    ] as const) {
      const swr = swrOf(admittance(line, dipole, freqHz).rho);
      expect(swr).toBeGreaterThan(least);
      expect(swr).toBeLessThan(most);
    }
    // a lossy line hides part of it
    const hidden = admittance({ ...(LINE_KINDS[1] as LineKind), lengthM: 60 }, dipole, 4.0e6);
    expect(swrOf(hidden.rho)).toBeLessThan(4);
  });

  it("reflect nearly all where the feed point is broken, less what the line takes twice", () => {
    const { rho } = admittance({ ...CABLE, lengthM: 20 }, HUNDRED_OHM, 14.2e6, BROKEN);
    // 2 x 0.4817 dB: 10^(-0.9634/20) = 0.8950; the leak of 20 uS takes 0.2 % of it, and a meter for 50 ohm on
    // a line of 50.3 - j0.3 ohm reads 0.3 % less: telegrapher's equations in another program
    expectWithin(rho, 0.8909, 0.001, "attenuation to second order, 0.6 % of 0.11");
  });

  it("are never less than a milliohm", () => {
    const short: Antenna = { kind: "reflection", magnitude: 1, phaseRad: Math.PI };
    const { g, b } = admittance({ ...CABLE, lengthM: 0 }, short, 7e6);
    expect(Math.hypot(g, b)).toBeLessThanOrEqual(1000);
  });

  it("are passive however they move", () => {
    const line = fc.record({
      kind: fc.constantFrom(...LINE_KINDS),
      lengthM: fc.double({ min: 0, max: 200, noNaN: true }),
    });
    const antenna: fc.Arbitrary<Antenna> = fc.oneof(
      fc.constantFrom(...DIPOLES),
      fc.record({
        kind: fc.constant("reflection" as const),
        magnitude: fc.double({ min: 0, max: 1, noNaN: true }),
        phaseRad: fc.double({ min: -7, max: 7, noNaN: true }),
      }),
    );
    const freq = fc.double({ min: 1e6, max: 60e6, noNaN: true });
    const state = fc.record({
      resonanceRatio: fc.double({ min: 0.3, max: 1.5, noNaN: true }),
      feedPointConnected: fc.boolean(),
    });
    fc.assert(
      fc.property(line, antenna, freq, state, ({ kind, lengthM }, made, freqHz, moved) => {
        const { g, b, rho } = admittance({ ...kind, lengthM }, made, freqHz, moved);
        expect(g).toBeGreaterThanOrEqual(0);
        expect(rho).toBeLessThanOrEqual(1);
        expect(Number.isFinite(b)).toBe(true);
      }),
      fixedRuns(50),
    );
  });

  it("are the load of a station whose file names them", () => {
    const antenna = dipoleNear(14.2e6);
    const load = { kind: "antenna", line: DEFAULT_LINE, antenna } as const;
    const resolved = resolveStation({ ...DEFAULT_STATION, load });
    if (!resolved.ok) throw new Error(resolved.problem);
    const { g, b } = admittance(DEFAULT_LINE, antenna, 14.2e6);
    expect(resolved.parts.conductanceSiemens).toBe(g);
    expect(resolved.parts.susceptanceSiemens).toBe(b);
  });
});

describe("the second harmonic of the load", () => {
  /** Impedance of the plate node at twice the carrier, from the parts' own laws. */
  function plateOhm(g: number, b: number): { re: number; im: number } {
    const resolved = resolveStation(DEFAULT_STATION);
    if (!resolved.ok) throw new Error(resolved.problem);
    const { omega, tuningF, coilH, coilOhm, loadingF, chokeH } = resolved.parts;
    const w = 2 * omega;
    const y2 = b + w * loadingF;
    const d2 = g * g + y2 * y2;
    const [zr, zi] = [coilOhm + g / d2, w * coilH - y2 / d2];
    const dz = zr * zr + zi * zi;
    const [yr, yi] = [zr / dz, w * tuningF - 1 / (w * chokeH) - zi / dz];
    const dy = yr * yr + yi * yi;
    return { re: yr / dy, im: -yi / dy };
  }

  it("hardly shows at the plate: what carries it there may be the plain rule", () => {
    const antenna = dipoleNear(14.2e6);
    let worst = 0;
    for (let k = 0; k <= 48; k++) {
      const line = { ...CABLE, lengthM: (k / 48) * 7 }; // half a wave in all
      const { g, b } = admittance(line, antenna, 14.2e6);
      const own = admittance(line, antenna, 28.4e6);
      const rule = plateOhm(g, b >= 0 ? 2 * b : b / 2);
      const real = plateOhm(own.g, own.b);
      worst = Math.max(worst, Math.hypot(rule.re - real.re, rule.im - real.im));
    }
    // its current at 2 f is under half of that at f, into 1900 ohm: 1 % of 1900 ohm is 0.5 % of the
    // plate's RF voltage
    expect(worst).toBeLessThan(19);
    expect(worst).toBeGreaterThan(0);
  });
});
