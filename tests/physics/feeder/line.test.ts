import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  attenuationDbPerM,
  type LineFigures,
  lineFigures,
  lineInput,
  lossLawThrough,
  matchedLossDb,
} from "../../../src/physics/feeder/line";
import { LINE_KINDS, type LineKind } from "../../../src/project/feeders";
import type { FeedLine } from "../../../src/project/station";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const C = 299_792_458;
const ROUNDING = "rounding";
const CABLE = LINE_KINDS[0] as LineKind;

function lossless(lineOhm: number, wavelengths: number, freqHz: number): FeedLine {
  const lengthM = (wavelengths * 0.8 * C) / freqHz;
  return {
    ...CABLE,
    lineOhm,
    lengthM,
    velocityFactor: 0.8,
    conductorDbPerM: 0,
    dielectricDbPerM: 0,
  };
}

/** A line of so many dB at 1 MHz, an eighth of a wave long. */
function lossy(db: number): FeedLine {
  const line = lossless(50, 0.125, 1e6);
  return { ...line, conductorDbPerM: db / line.lengthM };
}

function inputOhm(line: FeedLine, freqHz: number, loadRe: number, loadIm: number) {
  const d = loadRe * loadRe + loadIm * loadIm;
  const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
  lineInput(line, freqHz, loadRe / d, -loadIm / d, y);
  const q = y.conductanceSiemens ** 2 + y.susceptanceSiemens ** 2;
  return { re: y.conductanceSiemens / q, im: -y.susceptanceSiemens / q };
}

function figures(line: FeedLine, freqHz: number, g: number, b: number): LineFigures {
  const out: LineFigures = {
    swrAtLoad: 0,
    swrAtInput: 0,
    matchedLossDb: 0,
    totalLossDb: 0,
    addedLossDb: 0,
    lostShare: 0,
  };
  lineFigures(line, freqHz, g, b, out);
  return out;
}

describe("a line without loss", () => {
  it("a quarter wave long turns a resistance into Z0 squared over it", () => {
    // 75^2/100; Pozar, Microwave Engineering, quarter-wave transformer (from memory)
    const z = inputOhm(lossless(75, 0.25, 7.1e6), 7.1e6, 100, 0);
    expectWithin(z.re, 56.25, 1e-9, ROUNDING);
    expectWithin(z.im, 0, 1e-9, ROUNDING);
  });

  it("half a wave long repeats its load", () => {
    const z = inputOhm(lossless(450, 0.5, 14.2e6), 14.2e6, 30, -80);
    expectWithin(z.re, 30, 1e-9, ROUNDING);
    expectWithin(z.im, -80, 1e-9, ROUNDING);
  });

  it("an eighth of a wave long and open is a capacitor of reactance Z0", () => {
    const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
    lineInput(lossless(50, 0.125, 3.6e6), 3.6e6, 0, 0, y); // Y = j Y0 tan(45 degrees)
    expectWithin(y.conductanceSiemens, 0, 1e-15, ROUNDING);
    expectWithin(y.susceptanceSiemens, 0.02, 1e-14, ROUNDING);
  });

  it("a quarter wave long and open is a wire, answered with a finite number", () => {
    const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
    lineInput(lossless(50, 0.25, 3.6e6), 3.6e6, 0, 0, y);
    expect(Math.hypot(y.conductanceSiemens, y.susceptanceSiemens)).toBeGreaterThan(1e6);
    expect(Number.isFinite(y.conductanceSiemens)).toBe(true);
  });

  it("loses nothing, and keeps the standing-wave ratio over its length", () => {
    const f = figures(lossless(50, 0.3, 7e6), 7e6, 0.01, 0);
    expectWithin(f.swrAtLoad, 2, 1e-12, ROUNDING);
    expectWithin(f.swrAtInput, 2, 1e-12, ROUNDING);
    expectWithin(f.totalLossDb, 0, 1e-12, ROUNDING);
    expectWithin(f.lostShare, 0, 1e-12, ROUNDING);
    expect(figures(lossless(50, 0.3, 7e6), 7e6, 0, 0.01).totalLossDb).toBe(0);
  });
});

