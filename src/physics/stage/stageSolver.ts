/**
 * Steps the stage in time and finds its settled state, both with the matrices of StageSystem.
 *
 * Transient: RODAS3, an implicit, L-stable Rosenbrock method of order 3(2) with gamma = 1/2, four stages
 * and one factorisation (Sandu et al., Atmos. Environ. 31 (1997) 3459; coefficients from memory, checked
 * by their order conditions in the tests). Settled: Newton on the same equations with RF and arcs held
 * algebraic, filter voltage by the trapezoidal rule, Eb and Ek by the backward rule over one sample.
 *
 * The solver keeps scratch space only. All that decides the next step is in the state array and the
 * circuit that are passed in.
 */
import { cbrt } from "../../math/elementary";
import { HARMONICS } from "../tube/triode";
import { isTapNode, type StageCircuit } from "./circuit";
import { ARC_COUNT, EB, EK, LNG, STATE_LENGTH, STRIDE, VC } from "./layout";
import { rectifierA, storage } from "./stageEquations";
import { StageSystem } from "./stageSystem";

/** Relative error allowed a step. */
const TOLERANCE = 1e-3;
/** Below these sizes errors are judged absolutely: volts, amperes, and ln g. */
const FLOOR_V = 10;
const FLOOR_A = 0.3;
const FLOOR_DC_V = 100;
const FLOOR_LNG = 10;
/** Newton stops when an update is this small against the same floors. */
const NEWTON_SMALL = 1e-7;
const NEWTON_MOST = 30;
const FILTER_TURNS = 2;

export class StageSolver {
  readonly system = new StageSystem();
  /** Errors of the last step against their tolerances: fields, currents and supply; ln g of the arcs. */
  private circuitError = Infinity;
  private arcError = Infinity;
  private readonly f = new Float64Array(STATE_LENGTH);
  private readonly f3 = new Float64Array(STATE_LENGTH);
  private readonly m = new Float64Array(STATE_LENGTH);
  private readonly r = new Float64Array(STATE_LENGTH);
  private readonly k1 = new Float64Array(STATE_LENGTH);
  private readonly k2 = new Float64Array(STATE_LENGTH);
  private readonly k3 = new Float64Array(STATE_LENGTH);
  private readonly k4 = new Float64Array(STATE_LENGTH);
  private readonly stage = new Float64Array(STATE_LENGTH);
  private readonly start = new Float64Array(STATE_LENGTH);

  /** Tube averages and slopes at `y`, ready for `step`; readings use the same averages. */
  open(c: StageCircuit, y: Float64Array): void {
    this.system.evaluateTube(c, y);
    this.system.derivative(c, y, c.sourceA, this.f);
  }

  /** Slope dy/dt at the state last opened (a step leaves it alone), for interpolation; rows without storage give 0. */
  slope(c: StageCircuit, into: Float64Array): void {
    storage(c, this.m);
    for (let i = 0; i < STATE_LENGTH; i++) {
      const m = this.m[i] as number;
      into[i] = m > 0 ? (this.f[i] as number) / m : 0;
    }
  }

