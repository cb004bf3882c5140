/**
 * The state at rest of a circuit, found from nothing: the transient solver rings it up, arcs are struck
 * on the way as they would be on the bench, and Newton finishes. Newton alone from a cold guess can land
 * on the wrong branch of the arc's law; the ring-up cannot.
 */

import { HARMONICS } from "../tube/triode";
import type { StageCircuit } from "./circuit";
import {
  ARC_COUNT,
  AT_TAP,
  EB,
  EK,
  LNG,
  STATE_LENGTH,
  STRIDE,
  STRIKE_LNG,
  V1,
  V2,
  VC,
  VT,
} from "./layout";
import { type StageSolver, shortestStepS } from "./stageSolver";

/** Cycles of the carrier the ring-up follows before Newton takes over. */
const RING_UP_CYCLES = 600;
const MOST_STEPS = 20000;
/** Doublings of the time an arc is given to grow. */
const ARC_TURNS = 8;
/** ln g of an arc that has gone out: nothing the stage could notice. */
const OUT_LNG = -40;
/** An update this small against its floor counts as converged. */
export const SETTLED = 1e-6;

/** Puts supply and bias voltages into an otherwise dead state. */
export function initialState(c: StageCircuit, y: Float64Array): void {
  y.fill(0);
  const loaded = c.stiffSupply ? 1 : c.sourceSiemens / (c.sourceSiemens + c.bleederSiemens);
  y[VC] = c.noLoadV * loaded;
  y[EB] = y[VC] as number;
  y[EK] = c.biasV;
  for (let a = 0; a < ARC_COUNT; a++) y[LNG + a] = STRIKE_LNG;
}

/** Lights the arc at a place: its conductance starts small, and a tap becomes a node of its own. */
export function strikeArc(c: StageCircuit, y: Float64Array, place: number): void {
  c.burning[place] = 1;
  y[LNG + place] = STRIKE_LNG;
  if (place !== AT_TAP) return;
  for (let h = 0; h < HARMONICS; h++) {
    for (let p = 0; p < 2; p++) {
      const o = h * STRIDE + p;
      const v2 = y[o + V2] as number;
      y[o + VT] = v2 + c.tapFraction * ((y[o + V1] as number) - v2);
    }
  }
}

/** Follows the circuit for `spanS` with no limit but the steps' own; false when it cannot. */
function follow(solver: StageSolver, c: StageCircuit, y: Float64Array, spanS: number): boolean {
  const next = new Float64Array(STATE_LENGTH);
  const shortest = shortestStepS(c);
  let t = 0;
  let h = shortest;
  solver.open(c, y);
  for (let n = 0; n < MOST_STEPS; n++) {
    const step = Math.min(h, spanS - t);
    solver.step(c, y, step, next);
    const good = solver.isGood(step, shortest);
    h = solver.nextStepS(step, shortest);
    if (good) {
      t += step;
      y.set(next);
      if (t >= spanS * (1 - 1e-12)) return true;
    }
    solver.open(c, y);
  }
  return false;
}

/**
 * Settled state of the circuit into `y`, with the arc at `place` burning (-1: none). Returns the residual
 * of the last Newton update; above SETTLED it did not converge.
 */
export function coldStart(
  solver: StageSolver,
  c: StageCircuit,
  y: Float64Array,
  place: number,
): number {
  const span = (RING_UP_CYCLES * 2 * Math.PI) / c.omega;
  initialState(c, y);
  if (!follow(solver, c, y, span)) return Infinity;
  if (place < 0) return solver.settle(c, y, Infinity);
  strikeArc(c, y, place);
  // an arc fed barely above its voltage takes many of its own time constants to grow
  let arcSpan = Math.max(span, 10 * (c.arcTimeConstantS[place] as number));
  const found = new Float64Array(STATE_LENGTH);
  for (let turn = 0; turn < ARC_TURNS; turn++, arcSpan *= 2) {
    if (!follow(solver, c, y, arcSpan)) return Infinity;
    if ((y[LNG + place] as number) < OUT_LNG) return Infinity; // it went out
    found.set(y);
    const residual = solver.settle(c, found, Infinity);
    if (residual < SETTLED) {
      y.set(found);
      return residual;
    }
  }
  return Infinity;
}
