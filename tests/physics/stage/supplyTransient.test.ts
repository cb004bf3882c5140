/** Short, arc and crowbar in the stage's own equations, against closed forms, and the stage's energy balance. */
import * as fc from "fast-check";
import { describe, it } from "vitest";
import {
  emptyCircuit,
  type StageCircuit,
  sourceCurrentA,
} from "../../../src/physics/stage/circuit";
import {
  ARC_COUNT,
  EB,
  EK,
  ILA,
  ILB,
  ILC,
  LNG,
  STATE_LENGTH,
  STRIDE,
  V1,
  V2,
  V3,
  VC,
  VK,
  VT,
} from "../../../src/physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../../src/physics/stage/readings";
import { StageSolver } from "../../../src/physics/stage/stageSolver";
import { StageSystem } from "../../../src/physics/stage/stageSystem";
import { HARMONICS } from "../../../src/physics/tube/triode";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";
import { between } from "../../support/waveformStations";

/** A filter of `farad` behind `ohm`, no tube current and no radio frequency; the mains only where `sourceOhm` is finite. */
function supply(farad: number, ohm: number, sourceOhm: number, noLoadV: number): StageCircuit {
  const c = emptyCircuit();
  c.omega = 2 * Math.PI * 14.2e6;
  c.stiffSupply = false;
  c.noLoadV = noLoadV;
  c.sourceSiemens = 1 / sourceOhm;
  c.filterF = farad;
  c.surgeSiemens = 1 / ohm;
  c.bypassF = 1e-9;
  c.biasSiemens = 1;
  return c;
}

interface Sums {
  readonly peakA: number;
  readonly a2s: number;
  readonly surgeJ: number;
  readonly faultJ: number;
  readonly arcJ: number;
  readonly mainsJ: number;
  readonly filterJ: number;
  readonly bleederJ: number;
  readonly crowbarJ: number;
  readonly leftV: number;
}

/** Steps of `hS` over `spanS` from a filter at `startV`, the plate node where the fault puts it; trapezoidal sums. */
function discharge(c: StageCircuit, startV: number, spanS: number, hS: number): Sums {
  const solver = new StageSolver();
  const y = new Float64Array(STATE_LENGTH);
  const next = new Float64Array(STATE_LENGTH);
  const row = new Float64Array(READING_COUNT);
  const faultSiemens = c.shortSiemens + c.dcArcSiemens;
  y[VC] = startV;
  y[EB] = (startV * c.surgeSiemens + c.dcArcV * c.dcArcSiemens) / (c.surgeSiemens + faultSiemens);
  const keys = ["a2s", "surgeJ", "faultJ", "arcJ", "mainsJ", "filterJ", "bleederJ", "crowbarJ"];
  const was = new Float64Array(keys.length);
  const is = new Float64Array(keys.length);
  const sums = new Float64Array(keys.length);
  let peakA = 0;
  const look = (into: Float64Array): void => {
    solver.open(c, y);
    readStage(c, solver.system, y, 0, row);
    const vc = y[VC] as number;
    const faultA = row[READING.supplyFaultA] as number;
    const mainsA = Math.max(0, (c.noLoadV - vc) * c.sourceSiemens);
    peakA = Math.max(peakA, faultA);
    into[0] = faultA * faultA;
    into[1] = row[READING.surgeW] as number;
    into[2] = row[READING.supplyFaultW] as number;
    into[3] = row[READING.dcArcW] as number;
    into[4] = c.noLoadV * mainsA;
    into[5] = mainsA * (c.noLoadV - vc);
    into[6] = vc * vc * c.bleederSiemens;
    into[7] = vc * vc * c.crowbarSiemens;
  };
  look(was);
  for (let n = 0; n < Math.round(spanS / hS); n++) {
    solver.step(c, y, hS, next);
    y.set(next);
    look(is);
    for (let k = 0; k < keys.length; k++)
      sums[k] = (sums[k] as number) + 0.5 * hS * ((was[k] as number) + (is[k] as number));
    was.set(is);
  }
  const at = (k: number): number => sums[k] as number;
  return {
    peakA,
    a2s: at(0),
    surgeJ: at(1),
    faultJ: at(2),
    arcJ: at(3),
    mainsJ: at(4),
    filterJ: at(5),
    bleederJ: at(6),
    crowbarJ: at(7),
    leftV: y[VC] as number,
  };
}

const CUT_OFF = 1e15; // ohms: the mains are away

