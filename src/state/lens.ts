/**
 * The time lens: playback that slows by itself around a fault.
 *
 *   after the event    rate = (t + e) ln 10 / A      a decade of the race's axis takes A = 2.3 s of screen time
 *   before the event   rate = (d + f) ln 10 / B      d time still to go, B = 0.4 s a decade
 *
 * never faster than the pace. e = 1 us is where the race's axis starts, f = 10 us keeps the approach finite.
 * A and B are choices of ours.
 */

export const SCREEN_S_PER_DECADE = 2.3;
const APPROACH_S_PER_DECADE = 0.4;
const AXIS_START_NS = 1e3;
const NEAR_NS = 1e4;
const LN10 = 2.302585092994046;

/** Events round the play head; null where there is none. */
export interface LensEvents {
  readonly lastNs: number | null;
  readonly nextNs: number | null;
}

/** Simulated time a unit of screen time at `playNs`, at most `pace`. */
export function lensRate(playNs: number, pace: number, events: LensEvents): number {
  let rate = pace;
  if (events.lastNs !== null && playNs >= events.lastNs) {
    const sinceS = (playNs - events.lastNs + AXIS_START_NS) * 1e-9;
    rate = Math.min(rate, (sinceS * LN10) / SCREEN_S_PER_DECADE);
  }
  if (events.nextNs !== null && playNs <= events.nextNs) {
    const leftS = (events.nextNs - playNs + NEAR_NS) * 1e-9;
    rate = Math.min(rate, (leftS * LN10) / APPROACH_S_PER_DECADE);
  }
  return rate;
}

/** Screen time of one integration step, ms. */
const STEP_MS = 1;

/**
 * Where the play head stands `wallMs` later. Stops at the next event, so that the instant itself is shown;
 * the rest of the screen time is lost, at most one frame.
 */
export function advanceLens(
  playNs: number,
  wallMs: number,
  pace: number,
  events: LensEvents,
): number {
  let ns = playNs;
  for (let left = wallMs; left > 0; left -= STEP_MS) {
    const ms = Math.min(left, STEP_MS);
    const next = ns + lensRate(ns, pace, events) * ms * 1e6;
    if (events.nextNs !== null && ns < events.nextNs && next >= events.nextNs) return events.nextNs;
    ns = next;
  }
  return ns;
}