  /**
   * One RODAS3 step of `hS` seconds from `y` (opened before) into `next`. Returns the error against its
   * tolerance: at most 1 is good; Infinity when the matrix is singular or a value is not finite.
   */
  step(c: StageCircuit, y: Float64Array, hS: number, next: Float64Array): number {
    const { system, f, f3, m, r, k1, k2, k3, k4, stage } = this;
    const inv = 1 / hS;
    storage(c, m);
    this.circuitError = Infinity;
    this.arcError = Infinity;
    if (!system.factor(c, y, 2 * inv, 2 * inv)) return Infinity;
    const rate = c.sourceAPerS;
    const n = STATE_LENGTH;
    // stage 1
    for (let i = 0; i < n; i++) r[i] = f[i] as number;
    r[0] = (r[0] as number) + 0.5 * hS * rate;
    system.solve(c, y, r, k1);
    // stage 2: same f, C21 = 4
    for (let i = 0; i < n; i++)
      r[i] = (f[i] as number) + 4 * inv * (m[i] as number) * (k1[i] as number);
    r[0] = (r[0] as number) + 1.5 * hS * rate;
    system.solve(c, y, r, k2);
    // stage 3: y + 2 K1, C31 = 1, C32 = -1
    for (let i = 0; i < n; i++) stage[i] = (y[i] as number) + 2 * (k1[i] as number);
    if (!this.rates(c, stage, c.sourceA + rate * hS, f3)) return Infinity;
    for (let i = 0; i < n; i++) {
      r[i] = (f3[i] as number) + inv * (m[i] as number) * ((k1[i] as number) - (k2[i] as number));
    }
    this.solveAt(c, y, r, k3);
    // stage 4: y + 2 K1 + K3, C41 = 1, C42 = -1, C43 = -8/3
    for (let i = 0; i < n; i++) stage[i] = (stage[i] as number) + (k3[i] as number);
    if (!this.rates(c, stage, c.sourceA + rate * hS, f3)) return Infinity;
    for (let i = 0; i < n; i++) {
      r[i] =
        (f3[i] as number) +
        inv *
          (m[i] as number) *
          ((k1[i] as number) - (k2[i] as number) - (8 / 3) * (k3[i] as number));
    }
    this.solveAt(c, y, r, k4);
    for (let i = 0; i < n; i++) next[i] = (stage[i] as number) + (k4[i] as number);
    if (!isTapNode(c)) followCoil(next);
    // Filtered error: the carrier's own offset ringing (period of one cycle) is damped, not followed.
    for (let turn = 0; turn < FILTER_TURNS; turn++) {
      for (let i = 0; i < n; i++) r[i] = 2 * inv * (m[i] as number) * (k4[i] as number);
      system.solve(c, y, r, k4);
    }
    this.circuitError = networkError(y, next, k4);
    this.arcError = arcError(c, y, next, k4);
    return Math.max(this.circuitError, this.arcError);
  }

  /**
   * Next step from the errors of the last one. Below a quarter of a carrier cycle an envelope means
   * nothing: there only an arc's conductance may ask for shorter steps.
   */
  nextStepS(hS: number, shortestS: number): number {
    const byCircuit = Math.max(grown(hS, this.circuitError), shortestS);
    return Math.min(byCircuit, grown(hS, this.arcError));
  }

  /** Whether the step just made may be kept. */
  isGood(hS: number, shortestS: number): boolean {
    return (
      this.arcError <= 1 &&
      (this.circuitError <= 1 || (hS <= shortestS && this.circuitError < Infinity))
    );
  }

  private rates(c: StageCircuit, y: Float64Array, sourceA: number, f: Float64Array): boolean {
    for (let a = 0; a < ARC_COUNT; a++) {
      // a stage that throws ln g out of its range would overflow exp
      if (c.burning[a] && !((y[LNG + a] as number) < 60)) return false;
    }
    this.system.evaluateTube(c, y, false); // the factors stand: no slopes are asked for
    this.system.derivative(c, y, sourceA, f);
    return true;
  }

  /** The factors belong to the arcs' conductance at the step's start: put it back before solving. */
  private solveAt(c: StageCircuit, y: Float64Array, r: Float64Array, out: Float64Array): void {
    this.system.restoreArcs(c, y);
    this.system.solve(c, y, r, out);
  }

  /**
   * Newton for the settled state, in place. `dtS` is the time since `y` was good (Infinity: the state at
   * rest for ever). Returns the last update's size against its floor; small (< 1e-6) means converged.
   */
  settle(c: StageCircuit, y: Float64Array, dtS: number): number {
    const { system, f, r, k1, start } = this;
    start.set(y);
    const inv = dtS < Infinity ? 1 / dtS : 0;
    const wasC = inv > 0 ? this.filterRate(c, start) : 0;
    let size = Infinity;
    let last = Infinity;
    for (let turn = 0; turn < NEWTON_MOST; turn++) {
      system.evaluateTube(c, y);
      system.derivative(c, y, c.sourceA, f);
      r.set(f);
      if (inv > 0) {
        // trapezoidal in Vc, written for twice the mean slope; backward in Eb and Ek
        r[VC] =
          (f[VC] as number) +
          wasC -
          2 * c.filterF * inv * ((y[VC] as number) - (start[VC] as number));
        r[EB] = (f[EB] as number) - c.bypassF * inv * ((y[EB] as number) - (start[EB] as number));
        r[EK] = (f[EK] as number) - c.returnF * inv * ((y[EK] as number) - (start[EK] as number));
      }
      if (!system.factorSettled(c, y, inv)) return Infinity;
      system.solve(c, y, r, k1);
      size = updateSize(y, k1);
      if (!(size < Infinity)) return Infinity;
      // keep wild updates inside the region where the tube's law is nearly linear
      const damp = size > 20 ? 20 / size : 1;
      for (let i = 0; i < STATE_LENGTH; i++) y[i] = (y[i] as number) + damp * (k1[i] as number);
      if (!isTapNode(c)) followCoil(y);
      if (size < NEWTON_SMALL) break;
      // at the floor of rounding an update stops shrinking
      if (size < 1e-5 && size > 0.5 * last) break;
      last = size;
    }
    return size;
  }