describe("discharge of a charged filter into a fault", () => {
  it.each([
    // E = C V^2/2, Ipk = V/R, I2t = E/R; circuit theory
    [25e-6, 3000, 10, 112.5, 300, 11.25],
    [25e-6, 3000, 47, 112.5, 63.83, 2.394],
    [50e-6, 3500, 10, 306.25, 350, 30.625],
    [10e-6, 4000, 50, 80, 80, 1.6],
  ])("of %d F at %d V through %d ohm", (farad, volts, ohm, joule, ampere, a2s) => {
    const c = supply(farad, ohm - 0.1, CUT_OFF, volts);
    c.shortSiemens = 10;
    const tau = ohm * farad;
    const sums = discharge(c, volts, 12 * tau, tau / 100);
    expectWithin(sums.peakA, ampere, 0.01, "printed to four digits");
    expectWithin(sums.surgeJ + sums.faultJ, joule, 1e-4 * joule, "trapezoid of 100 steps a tau");
    expectWithin(sums.a2s, a2s, 1e-3 * a2s, "printed to four digits");
    expectWithin(sums.faultJ, (0.1 / ohm) * joule, 1e-3 * joule, "resistances share the energy");
  });

  it.each([
    // C Va (V - Va) with Va = 50 V: 3.6875 J of 25 uF at 3 kV, 8.625 J of 50 uF at 3.5 kV, whatever R is
    [25e-6, 3000, 10, 3.6875],
    [25e-6, 3000, 25, 3.6875],
    [25e-6, 3000, 47, 3.6875],
    [50e-6, 3500, 10, 8.625],
    [10e-6, 4000, 50, 1.975],
  ])(
    "gives an arc of 50 V its share of %d F at %d V through %d ohm",
    (farad, volts, ohm, joule) => {
      const c = supply(farad, ohm - 0.1, CUT_OFF, volts);
      c.dcArcV = 50;
      c.dcArcSiemens = 10;
      const tau = ohm * farad;
      const sums = discharge(c, volts, 15 * tau, tau / 100);
      expectWithin(sums.arcJ, joule, 1e-4 * joule, "trapezoid of 100 steps a tau, over 15 tau");
      expectWithin(sums.peakA, (volts - 50) / ohm, 1e-6 * volts, "(V - Va)/R at the first instant");
    },
  );

  it("is taken over by a crowbar across the filter", () => {
    // 0.5 ohm beside 10.1 ohm: shares of the energy as the conductances, 10.1/10.6
    const c = supply(40e-6, 10, CUT_OFF, 3000);
    c.shortSiemens = 10;
    c.crowbarSiemens = 2;
    const sums = discharge(c, 3000, 300e-6, 0.2e-6);
    expectWithin(sums.crowbarJ, (180 * 10.1) / 10.6, 0.02, "trapezoid of 95 steps a tau");
  });

  it("goes on from the mains until something takes them away", () => {
    // 3180 V behind 150 + 10 + 5 ohm: 19.27 A
    const c = supply(40e-6, 10, 150, 3180);
    c.shortSiemens = 0.2;
    const sums = discharge(c, 3180, 10e-3, 4e-6);
    expectWithin(sums.leftV, (3180 * 15) / 165, 0.1, "divider of the resistances, after 18 tau");
  });

  it("keeps its energy: mains = heat + what is stored", () => {
    const c = supply(40e-6, 10, 150, 3180);
    c.bleederSiemens = 1e-5;
    c.dcArcV = 50;
    c.dcArcSiemens = 10;
    c.crowbarSiemens = 0.02;
    const sums = discharge(c, 2900, 1e-3, 0.25e-6);
    const heat = sums.surgeJ + sums.faultJ + sums.filterJ + sums.bleederJ + sums.crowbarJ;
    const storedJ = 0.5 * 40e-6 * (sums.leftV * sums.leftV - 2900 * 2900);
    // the bypass too: it goes from 50 V + 28.2 A x 0.1 ohm downwards, microjoules
    expectWithin(
      (heat + storedJ) / sums.mainsJ,
      1,
      1e-6,
      "trapezoid of 1600 steps a tau: 3e-8, and microjoules in the bypass",
    );
  });
});

