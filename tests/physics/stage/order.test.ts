/**
 * Order of the transient solver. RODAS3 is of third order, also with algebraic rows and with a drive that moves in
 * time; a wrong coefficient costs at least one order. Steps of one size are driven through the public solver with the
 * tube's perveance zero and compared with closed forms, or with themselves at a quarter of the step.
 */
import { describe, expect, it } from "vitest";
import { emptyCircuit, type StageCircuit } from "../../../src/physics/stage/circuit";
import { strikeArc } from "../../../src/physics/stage/coldStart";
import {
  AT_PLATE,
  AT_TAP,
  EB,
  EK,
  ILR,
  LNG,
  STATE_LENGTH,
  V1,
  VC,
  VK,
} from "../../../src/physics/stage/layout";
import { StageSolver } from "../../../src/physics/stage/stageSolver";
import { expectWithin } from "../../support/expectWithin";
import { circuitOf, settleFromNothing, steadyCase } from "../../support/waveformCases";

/** `count` equal steps over `spanS` from a copy of `y`; a drive that moves is moved along. */
function march(c: StageCircuit, y: Float64Array, spanS: number, count: number): Float64Array {
  const solver = new StageSolver();
  const was = c.sourceA;
  const h = spanS / count;
  let at = y.slice();
  let next = new Float64Array(STATE_LENGTH);
  for (let i = 0; i < count; i++) {
    c.sourceA = was + c.sourceAPerS * i * h;
    solver.open(c, at);
    solver.step(c, at, h, next);
    [at, next] = [next, at];
  }
  c.sourceA = was;
  return at;
}

/** log2 of the ratio of errors at one step and at half of it. */
function orderOf(errorAt: (count: number) => number, count: number): number {
  return Math.log2(errorAt(count) / errorAt(2 * count));
}

/** Nothing in it carries current unless a test says so. */
function quietCircuit(): StageCircuit {
  const c = emptyCircuit();
  c.omega = 2 * Math.PI * 7e6;
  c.cathodeF = 1e-9;
  c.cathodeH = 1e3;
  c.plateF = 100e-12;
  c.chokeH = 1e3;
  c.coilH = 1e3;
  c.loadingF = 1e-9;
  c.loadSiemens = 0.02;
  return c;
}

const ORDER_MARGIN = 0.25;
const ORDER_REASON =
  "third order shows its next term at these steps; a lower order is a whole unit away";

