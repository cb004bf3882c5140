import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  designPi,
  designPiL,
  type PiReactances,
  type PiRequest,
  piLReactances,
  piReactances,
} from "../../../src/physics/tank/pi";
import { expectWithin } from "../../support/expectWithin";

const LOSSLESS: PiRequest = { plateLoadOhm: 3000, loadOhm: 50, loadedQ: 12, coilQ: Infinity };

function designed<T>(design: { ok: true; value: T } | { ok: false; problem: string }): T {
  if (!design.ok) throw new Error(design.problem);
  return design.value;
}

// complex arithmetic for the checks, apart from the product's
type Z = readonly [number, number];
const add = (a: Z, b: Z): Z => [a[0] + b[0], a[1] + b[1]];
const inverse = (a: Z): Z => {
  const s = a[0] * a[0] + a[1] * a[1];
  return [a[0] / s, -a[1] / s];
};
const parallel = (a: Z, b: Z): Z => inverse(add(inverse(a), inverse(b)));

function inputOhm(x: PiReactances, load: Z): Z {
  const right = parallel([0, -x.loadingOhm], load);
  return parallel([0, -x.tuningOhm], add([x.coilSeriesOhm, x.coilOhm], right));
}

describe("pi network", () => {
  it("has the handbook's reactances for 3000 ohm and Q 12", () => {
    // XC1 = R1/Q, XC2 = R2 sqrt((R1/R2)/(Q^2+1-R1/R2)), XL = (Q R1 + R1 R2/XC2)/(Q^2+1); ARRL Handbook, from memory
    const x = designed(piReactances(LOSSLESS));
    expectWithin(x.tuningOhm, 250, 1e-3, "printed to 1e-3");
    expectWithin(x.coilOhm, 272.901, 1e-3, "printed to 1e-3");
    expectWithin(x.loadingOhm, 42.008, 1e-3, "printed to 1e-3");
  });

  it.each([
    [1500, 125, 144.392, 25.538],
    [1600, 133.333, 153.149, 26.608],
    [2000, 166.667, 187.865, 30.861],
    [2500, 208.333, 230.662, 36.274],
    [3450, 287.5, 310.488, 47.642],
    [4000, 333.333, 355.9, 55.47],
    [5000, 416.667, 436.925, 74.536],
  ])("agrees with the formula's table at %d ohm", (plateLoadOhm, xc1, xl, xc2) => {
    // same formulas, computed with another program
    const x = designed(piReactances({ ...LOSSLESS, plateLoadOhm }));
    expectWithin(x.tuningOhm, xc1, 1e-3, "printed to 1e-3");
    expectWithin(x.coilOhm, xl, 1e-3, "printed to 1e-3");
    expectWithin(x.loadingOhm, xc2, 1e-3, "printed to 1e-3");
  });

  it("has the handbook's components at 3.6 MHz", () => {
    const c = designed(designPi({ ...LOSSLESS, freqHz: 3.6e6, chokeH: Infinity }));
    expectWithin(c.tuningF, 176.8e-12, 0.001 * 176.8e-12, "printed to 0.1 %");
    expectWithin(c.coilH, 12.065e-6, 0.001 * 12.065e-6, "printed to 0.1 %");
    expectWithin(c.loadingF, 1052e-12, 0.001 * 1052e-12, "printed to 0.1 %");
  });

  it("loses 6 % in a coil of Q 200 put into the lossless network", () => {
    // efficiency RZ/(RZ + rL) = 0.9381, RZ real part of the loading capacitor and load in parallel; derived, exact
    const x = designed(piReactances(LOSSLESS));
    const [RZ] = parallel([0, -x.loadingOhm], [50, 0]);
    expectWithin(
      RZ / (RZ + x.coilOhm / 200),
      0.9381,
      5e-4,
      "printed digit and what Q is taken to mean",
    );
  });

  it("shows the plate its load resistance, coil loss or not", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 800, max: 6000, noNaN: true }),
        fc.double({ min: 25, max: 200, noNaN: true }),
        fc.double({ min: 10, max: 20, noNaN: true }),
        fc.oneof(fc.constant(Infinity), fc.double({ min: 60, max: 400, noNaN: true })),
        (plateLoadOhm, loadOhm, loadedQ, coilQ) => {
          const design = piReactances({ plateLoadOhm, loadOhm, loadedQ, coilQ });
          fc.pre(design.ok);
          const x = designed(design);
          const [re, im] = inputOhm(x, [loadOhm, 0]);
          expectWithin(re, plateLoadOhm, 1e-9 * plateLoadOhm, "rounding");
          expectWithin(im, 0, 1e-9 * plateLoadOhm, "rounding");
          if (coilQ < Infinity)
            expectWithin(x.coilOhm / x.coilSeriesOhm, coilQ, 1e-9 * coilQ, "rounding");
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });

  it.each([
    // networks of the full-waveform circuit simulations, found there by an independent design program: 1900 ohm to 50 ohm, choke 90 uH
    ["3.6 MHz", 3.6e6, 12, 300, 3.00935844e-10, 7.9089453e-6, 0.596320427, 1.53088718e-9],
    ["14.2 MHz", 14.2e6, 12, 250, 7.2183759e-11, 2.00431044e-6, 0.715308182, 3.90590012e-10],
    ["29.7 MHz", 29.7e6, 16, 180, 4.54454043e-11, 7.24811727e-7, 0.751430855, 2.73838971e-10],
  ] as const)(
    "reproduces the simulated circuit at %s",
    (_band, freqHz, loadedQ, coilQ, c1, l, r, c2) => {
      const c = designed(
        designPi({ freqHz, plateLoadOhm: 1900, loadOhm: 50, loadedQ, coilQ, chokeH: 90e-6 }),
      );
      const why = "nine digits printed";
      expectWithin(c.tuningF, c1, 2e-8 * c1, why);
      expectWithin(c.coilH, l, 2e-8 * l, why);
      expectWithin(c.coilSeriesOhm, r, 2e-8 * r, why);
      expectWithin(c.loadingF, c2, 2e-8 * c2, why);
    },
  );

  it("says what is wrong when no network exists", () => {
    expect(piReactances({ ...LOSSLESS, loadedQ: 5 })).toMatchObject({
      ok: false,
      problem: expect.stringContaining("loaded Q is too low"),
    });
    expect(piReactances({ ...LOSSLESS, coilQ: 10 })).toMatchObject({
      ok: false,
      problem: expect.stringContaining("coil Q is too low"),
    });
    expect(designPi({ ...LOSSLESS, loadOhm: Number.NaN, freqHz: 1e7, chokeH: 1 })).toMatchObject({
      ok: false,
    });
  });
});

