/** Steps a stage through a transient with the solver's own step control, and looks at it as a waveform. */
import type { StageCircuit } from "../../src/physics/stage/circuit";
import { STATE_LENGTH, STRIDE } from "../../src/physics/stage/layout";
import { type StageSolver, shortestStepS } from "../../src/physics/stage/stageSolver";
import { HARMONICS } from "../../src/physics/tube/triode";

export interface Trace {
  readonly timeS: number[];
  readonly states: Float64Array[];
  /** Steps tried, those thrown away included. */
  tried: number;
}

/** From `y`, in place, over `spanS`; every good step is kept. Throws when the solver gives up. */
export function followStage(
  solver: StageSolver,
  c: StageCircuit,
  y: Float64Array,
  spanS: number,
): Trace {
  const shortest = shortestStepS(c);
  const next = new Float64Array(STATE_LENGTH);
  const trace: Trace = { timeS: [0], states: [y.slice()], tried: 0 };
  let t = 0;
  let h = shortest;
  solver.open(c, y);
  while (t < spanS * (1 - 1e-12)) {
    if (++trace.tried > 20_000) throw new Error(`no end of steps at ${t} s, step ${h} s`);
    const step = Math.min(h, spanS - t);
    solver.step(c, y, step, next);
    const good = solver.isGood(step, shortest);
    h = solver.nextStepS(step, shortest);
    if (good) {
      t += step;
      y.set(next);
      trace.timeS.push(t);
      trace.states.push(y.slice());
    }
    solver.open(c, y);
  }
  return trace;
}

/** Phasor of one harmonic of a node, straight between steps. */
function phasorAt(trace: Trace, s: number, at: number): readonly [number, number] {
  const { timeS, states } = trace;
  let lo = 0;
  let hi = timeS.length - 1;
  if (s <= 0) hi = 1;
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if ((timeS[mid] as number) <= s) lo = mid;
    else hi = mid;
  }
  const a = states[lo] as Float64Array;
  const b = states[hi] as Float64Array;
  const ta = timeS[lo] as number;
  const u = Math.min(1, Math.max(0, (s - ta) / ((timeS[hi] as number) - ta)));
  const mix = (i: number): number => (a[i] as number) + u * ((b[i] as number) - (a[i] as number));
  return [mix(at), mix(at + 1)];
}

/**
 * Peak of the fundamental of the waveform sum_h Re(V_h(t) e^{jhwt}) over the one cycle centred at `s`, as the
 * reference tables were made. `node` is the node's offset inside one harmonic.
 */
export function fundamentalAround(trace: Trace, omega: number, node: number, s: number): number {
  const points = 48;
  let re = 0;
  let im = 0;
  for (let i = 0; i < points; i++) {
    const at = s + (2 * Math.PI * ((i + 0.5) / points - 0.5)) / omega;
    let x = 0;
    for (let h = 1; h <= HARMONICS; h++) {
      const [vr, vi] = phasorAt(trace, at, (h - 1) * STRIDE + node);
      const th = h * omega * at;
      x += vr * Math.cos(th) - vi * Math.sin(th);
    }
    re += x * Math.cos(omega * at);
    im += x * Math.sin(omega * at);
  }
  return (2 * Math.hypot(re, im)) / points;
}
