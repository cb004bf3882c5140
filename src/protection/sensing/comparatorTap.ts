/**
 * The comparator straight on the plate-current shunt: a first-order filter, no scan, crossing found to the nanosecond.
 *
 *   y' = (i - y) / T,  i = i0 + s t
 *   y(t) = i0 + s (t - T) + (y0 - i0 + s T) exp(-t / T)
 *
 * i shunt current in A, s its slope in A/s, T the filter's time constant in s (20 us by default [E]). The clamp across
 * the filter holds y at the tap's full scale. Exact for a current that runs linearly through the segment.
 */
import { exp, ln } from "../../math/elementary";

/** Filter output in A; 1 while a crossing waits for its drop-off, else 0. */
export const TAP_STATE_LENGTH = 2;

const NS = 1e-9;

export interface TapDef {
  readonly timeConstantS: number;
  readonly fullScaleA: number;
}

/** One segment; see `Sensing.advanceComparator`. */
export function advanceTap(
  state: Float64Array,
  at: number,
  tap: TapDef,
  dtNs: number,
  i0A: number,
  i1A: number,
  pickupA: number,
  dropOffA: number,
): number {
  if (dtNs <= 0) return -1;
  const y0 = state[at] as number;
  const wasOver = (state[at + 1] as number) !== 0;
  const T = tap.timeConstantS;
  const s = (i1A - i0A) / (dtNs * NS);
  const end = response(dtNs * NS, T, i0A, s, y0);
  const y1 = end > tap.fullScaleA ? tap.fullScaleA : end;
  state[at] = y1;

  if (wasOver) {
    if (y1 < dropOffA) state[at + 1] = 0;
    return -1;
  }
  if (y1 >= pickupA) {
    state[at + 1] = 1;
    return firstNsOver(dtNs, T, i0A, s, y0, pickupA);
  }
  // A current that rises and falls again inside the segment: look at the summit of the response.
  const summitS = s < 0 && i0A > y0 ? T * ln((y0 - i0A + s * T) / (s * T)) : -1;
  if (summitS <= 0 || summitS >= dtNs * NS) return -1;
  const summitNs = Math.round(summitS / NS);
  if (summitNs < 1 || response(summitNs * NS, T, i0A, s, y0) < pickupA) return -1;
  state[at + 1] = y1 < dropOffA ? 0 : 1;
  return firstNsOver(summitNs, T, i0A, s, y0, pickupA);
}

function response(t: number, T: number, i0: number, s: number, y0: number): number {
  if (T <= 0) return i0 + s * t;
  return i0 + s * (t - T) + (y0 - i0 + s * T) * exp(-t / T);
}

/**
 * Smallest whole ns whose response is over, by bisection; the response at `highNs` is over. A segment need not last a
 * whole number of ns: its end then stands for the last, broken one.
 */
function firstNsOver(
  highNs: number,
  T: number,
  i0: number,
  s: number,
  y0: number,
  pickup: number,
): number {
  let low = 0;
  let high = Math.ceil(highNs);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (response(middle * NS, T, i0, s, y0) >= pickup) high = middle;
    else low = middle;
  }
  return Math.min(high, highNs);
}