  private filterRate(c: StageCircuit, y: Float64Array): number {
    if (c.stiffSupply) return 0;
    const vc = y[VC] as number;
    const surgeA = (vc - (y[EB] as number)) * c.surgeSiemens;
    return rectifierA(c, vc) - surgeA - vc * c.bleederSiemens - vc * c.crowbarSiemens;
  }
}

/** Without an arc or metal at the tap the far section carries the coil's current. */
function followCoil(y: Float64Array): void {
  for (let h = 0; h < HARMONICS; h++) {
    const o = h * STRIDE;
    y[o + 12] = y[o + 8] as number;
    y[o + 13] = y[o + 9] as number;
  }
}

/** Shortest step the circuit may ask for: a quarter of a carrier cycle. */
export function shortestStepS(c: StageCircuit): number {
  return (0.5 * Math.PI) / c.omega;
}

/** Step after one of this error: third order, kept between a fifth and five times. */
function grown(hS: number, error: number): number {
  if (!(error < Infinity)) return hS * 0.2;
  return hS * Math.min(5, Math.max(0.2, 0.9 / cbrt(Math.max(error, 1e-6))));
}

/** Largest error of the step over all complex states and supply voltages, each against its size or floor. */
function networkError(y: Float64Array, next: Float64Array, e: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < HARMONICS * STRIDE; i += 2) {
    const er = e[i] as number;
    const ei = e[i + 1] as number;
    const error = er * er + ei * ei;
    const ar = y[i] as number;
    const ai = y[i + 1] as number;
    const br = next[i] as number;
    const bi = next[i + 1] as number;
    const floor = isCurrent(i) ? FLOOR_A : FLOOR_V;
    const ratio = error / Math.max(ar * ar + ai * ai, br * br + bi * bi, floor * floor);
    if (!(ratio <= worst)) worst = ratio;
  }
  let most = Math.sqrt(worst) / TOLERANCE;
  for (let i = VC; i < LNG; i++) {
    const size = Math.max(Math.abs(y[i] as number), Math.abs(next[i] as number), FLOOR_DC_V);
    const ratio = Math.abs(e[i] as number) / (size * TOLERANCE);
    if (!(ratio <= most)) most = ratio;
  }
  return Number.isNaN(most) ? Infinity : most;
}

function arcError(c: StageCircuit, y: Float64Array, next: Float64Array, e: Float64Array): number {
  let most = 0;
  for (let a = 0; a < ARC_COUNT; a++) {
    if (!c.burning[a]) continue;
    const i = LNG + a;
    const size = Math.max(Math.abs(y[i] as number), Math.abs(next[i] as number), FLOOR_LNG);
    const ratio = Math.abs(e[i] as number) / (size * TOLERANCE);
    if (!(ratio <= most)) most = ratio;
  }
  return Number.isNaN(most) ? Infinity : most;
}

function updateSize(y: Float64Array, k: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < STATE_LENGTH; i++) {
    const floor = i < VC ? (isCurrent(i) ? FLOOR_A : FLOOR_V) : i < LNG ? FLOOR_DC_V : 1;
    const ratio = Math.abs(k[i] as number) / Math.max(Math.abs(y[i] as number), floor);
    if (!(ratio <= worst)) worst = ratio;
  }
  return worst;
}

/** Layout: VK ILK V1 ILR ILA VT ILB V2 ILC V3, two reals each. */
function isCurrent(i: number): boolean {
  const place = (i % STRIDE) >> 1;
  return place === 1 || place === 3 || place === 4 || place === 6 || place === 8;
}