describe("transient solver against closed forms", () => {
  it("lets a capacitor discharge through a resistor with third order", () => {
    // E(t) = E0 exp(-t G/C), two time constants
    const c = quietCircuit();
    c.biasSiemens = 0;
    c.cutoffSiemens = 1e-4;
    c.returnF = 1e-8;
    const tau = 1e-4;
    const y = new Float64Array(STATE_LENGTH);
    y[EK] = 40;
    const exact = 40 * Math.exp(-2);
    const error = (n: number): number => Math.abs((march(c, y, 2 * tau, n)[EK] as number) - exact);
    expectWithin(orderOf(error, 8), 3, ORDER_MARGIN, ORDER_REASON);
    expectWithin(error(64), 0, 40 * 2e-6, "third-order error of 64 steps, 1/8 of that of 32");
  });

  it("rings a detuned tank down at the frequency and decay of its components with third order", () => {
    // C V' = -I - g V, L I' = V: s = -a + j wd, a = g/(2C), wd = sqrt(1/(LC) - a^2); envelope exp((s - jw) t)
    const c = quietCircuit();
    const w0 = 1.15 * c.omega;
    c.chokeH = 1 / (w0 * w0 * c.plateF);
    c.plateLossSiemens = 2e-4;
    const a = c.plateLossSiemens / (2 * c.plateF);
    const wd = Math.sqrt(w0 * w0 - a * a);
    const y = new Float64Array(STATE_LENGTH);
    y[V1] = 1000;
    // I = V/(L s)
    const scale = 1000 / (c.chokeH * (a * a + wd * wd));
    y[ILR] = -a * scale;
    y[ILR + 1] = -wd * scale;
    const span = 1.5e-7; // one radian of beat between tank and carrier
    const decay = 1000 * Math.exp(-a * span);
    const beat = (wd - c.omega) * span;
    const error = (n: number): number => {
      const end = march(c, y, span, n);
      return Math.hypot(
        (end[V1] as number) - decay * Math.cos(beat),
        (end[V1 + 1] as number) - decay * Math.sin(beat),
      );
    };
    expectWithin(orderOf(error, 16), 3, ORDER_MARGIN, ORDER_REASON);
    expectWithin(error(128), 0, 0.01, "third-order error of 128 steps for a start of 1000 V");
  });

  it("follows a drive that rises in a straight line with third order", () => {
    // C V' = S0 + S1 t - g V - jwC V from rest: V = A + B t - A exp(-p t), p = g/C + jw, B = S1/(C p), A = (S0/C - B)/p
    const c = quietCircuit();
    c.turnsRatio = 1.1;
    c.driveOhm = 47;
    c.omega = 2 * Math.PI * 2e6;
    c.sourceA = 0.8;
    c.sourceAPerS = 9e6;
    const g = 1 / (1.1 * 1.1 * 47);
    const span = 8e-8;
    const pr = g / c.cathodeF;
    const pi = c.omega;
    const p2 = pr * pr + pi * pi;
    const br = ((c.sourceAPerS / c.cathodeF) * pr) / p2;
    const bi = (-(c.sourceAPerS / c.cathodeF) * pi) / p2;
    const nr = c.sourceA / c.cathodeF - br;
    const ar = (nr * pr - bi * pi) / p2;
    const ai = (-bi * pr - nr * pi) / p2;
    const e = Math.exp(-pr * span);
    const er = e * Math.cos(pi * span);
    const ei = -e * Math.sin(pi * span);
    const vr = ar + br * span - (ar * er - ai * ei);
    const vi = ai + bi * span - (ar * ei + ai * er);
    const y = new Float64Array(STATE_LENGTH);
    const error = (n: number): number => {
      const end = march(c, y, span, n);
      return Math.hypot((end[VK] as number) - vr, (end[VK + 1] as number) - vi);
    };
    expectWithin(orderOf(error, 8), 3, ORDER_MARGIN, ORDER_REASON);
    expectWithin(error(64), 0, 1e-4 * Math.hypot(vr, vi), "third-order error of 64 steps");
  });

  it("brings a filter capacitor down through bleeder and surge resistor with two time constants", () => {
    // Cf Vc' = -(Vc - Eb)/Rs - Vc/Rb, Cb Eb' = (Vc - Eb)/Rs; slow root of the characteristic equation
    const c = quietCircuit();
    c.stiffSupply = false;
    c.noLoadV = 0;
    c.filterF = 40e-6;
    c.bleederSiemens = 1e-3;
    c.surgeSiemens = 0.1;
    c.bypassF = 5e-6;
    const p = 0.1 / 40e-6;
    const q = 0.1 / 5e-6;
    const b = 1e-3 / 40e-6;
    const sum = p + b + q;
    const slow = -(sum - Math.sqrt(sum * sum - 4 * b * q)) / 2;
    const y = new Float64Array(STATE_LENGTH);
    y[VC] = 3000;
    y[EB] = (3000 * q) / (q + slow); // on the slow mode alone
    const span = 2e-2;
    const error = (n: number): number =>
      Math.abs((march(c, y, span, n)[VC] as number) - 3000 * Math.exp(slow * span));
    expectWithin(orderOf(error, 8), 3, ORDER_MARGIN, ORDER_REASON);
  });
});

describe("transient solver against itself", () => {
  /** Order from three step sizes: differences of neighbours shrink by 2^order. */
  function selfOrder(c: StageCircuit, y: Float64Array, spanS: number, count: number): number {
    const ends = [1, 2, 4].map((k) => march(c, y, spanS, count * k));
    const miss = (a: Float64Array, b: Float64Array): number => {
      let square = 0;
      for (let i = 0; i < STATE_LENGTH; i++) {
        const d = ((a[i] as number) - (b[i] as number)) / (i < LNG ? 100 : 1);
        square += d * d;
      }
      return Math.sqrt(square);
    };
    const [one, two, four] = ends as [Float64Array, Float64Array, Float64Array];
    return Math.log2(miss(one, two) / miss(two, four));
  }

  it.each([
    ["at the tuning capacitor, all rows differential", AT_PLATE],
    ["at a coil tap, its node voltage algebraic", AT_TAP],
  ])("keeps third order while an arc grows %s", (_, place) => {
    const stage = settleFromNothing(circuitOf(steadyCase("normal_14.2").input), -1);
    const { circuit: c, y } = stage;
    c.tube.perveance = 0; // its soft edges have no second derivative
    c.maintainingV[place] = 250;
    c.arcTimeConstantS.fill(1e-6);
    c.tapFraction = 0.3;
    strikeArc(c, y, place);
    y[LNG + place] = -6;
    expectWithin(selfOrder(c, y, 1e-7, 40), 3, ORDER_MARGIN, ORDER_REASON);
  });

  it("loses less than one order with the tube at work, whose soft edges are C1", () => {
    const stage = settleFromNothing(circuitOf(steadyCase("normal_14.2").input), -1);
    stage.circuit.loadSiemens = 0.01;
    const order = selfOrder(stage.circuit, stage.y, 3e-8, 20);
    expect(order).toBeGreaterThan(2);
  });
});
