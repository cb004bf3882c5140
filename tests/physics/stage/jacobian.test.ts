/**
 * The matrix that both solvers share, sigma M - J, is never written out: it is reduced by hand to the tube's ports.
 * Here J is taken by central differences of the right-hand side, which is written node by node, and the reduced solve
 * has to give back the vector that the full matrix was applied to. Random states, every subset of arcs burning.
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  emptyCircuit,
  hasOutputCoil,
  isTapNode,
  type StageCircuit,
  sourceCurrentA,
} from "../../../src/physics/stage/circuit";
import {
  ARC_COUNT,
  AT_BEYOND,
  AT_LOADING,
  AT_TAP,
  EB,
  EK,
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
import { storage } from "../../../src/physics/stage/stageEquations";
import { StageSystem } from "../../../src/physics/stage/stageSystem";
import { HARMONICS } from "../../../src/physics/tube/triode";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";
import { between } from "../../support/waveformStations";

const unit = between(-1, 1);
const share = between(0, 1);
const state = fc.array(unit, { minLength: STATE_LENGTH, maxLength: STATE_LENGTH });

/** A stage on 14 MHz whose every value is its own, scaled by `s` in 0..1 where the physics allows a range. */
function circuit(s: readonly number[], stiff: boolean, burning: number, bridged = 0): StageCircuit {
  const c = emptyCircuit();
  const between = (i: number, a: number, b: number): number => a + (b - a) * (s[i] as number);
  c.omega = 2 * Math.PI * between(0, 1.8e6, 29e6);
  const scale = (2 * Math.PI * 14.2e6) / c.omega;
  c.tube = {
    perveance: between(1, 0.002, 0.006),
    mu: between(2, 100, 220),
    divisionRatio: between(3, 1, 3.5),
    offsetV: between(4, -1, 1),
  };
  c.driveOhm = 51;
  c.turnsRatio = 1.08;
  c.cathodeLossSiemens = 1 / 1400;
  c.cathodeF = 483e-12 * scale;
  c.cathodeH = 260e-9 * scale;
  c.plateF = 72e-12 * scale;
  c.plateLossSiemens = 1.3e-6;
  c.chokeH = 91e-6 * scale;
  c.coilH = 2.0e-6 * scale;
  c.coilOhm = 0.72;
  c.tapFraction = between(5, 0.1, 0.9);
  c.loadingF = 391e-12 * scale;
  if ((s[8] as number) > 0.5) {
    c.outputCoilH = 1.25e-6 * scale;
    c.outputCoilOhm = 0.63;
  }
  c.loadSiemens = between(6, 1e-4, 0.1);
  c.loadSusceptanceSiemens = between(7, -0.03, 0.03);
  c.stiffSupply = stiff;
  c.noLoadV = stiff ? 3000 : 3180;
  c.sourceSiemens = stiff ? 0 : 1 / 150;
  c.filterF = 40e-6;
  c.bleederSiemens = 1e-5;
  c.surgeSiemens = stiff ? 1000 : 0.1;
  c.shortSiemens = stiff ? 0 : 1 / 5300;
  c.crowbarSiemens = stiff ? 0 : 1 / 900;
  c.dcArcV = 50;
  c.dcArcSiemens = stiff ? 0 : 1 / 7100;
  c.biasV = 9;
  c.biasSiemens = 700;
  c.cutoffSiemens = 1e-4;
  c.returnF = 11e-9;
  c.touchSiemens = stiff ? 0 : 1 / 90;
  c.stray.plateSiemens = stiff ? 0 : 1 / 4700;
  c.sourceA = sourceCurrentA(60, c.driveOhm, c.turnsRatio);
  for (let a = 0; a < ARC_COUNT; a++) {
    c.burning[a] = (burning >> a) & 1;
    c.bridgedSiemens[a] = 100 * ((bridged >> a) & 1);
    c.maintainingV[a] = 150 + 37 * a;
    c.arcTimeConstantS[a] = (1 + 0.7 * a) * 1e-6;
  }
  return c;
}

/** A state such as the stage goes through; no arc without voltage, where its row vanishes. */
function swing(c: StageCircuit, s: readonly number[]): Float64Array {
  const y = new Float64Array(STATE_LENGTH);
  const at = (i: number): number => s[i] as number;
  for (let i = 0; i < VC; i++) y[i] = 3 * at(i);
  y[VK] = -80 + 30 * at(VK);
  y[VK + 1] = 30 * at(VK + 1);
  y[V1] = -1800 + 1500 * at(V1);
  y[V1 + 1] = 900 * at(V1 + 1);
  y[V2] = 260 + 190 * at(V2);
  y[V2 + 1] = 400 * at(V2 + 1);
  y[VT] = -240 + 140 * at(VT);
  y[VT + 1] = 300 * at(VT + 1);
  for (let i = STRIDE; i < VC; i++) y[i] = (y[i] as number) * 10;
  y[VC] = 2900 + 100 * at(VC);
  y[EB] = 2800 + 300 * at(EB);
  y[EK] = 9 + 8 * at(EK);
  for (let a = 0; a < ARC_COUNT; a++) y[LNG + a] = -5 + 3.5 * at(LNG + a);
  if (hasOutputCoil(c)) {
    y[V3] = 180 + 130 * at(V3);
    y[V3 + 1] = 250 * at(V3 + 1);
  }
  idle(c, y);
  return y;
}