describe("pi-L network", () => {
  it.each([
    [2000, 166.67, 228.35, 44.174, 111.8],
    [3000, 250, 324.29, 50.759, 111.8],
    [4000, 333.33, 417.72, 55.777, 111.8],
  ])("has the worked reactances at %d ohm", (plateLoadOhm, xc1, xl1, xc2, xl2) => {
    // q = sqrt(Rm/R2 - 1), XL2 = R2 q, Rm/q beside the pi's XC2; handbook formulas from memory, computed with another program
    const x = designed(piLReactances({ ...LOSSLESS, plateLoadOhm, intermediateOhm: 300 }));
    expectWithin(x.tuningOhm, xc1, 1e-2, "printed to 1e-2");
    expectWithin(x.coilOhm, xl1, 1e-2, "printed to 1e-2");
    expectWithin(x.loadingOhm, xc2, 1e-2, "allowed to 1e-2");
    expectWithin(x.outputCoilOhm, xl2, 1e-2, "printed to 1e-2");
  });

  it("has the worked components at 3.6 MHz", () => {
    const c = designed(
      designPiL({ ...LOSSLESS, intermediateOhm: 300, freqHz: 3.6e6, chokeH: Infinity }),
    );
    expectWithin(c.tuningF, 176.8e-12, 0.1e-12, "one unit in the last printed digit");
    expectWithin(c.coilH, 14.337e-6, 0.001e-6, "one unit in the last printed digit");
    expectWithin(c.loadingF, 871e-12, 0.1e-12, "one unit in the last printed digit");
    expectWithin(c.outputCoilH, 4.943e-6, 0.001e-6, "one unit in the last printed digit");
  });

  it("shows the plate its load resistance with lossy coils too", () => {
    const x = designed(
      piLReactances({
        plateLoadOhm: 1900,
        loadOhm: 50,
        loadedQ: 12,
        coilQ: 200,
        intermediateOhm: 300,
      }),
    );
    const [re, im] = inputOhm(x, [50 + x.outputCoilSeriesOhm, x.outputCoilOhm]);
    expectWithin(re, 1900, 1e-8, "rounding");
    expectWithin(im, 0, 1e-8, "rounding");
  });

  it("says so when the intermediate resistance is no step up", () => {
    expect(piLReactances({ ...LOSSLESS, intermediateOhm: 40 })).toMatchObject({
      ok: false,
      problem: expect.stringContaining("intermediate"),
    });
    expect(
      designPiL({ ...LOSSLESS, loadedQ: 1, intermediateOhm: 300, freqHz: 1e7, chokeH: 1 }),
    ).toMatchObject({ ok: false });
  });
});