describe("a line with loss", () => {
  const at14 = { ...CABLE, lengthM: 20 };

  it("shows the worked examples of a 10 mm cable", () => {
    // lossy-line equation, computed with another program for Z0 50, v 0.66 and the same attenuation
    // law
    const first = inputOhm(at14, 14.2e6, 100, 0);
    expectWithin(first.re, 67.111, 1e-2, "attenuation printed to five digits");
    expectWithin(first.im, 31.915, 1e-2, "attenuation printed to five digits");
    const second = inputOhm({ ...CABLE, lengthM: 30 }, 7.1e6, 25, -25);
    expectWithin(second.re, 21.627, 1e-2, "attenuation printed to five digits");
    expectWithin(second.im, -2.971, 1e-2, "attenuation printed to five digits");
    const f = figures(at14, 14.2e6, 0.01, 0);
    expectWithin(f.swrAtInput, 1.8504, 1e-4, "one unit in the last printed digit");
  });

  it.each([
    [1, 3, 1.504],
    [0.5, 5, 1.162],
    [1.08, 2, 1.288],
  ])("of %d dB with a ratio of %d at the load loses more: %d dB", (db, swr, totalDb) => {
    // 10 log10((A^2 - r^2)/(A (1 - r^2))), ARRL Antenna Book (from memory), computed with another
    // program
    const f = figures(lossy(db), 1e6, 0.02 / swr, 0);
    expectWithin(f.swrAtLoad, swr, 1e-12, ROUNDING);
    expectWithin(f.totalLossDb, totalDb, 1e-3, "one unit in the last printed digit");
    expectWithin(f.addedLossDb, totalDb - db, 1e-3, "one unit in the last printed digit");
  });

  it("of 3 dB makes the worst load look like 3 to 1", () => {
    // return loss 6 dB: |rho| = 10^-0.3 = 0.50119, (1 + rho)/(1 - rho) = 3.0095; rule of the trade,
    // from memory
    const f = figures(lossy(3), 1e6, 0, 0.013);
    expectWithin(f.swrAtInput, 3.0095, 1e-4, "one unit in the last digit");
    expect(f.swrAtLoad).toBe(Infinity);
    expect(f.totalLossDb).toBe(Infinity);
    expectWithin(f.lostShare, 1, 1e-12, "a lossless load takes nothing");
  });

  it("and a matched load loses the matched loss and shows Z0 at any length", () => {
    const f = figures(at14, 14.2e6, 0.02, 0);
    expectWithin(f.addedLossDb, 0, 1e-12, ROUNDING);
    expectWithin(f.totalLossDb, matchedLossDb(at14, 14.2e6), 1e-12, "definition");
    expectWithin(
      matchedLossDb(at14, 14.2e6),
      0.4817,
      1e-4,
      "20 m of 0.024085 dB/m, printed digits",
    );
    const z = inputOhm(at14, 14.2e6, 50, 0);
    expectWithin(z.re, 50, 1e-12, ROUNDING);
    expectWithin(z.im, 0, 1e-12, ROUNDING);
  });

  const line = fc.record({
    kind: fc.constantFrom(...LINE_KINDS),
    lengthM: fc.double({ min: 0, max: 300, noNaN: true }),
  });
  const freq = fc.double({ min: 1e6, max: 60e6, noNaN: true });
  const conductance = fc.double({ min: 1e-6, max: 10, noNaN: true });
  const susceptance = fc.double({ min: -10, max: 10, noNaN: true });

  it("agrees with the hyperbolic form of the line equation", () => {
    fc.assert(
      fc.property(line, freq, conductance, susceptance, ({ kind, lengthM }, f, g, b) => {
        const made = { ...kind, lengthM };
        // Yin = Y0 (Y + Y0 t)/(Y0 + Y t), t = tanh(a + jb) = (sinh 2a + j sin 2b)/(cosh 2a + cos
        // 2b)
        const a = (attenuationDbPerM(made, f) * lengthM) / 8.685889638;
        const phase = (2 * Math.PI * f * lengthM) / (kind.velocityFactor * C);
        const k = Math.cosh(2 * a) + Math.cos(2 * phase);
        fc.pre(k > 1e-3); // the tangent itself loses its digits at its poles
        const [tr, ti] = [Math.sinh(2 * a) / k, Math.sin(2 * phase) / k];
        const y0 = 1 / kind.lineOhm;
        const [nr, ni] = [g + y0 * tr, b + y0 * ti];
        const [dr, di] = [y0 + g * tr - b * ti, g * ti + b * tr];
        const d = dr * dr + di * di;
        const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        lineInput(made, f, g, b, out);
        const scale = y0 * Math.hypot(nr, ni) * Math.hypot(dr, di);
        const reason = "rounding in the tangent, up to 1000 times at its poles";
        const far = Math.max(1, (Math.hypot(g, b) * Math.hypot(tr, ti)) / Math.sqrt(d));
        const tolerance = (1e-9 * far * scale) / d;
        expectWithin(out.conductanceSiemens, (y0 * (nr * dr + ni * di)) / d, tolerance, reason);
        expectWithin(out.susceptanceSiemens, (y0 * (ni * dr - nr * di)) / d, tolerance, reason);
      }),
      fixedRuns(50),
    );
  });

  it("takes in what it loses and delivers, for any passive load", () => {
    fc.assert(
      fc.property(line, freq, conductance, susceptance, ({ kind, lengthM }, f, g, b) => {
        const made = { ...kind, lengthM };
        // waves from the load up, 1 V of forward wave at the far end
        const y0 = 1 / kind.lineOhm;
        const p = (y0 + g) ** 2 + b * b;
        const [re, im] = [(y0 * y0 - g * g - b * b) / p, (-2 * y0 * b) / p];
        const deliveredW = 0.5 * g * ((1 + re) ** 2 + im * im);
        const a = (attenuationDbPerM(made, f) * lengthM) / 8.685889638;
        const turn = (4 * Math.PI * f * lengthM) / (kind.velocityFactor * C);
        const [c, s] = [Math.exp(-2 * a) * Math.cos(turn), Math.exp(-2 * a) * Math.sin(turn)];
        const [ir, ii] = [re * c + im * s, im * c - re * s];
        const square = Math.exp(2 * a) * ((1 + ir) ** 2 + ii * ii); // |Vin|^2
        const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        lineInput(made, f, g, b, out);
        const inputW = 0.5 * out.conductanceSiemens * square;
        const lostW = inputW * figures(made, f, g, b).lostShare;
        const reason = "what is asked of the balance; rounding is 1e-15 times the wave's power";
        const waveW = 0.5 * y0 * Math.exp(2 * a);
        expectWithin(inputW - lostW - deliveredW, 0, 1e-9 * inputW + 1e-14 * waveW, reason);
      }),
      fixedRuns(50),
    );
  });

  it("keeps a passive load passive, and no ratio grows on its way back", () => {
    fc.assert(
      fc.property(line, freq, conductance, susceptance, ({ kind, lengthM }, f, g, b) => {
        const made = { ...kind, lengthM };
        const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        lineInput(made, f, g, b, out);
        expect(out.conductanceSiemens).toBeGreaterThanOrEqual(0);
        const { swrAtLoad, swrAtInput, addedLossDb } = figures(made, f, g, b);
        expect(swrAtInput).toBeLessThanOrEqual(swrAtLoad * (1 + 1e-12));
        expect(addedLossDb).toBeGreaterThanOrEqual(-1e-12);
        // Y back to |rho| gives the same ratio
        const [gn, bn] = [
          out.conductanceSiemens * kind.lineOhm,
          out.susceptanceSiemens * kind.lineOhm,
        ];
        const rho = Math.sqrt(((1 - gn) ** 2 + bn * bn) / ((1 + gn) ** 2 + bn * bn));
        expect(rho).toBeLessThanOrEqual(1);
        expectWithin(rho, (swrAtInput - 1) / (swrAtInput + 1), 1e-9, "rounding near a match");
      }),
      fixedRuns(50),
    );
  });

  it("may write over the load it was given", () => {
    const y = { conductanceSiemens: 0.01, susceptanceSiemens: 0.004 };
    const apart = { conductanceSiemens: 0, susceptanceSiemens: 0 };
    lineInput(at14, 14.2e6, y.conductanceSiemens, y.susceptanceSiemens, apart);
    lineInput(at14, 14.2e6, y.conductanceSiemens, y.susceptanceSiemens, y);
    expect(y).toEqual(apart);
  });
});