/** Zeroes what is not in play: an unlit tap and arcs, the output coil of a pi, the filter of a stiff supply. */
function idle(c: StageCircuit, k: Float64Array): void {
  for (let h = 0; h < HARMONICS; h++) {
    for (let p = 0; p < 2; p++) {
      if (!isTapNode(c)) {
        k[h * STRIDE + VT + p] = 0;
        k[h * STRIDE + ILB + p] = 0;
      }
      if (!hasOutputCoil(c)) {
        k[h * STRIDE + ILC + p] = 0;
        k[h * STRIDE + V3 + p] = 0;
      }
    }
  }
}

/** How far the solve is from recovering `k` out of (sigma M - J) k. */
function recovery(
  c: StageCircuit,
  y: Float64Array,
  k: Float64Array,
  sigma: number,
  sigmaSlow: number,
): number {
  const system = new StageSystem();
  const m = new Float64Array(STATE_LENGTH);
  const up = new Float64Array(STATE_LENGTH);
  const down = new Float64Array(STATE_LENGTH);
  const moved = new Float64Array(STATE_LENGTH);
  const step = 1e-4;
  storage(c, m);
  for (const [sign, f] of [
    [1, up],
    [-1, down],
  ] as const) {
    for (let i = 0; i < STATE_LENGTH; i++) {
      moved[i] = (y[i] as number) + sign * step * (k[i] as number);
    }
    system.evaluateTube(c, moved);
    system.derivative(c, moved, c.sourceA, f);
  }
  const r = new Float64Array(STATE_LENGTH);
  for (let i = 0; i < STATE_LENGTH; i++) {
    const slow = i === VC || i === EB || i === EK;
    const jk = ((up[i] as number) - (down[i] as number)) / (2 * step);
    r[i] = (slow ? sigmaSlow : sigma) * (m[i] as number) * (k[i] as number) - jk;
  }
  system.evaluateTube(c, y);
  if (!system.factor(c, y, sigma, sigmaSlow)) return Infinity;
  const back = new Float64Array(STATE_LENGTH);
  system.solve(c, y, r, back);
  let worst = 0;
  for (let i = 0; i < STATE_LENGTH; i++) {
    const miss = Math.abs((back[i] as number) - (k[i] as number));
    if (!(miss <= worst)) worst = miss;
  }
  return worst;
}

/** A direction in which the states that stand for nothing in this circuit do not move. */
function along(
  c: Parameters<typeof idle>[0],
  direction: readonly number[],
  stiff: boolean,
): Float64Array {
  const k = Float64Array.from(direction);
  idle(c, k);
  if (stiff) k[VC] = 0;
  for (let a = 0; a < ARC_COUNT; a++) if (c.burning[a] === 0) k[LNG + a] = 0;
  return k;
}

const subsets = Array.from({ length: 1 << ARC_COUNT }, (_, bits) => bits);

describe("matrix shared by the transient and the settled solver", () => {
  it.each(subsets)(
    "is the derivative of the equations with arcs %i (one bit a place) burning",
    (bits) => {
      fc.assert(
        fc.property(
          fc.array(share, { minLength: 9, maxLength: 9 }),
          state,
          state,
          fc.boolean(),
          fc.constantFrom(2e5, 2e7, 2e9),
          (s, at, direction, stiff, sigma) => {
            const c = circuit(s, stiff, bits);
            const y = swing(c, at);
            const k = along(c, direction, stiff);
            expectWithin(
              recovery(c, y, k, sigma, sigma),
              0,
              2e-6,
              "differences over 1e-4 V across the law's soft edges, which have no second derivative",
            );
          },
        ),
        fixedRuns(30),
      );
    },
  );

  it.each(subsets.filter((bits) => !((bits >> AT_LOADING) & (bits >> AT_BEYOND) & 1)))(
    "is Newton's matrix too when RF and arcs are held algebraic, arcs %i burning",
    (bits) => {
      fc.assert(
        fc.property(
          fc.array(share, { minLength: 9, maxLength: 9 }),
          state,
          state,
          fc.boolean(),
          (s, at, direction, stiff) => {
            const c = circuit(s, stiff, bits);
            const y = swing(c, at);
            const k = along(c, direction, stiff);
            expectWithin(
              recovery(c, y, k, 0, 2e4),
              0,
              2e-6,
              "differences over 1e-4 V across the law's soft edges, which have no second derivative",
            );
          },
        ),
        fixedRuns(20),
      );
    },
  );

  it("is it too with metal across any of the gaps", () => {
    const bits = fc.integer({ min: 0, max: (1 << ARC_COUNT) - 1 });
    fc.assert(
      fc.property(
        fc.array(share, { minLength: 9, maxLength: 9 }),
        state,
        state,
        fc.boolean(),
        bits,
        bits,
        (s, at, direction, stiff, burning, bridged) => {
          const c = circuit(s, stiff, burning & ~bridged, bridged);
          const y = swing(c, at);
          const k = along(c, direction, stiff);
          expectWithin(
            recovery(c, y, k, 2e7, 2e7),
            0,
            2e-6,
            "differences over 1e-4 V across the law's soft edges, which have no second derivative",
          );
        },
      ),
      fixedRuns(60),
    );
  });

  it("has no unique settled state for two arcs across the same terminals", () => {
    // both ask for their own voltage of one node: the matrix is singular, to rounding
    const c = circuit(Array(9).fill(0.5), true, (1 << AT_LOADING) | (1 << AT_BEYOND));
    const y = swing(c, Array(STATE_LENGTH).fill(0.4));
    const k = new Float64Array(STATE_LENGTH).fill(0.5);
    idle(c, k);
    k[VC] = k[LNG] = k[LNG + AT_TAP] = 0;
    expect(recovery(c, y, k, 0, 2e4)).toBeGreaterThan(1e-3);
  });
});
