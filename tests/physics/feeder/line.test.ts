import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  attenuationDbPerM,
  emptyFigures,
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

/** A line of so many dB at 1 MHz, so long that its impedance is real to 1e-5: what the published formulas are for. */
function lossy(db: number): FeedLine {
  const line = lossless(50, 5000.125, 1e6);
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
  const out: LineFigures = emptyFigures();
  lineFigures(line, freqHz, g, b, out);
  return out;
}

type Pair = readonly [re: number, im: number];
const plus = (a: Pair, b: Pair): Pair => [a[0] + b[0], a[1] + b[1]];
const times = (a: Pair, b: Pair): Pair => [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
const size = (a: Pair): number => Math.hypot(a[0], a[1]);
function over(a: Pair, b: Pair): Pair {
  const [re, im] = times(a, [b[0], -b[1]]);
  return [re / size(b) ** 2, im / size(b) ** 2];
}
/** With a real part that is not negative. */
function root(a: Pair): Pair {
  const re = Math.sqrt((size(a) + a[0]) / 2);
  const im = Math.sign(a[1]) * Math.sqrt((size(a) - a[0]) / 2);
  // the smaller of the two from their product
  return a[0] > 0 ? [re, a[1] / (2 * re)] : [a[1] / (2 * im), im];
}
const reflection = (own: Pair, y: Pair): Pair => over(plus(own, [-y[0], -y[1]]), plus(own, y));

/** Nepers and radians a metre: conductor, dielectric, both, and the wave's turn without and with what is inside the conductors. */
function propagation(kind: LineKind, freqHz: number) {
  const np = (db: number): number => db / 8.685889638065037;
  const ac = np(kind.conductorDbPerM * Math.sqrt(freqHz / kind.lossAtHz));
  const ad = np(kind.dielectricDbPerM * (freqHz / kind.lossAtHz));
  const plain = (2 * Math.PI * freqHz) / (kind.velocityFactor * C);
  return { ac, ad, a: ac + ad, plain, phase: plain + ac };
}

/** Admittance of the endless line: (G + jwC)/g of the law in the module's header. */
function characteristic(kind: LineKind, freqHz: number): Pair {
  const { ad, a, plain, phase } = propagation(kind, freqHz);
  return over([(2 * ad) / kind.lineOhm, plain / kind.lineOhm], [a, phase]);
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
    // telegrapher's equations with R = wLi = 2 Z0 ac, G = 2 ad/Z0 by complex tanh in another program, which
    // leaves 0.6 % (14.2 MHz) and 0.8 % (7.1 MHz) less attenuation than the published law
    const reason = "attenuation to second order: 0.003 and 0.002 dB of return loss";
    const first = inputOhm(at14, 14.2e6, 100, 0);
    expectWithin(first.re, 71.935, 0.04, reason);
    expectWithin(first.im, 30.042, 0.04, reason);
    const second = inputOhm({ ...CABLE, lengthM: 30 }, 7.1e6, 25, -25);
    expectWithin(second.re, 21.825, 0.04, reason);
    expectWithin(second.im, -0.544, 0.04, reason);
    const f = figures(at14, 14.2e6, 0.01, 0);
    expectWithin(f.swrAtInput, 1.8417, 1e-3, reason);
    expectWithin(f.totalLossDb, 0.5937, 0.004, reason);
  });

  it.each([
    [1.82e6, 50.836, -0.814],
    [29.7e6, 50.207, -0.198],
  ])("is not quite 50 ohm, and capacitive, at %d Hz", (freqHz, re, im) => {
    // sqrt((R + jwL)/(G + jwC)) of the same cable in another program; hundreds of dB let nothing come back
    const z = inputOhm({ ...CABLE, lengthM: 5000 }, freqHz, 7, 20);
    expectWithin(z.re, re, 0.02, "(ac/b)^2 of 50 ohm is 0.014 ohm at 1.82 MHz");
    expectWithin(z.im, im, 0.02, "(ac/b)^2 of 50 ohm is 0.014 ohm at 1.82 MHz");
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
    expectWithin(f.matchedLossDb, db, 1e-12, "definition");
    expectWithin(f.addedLossDb, totalDb - db, 1e-3, "one unit in the last printed digit");
  });

  it.each([
    [139, 2, 139.5115],
    [170, 2, 170.5115],
  ])("of as much as %d dB still says what arrives: ratio %d, %d dB in all", (db, swr, totalDb) => {
    // the formula above for A^2 far over r^2: dB - 10 log10(1 - r^2), r = 1/3, by hand
    const f = figures(lossy(db), 1e6, 0.02 / swr, 0);
    expectWithin(f.totalLossDb, totalDb, 1e-3, "impedance real to 1e-5, and the printed digits");
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

  it("and its own impedance at the far end loses the matched loss and shows the same at any length", () => {
    const own = characteristic(CABLE, 14.2e6);
    const f = figures(at14, 14.2e6, own[0], own[1]);
    expectWithin(f.addedLossDb, 0, 1e-12, ROUNDING);
    expectWithin(f.totalLossDb, matchedLossDb(at14, 14.2e6), 1e-12, "definition");
    const long = { ...at14, lengthM: 20e3 };
    expectWithin(figures(long, 14.2e6, own[0], own[1]).addedLossDb, 0, 1e-9, "rounding of 482 dB");
    expectWithin(
      matchedLossDb(at14, 14.2e6),
      0.4817,
      1e-4,
      "20 m of 0.024085 dB/m, printed digits",
    );
    const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
    lineInput(at14, 14.2e6, own[0], own[1], y);
    expectWithin(y.conductanceSiemens, own[0], 1e-15, ROUNDING);
    expectWithin(y.susceptanceSiemens, own[1], 1e-15, ROUNDING);
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
        // Yin = Yc (Y + Yc t)/(Yc + Y t), t = tanh(u + jv) = (sinh 2u + j sin 2v)/(cosh 2u + cos 2v)
        const { a, phase } = propagation(kind, f);
        const [u, v] = [a * lengthM, phase * lengthM];
        const k = Math.cosh(2 * u) + Math.cos(2 * v);
        fc.pre(k > 1e-3); // the tangent itself loses its digits at its poles
        const t: Pair = [Math.sinh(2 * u) / k, Math.sin(2 * v) / k];
        const own = characteristic(kind, f);
        const y: Pair = [g, b];
        const above = times(own, plus(y, times(own, t)));
        const below = plus(own, times(y, t));
        const expected = over(above, below);
        const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        lineInput(made, f, g, b, out);
        const reason = "rounding in the tangent, up to 1000 times at its poles";
        const far = Math.max(1, (size(y) * size(t)) / size(below));
        const tolerance = 1e-9 * far * size(expected);
        expectWithin(out.conductanceSiemens, expected[0], tolerance, reason);
        expectWithin(out.susceptanceSiemens, expected[1], tolerance, reason);
      }),
      fixedRuns(50),
    );
  });

  it("agrees with the telegrapher's equations to the second order of its loss", () => {
    fc.assert(
      fc.property(line, freq, conductance, susceptance, ({ kind, lengthM }, f, g, b) => {
        // g = sqrt(zy), Zc = sqrt(z/y), z = R + j(wL + R), y = G + jwC; Pozar and Chipman, from memory
        const { ac, ad, plain } = propagation(kind, f);
        const z: Pair = [2 * kind.lineOhm * ac, kind.lineOhm * (plain + 2 * ac)];
        const y: Pair = [(2 * ad) / kind.lineOhm, plain / kind.lineOhm];
        const wave = root(times(z, y));
        const own = root(over(y, z));
        const atLoad = reflection(own, [g, b]);
        const twice = Math.exp(-2 * wave[0] * lengthM);
        const turn = -2 * wave[1] * lengthM;
        const back = times(atLoad, [twice * Math.cos(turn), twice * Math.sin(turn)]);
        const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        lineInput({ ...kind, lengthM }, f, g, b, out);
        const got = reflection(own, [out.conductanceSiemens, out.susceptanceSiemens]);
        const order = (ac + ad) / plain;
        const reason = "loss a radian, squared for the impedance, times the loss for the wave";
        const tolerance = 4 * order * (order + (ac + ad) * lengthM) + 1e-12;
        expectWithin(size(plus(got, [-back[0], -back[1]])), 0, tolerance, reason);
      }),
      fixedRuns(50),
    );
  });

  it("takes in what it loses and delivers, for any passive load", () => {
    fc.assert(
      fc.property(line, freq, conductance, susceptance, ({ kind, lengthM }, f, g, b) => {
        const made = { ...kind, lengthM };
        // voltage and current at the near end by the chain matrix, 1 V at the far end
        const { a, phase } = propagation(kind, f);
        const [u, v] = [a * lengthM, phase * lengthM];
        const even: Pair = [Math.cosh(u) * Math.cos(v), Math.sinh(u) * Math.sin(v)];
        const odd: Pair = [Math.sinh(u) * Math.cos(v), Math.cosh(u) * Math.sin(v)];
        const own = characteristic(kind, f);
        const y: Pair = [g, b];
        const volt = plus(even, times(over(y, own), odd));
        const ampere = plus(times(y, even), times(own, odd));
        const takenW = volt[0] * ampere[0] + volt[1] * ampere[1];
        const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        lineInput(made, f, g, b, out);
        const reason = "what is asked of the balance; rounding is 1e-15 of volts times amperes";
        const tolerance = 1e-9 * takenW + 1e-14 * size(volt) * size(ampere);
        expectWithin(out.conductanceSiemens * size(volt) ** 2, takenW, tolerance, reason);
        const { lostShare, totalLossDb } = figures(made, f, g, b);
        expectWithin(takenW * (1 - lostShare), g, tolerance, reason);
        expectWithin(10 ** (-totalLossDb / 10), 1 - lostShare, 1e-12, "definition");
      }),
      fixedRuns(50),
    );
  });

  it("keeps a passive load passive, and no wave grows on its way back", () => {
    fc.assert(
      fc.property(line, freq, conductance, susceptance, ({ kind, lengthM }, f, g, b) => {
        const made = { ...kind, lengthM };
        const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
        lineInput(made, f, g, b, out);
        expect(out.conductanceSiemens).toBeGreaterThanOrEqual(0);
        const y: Pair = [out.conductanceSiemens, out.susceptanceSiemens];
        const own = characteristic(kind, f);
        const [sent, seen] = [size(reflection(own, [g, b])), size(reflection(own, y))];
        expectWithin(seen, sent * Math.exp(-2 * propagation(kind, f).a * lengthM), 1e-9, ROUNDING);
        const { swrAtInput, lostShare } = figures(made, f, g, b);
        expect(lostShare).toBeGreaterThanOrEqual(0);
        // a meter for Z0 reads the admittance it is given
        const rho = size(reflection([1 / kind.lineOhm, 0], y));
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