describe("the attenuation law", () => {
  it("goes through the points it was made from", () => {
    // RG-213 class: 1.08 dB/100 ft at 30 MHz, 2.53 at 150; k1 0.62198, k2 0.0045521 by another
    // program
    const low = { freqHz: 30e6, dbPerM: 1.08 / 30.48 };
    const high = { freqHz: 150e6, dbPerM: 2.53 / 30.48 };
    const law = lossLawThrough(low, high, 1e6);
    expectWithin(law.conductorDbPerM * 100, 0.62198, 1e-5, "one unit in the last printed digit");
    expectWithin(law.dielectricDbPerM * 100, 0.0045521, 1e-7, "one unit in the last printed digit");
    const made = { ...CABLE, lengthM: 1, lossAtHz: 1e6, ...law };
    expectWithin(attenuationDbPerM(made, 30e6), low.dbPerM, 1e-15, ROUNDING);
    expectWithin(attenuationDbPerM(made, 150e6), high.dbPerM, 1e-15, ROUNDING);
  });

  it("does not depend on the frequency at which its two parts are given", () => {
    const low = { freqHz: 10e6, dbPerM: 0.046 };
    const high = { freqHz: 100e6, dbPerM: 0.161 };
    const one = { ...CABLE, lengthM: 1, lossAtHz: 1e6, ...lossLawThrough(low, high, 1e6) };
    const ten = { ...CABLE, lengthM: 1, lossAtHz: 10e6, ...lossLawThrough(low, high, 10e6) };
    expectWithin(attenuationDbPerM(ten, 28e6), attenuationDbPerM(one, 28e6), 1e-15, ROUNDING);
  });

  it.each([
    // typical figures of the class, dB per 100 m; MIL-C-17 types and common practice, from memory
    ["coaxial, 50 ohm, 10 mm", 30e6, 3.543],
    ["coaxial, 50 ohm, 10 mm", 14e6, 2.391],
    ["coaxial, 50 ohm, 5 mm", 10e6, 4.6],
    ["coaxial, 50 ohm, 5 mm", 100e6, 16.1],
    ["coaxial, 75 ohm, 10 mm", 10e6, 2.2],
    ["coaxial, 75 ohm, 10 mm", 100e6, 7.5],
    ["open wire with windows, 450 ohm, dry", 10e6, 0.26],
    ["open wire with windows, 450 ohm, dry", 100e6, 1.0],
  ])("of %s at %d Hz is %d dB a hundred metres", (name, freqHz, dbPer100M) => {
    const kind = LINE_KINDS.find((entry) => entry.name === name);
    if (kind === undefined) throw new Error(`no kind ${name}`);
    const got = 100 * attenuationDbPerM({ ...kind, lengthM: 1 }, freqHz);
    expectWithin(got, dbPer100M, 1e-3 * dbPer100M, "coefficients kept to four digits");
  });
});