describe("energy of the whole stage at any instant", () => {
  it("is what comes in, less what goes out and what becomes heat", () => {
    const state = fc.array(between(-1, 1), { minLength: STATE_LENGTH, maxLength: STATE_LENGTH });
    fc.assert(
      fc.property(state, fc.nat((1 << ARC_COUNT) - 1), fc.boolean(), (s, burning, piL) => {
        const c = supply(40e-6, 10, 150, 3180);
        c.tube = { perveance: 0.0042, mu: 200, divisionRatio: 3, offsetV: 0 };
        c.sourceA = sourceCurrentA(60, 50, 1.08);
        c.turnsRatio = 1.08;
        // pi for 1900 ohm, Q 12 on 14.2 MHz: reactive powers of the size of the real ones, or rounding would hide them
        c.cathodeF = 483e-12;
        c.cathodeH = 260e-9;
        c.plateF = 72e-12;
        c.chokeH = 225e-6;
        c.coilH = 2e-6;
        c.loadingF = 391e-12;
        c.cathodeLossSiemens = 1 / 1500;
        c.plateLossSiemens = 2e-6;
        c.coilOhm = 0.7;
        c.outputCoilH = piL ? 1e-6 : 0;
        c.outputCoilOhm = piL ? 0.5 : 0;
        c.loadSiemens = 0.02;
        c.loadSusceptanceSiemens = 0.004;
        c.bleederSiemens = 1e-5;
        c.crowbarSiemens = 0.01;
        c.shortSiemens = 1e-3;
        c.dcArcV = 200;
        c.dcArcSiemens = 2e-3;
        c.biasV = 9;
        c.cutoffSiemens = 1e-4;
        for (let a = 0; a < ARC_COUNT; a++) c.burning[a] = (burning >> a) & 1;
        const y = new Float64Array(STATE_LENGTH);
        for (let i = 0; i < VC; i++) y[i] = 100 * (s[i] as number);
        y[V1] = -1500 + 800 * (s[V1] as number);
        y[VC] = 2900 + 200 * (s[VC] as number);
        y[EB] = 2700 + 300 * (s[EB] as number);
        y[EK] = 9 + 5 * (s[EK] as number);
        for (let a = 0; a < ARC_COUNT; a++) y[LNG + a] = -5 + 2 * (s[LNG + a] as number);
        const split = c.burning[1] === 1;
        for (let o = 0; o < HARMONICS * STRIDE; o += STRIDE) {
          for (let p = 0; p < 2; p++) {
            if (!split) {
              y[o + VT + p] = 0;
              y[o + ILB + p] = y[o + ILA + p] as number;
            } else {
              // the tap is a node without storage: its row holds, so its currents balance
              y[o + ILB + p] =
                (y[o + ILA + p] as number) -
                Math.exp(y[LNG + 1] as number) * (y[o + VT + p] as number);
            }
            if (!piL) y[o + ILC + p] = y[o + V3 + p] = 0;
          }
        }
        const system = new StageSystem();
        const f = new Float64Array(STATE_LENGTH);
        const row = new Float64Array(READING_COUNT);
        system.evaluateTube(c, y);
        system.derivative(c, y, c.sourceA, f);
        readStage(c, system, y, c.sourceA, row);
        const half = (g: number, at: number): number =>
          0.5 * g * ((y[at] as number) ** 2 + (y[at + 1] as number) ** 2);
        let stored = 0;
        for (let i = 0; i < HARMONICS * STRIDE; i++) {
          const place = i % STRIDE;
          if (!split && place >= VT && place < ILB + 2) continue;
          stored += 0.5 * (y[i] as number) * (f[i] as number);
        }
        for (const i of [VC, EB, EK]) stored += (y[i] as number) * (f[i] as number);
        const vc = y[VC] as number;
        const eb = y[EB] as number;
        const ek = y[EK] as number;
        const comesIn = 0.5 * c.sourceA * (y[VK] as number) + vc * ((3180 - vc) / 150);
        let out = (vc - eb) ** 2 / 10 + vc * vc * (1e-5 + 0.01) + eb * eb * 1e-3;
        out += eb * (eb - 200) * 2e-3 + (ek - 9) * ek + ek * ek * 1e-4;
        out +=
          (row[READING.plateDissipationW] as number) + (row[READING.gridDissipationW] as number);
        out += row[READING.arcW] as number;
        for (let o = 0; o < HARMONICS * STRIDE; o += STRIDE) {
          out += half(1 / (1.08 * 1.08 * 50) + 1 / 1500, o + VK) + half(2e-6, o + V1);
          out += half(0.02, o + (piL ? V3 : V2)) + half(c.outputCoilOhm, o + ILC);
          out += half(0.7 * (split ? 0.5 : 1), o + ILA) + (split ? half(0.35, o + ILB) : 0);
        }
        expectWithin(
          (comesIn - out - stored) / Math.max(Math.abs(comesIn), Math.abs(out)),
          0,
          1e-9,
          "an identity of the equations, to rounding; the tube's powers are means over the same 32 points",
        );
      }),
      fixedRuns(60),
    );
  });
});
