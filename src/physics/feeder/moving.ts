/**
 * What weather and a bad contact do to a feeder: plain functions of time (whole nanoseconds), seed
 * and severity, without memory, so that a replay, a fork or a jump gives the same.
 *
 *   ice      ratio = 1 - s                                   s: resonance down by this fraction
 *   sway     ratio = 1 + s sin(2 pi (t/T + u))               T = 3.1 s, u in [0, 1) from the seed
 *   gust     ratio = 1 + s (n_k + (n_k+1 - n_k) w^2 (3 - 2w))   knots n in [-1, 1), 0.7 s apart
 *   contact  one break in every 0.4 s, s (1 + (1 - s)(2u - 1)) of it long, anywhere in it
 *
 * w, 0 to 1, is the way from knot to knot; s severity. `ratio` multiplies the antenna's resonance
 * frequency. The smoothed gust has no jumps in value or slope; its steepest slope is 1.5 * 2s/0.7 a
 * second. A contact is broken for the share s of the time in the mean; 0 is whole, 1 always broken.
 * Standing: the forms are ours; the times are estimates (a wire dipole swings within seconds).
 * Neither is a record of wind. Left out: sway and gust of more than one wire, arcing at the bad
 * contact (place an arc for that).
 */
import { sin } from "../../math/elementary";
import { uniformAt } from "../../math/random";

const SWAY_NS = 3_100_000_000;
const GUST_NS = 700_000_000;
const CONTACT_NS = 400_000_000;
/**
 * A contact broken for less than this share is whole, and broken for good where less is left; a
 * millionth is 400 ns.
 */
const LEAST_SHARE = 1e-6;

/**
 * One stream number for each use, so that sway, gust and contact of one seed do not go together.
 */
const SWAY_STREAM = 101;
const GUST_STREAM = 102;
const LENGTH_STREAM = 103;
const START_STREAM = 104;

/** Resonance ratio under ice that lowers the resonance by the fraction `severity`. */
export function icedRatio(severity: number): number {
  return 1 - severity;
}

/** Resonance ratio of an antenna that swings; `severity` is the largest fraction either way. */
export function swayRatio(ns: number, seed: number, severity: number): number {
  const turns = (ns % SWAY_NS) / SWAY_NS + uniformAt(seed, SWAY_STREAM, 0);
  return 1 + severity * sin(2 * Math.PI * turns);
}

/** Resonance ratio in a slow gust; `severity` is the largest fraction either way. */
export function gustRatio(ns: number, seed: number, severity: number): number {
  const knot = Math.floor(ns / GUST_NS);
  const w = (ns - knot * GUST_NS) / GUST_NS;
  const from = 2 * uniformAt(seed, GUST_STREAM, knot) - 1;
  const to = 2 * uniformAt(seed, GUST_STREAM, knot + 1) - 1;
  return 1 + severity * (from + (to - from) * w * w * (3 - 2 * w));
}

/**
 * Whether an intermittent contact is made at `ns`; `severity` is the share of time it is not, 0 to
 * 1.
 */
export function contactMade(ns: number, seed: number, severity: number): boolean {
  if (severity < LEAST_SHARE) return true;
  if (severity > 1 - LEAST_SHARE) return false;
  const slot = Math.floor(ns / CONTACT_NS);
  const opens = opensNs(slot, seed, severity);
  return ns < opens || ns >= opens + brokenNs(slot, seed, severity);
}

/**
 * The first nanosecond after `ns` at which an intermittent contact opens or closes; Infinity if it
 * never does.
 */
export function nextContactChangeNs(ns: number, seed: number, severity: number): number {
  if (severity < LEAST_SHARE || severity > 1 - LEAST_SHARE) return Infinity;
  const made = contactMade(ns, seed, severity);
  // two breaks may touch at a boundary; lengths under a slot keep the search short
  for (let slot = Math.floor(ns / CONTACT_NS); ; slot++) {
    const opens = opensNs(slot, seed, severity);
    const closes = opens + brokenNs(slot, seed, severity);
    if (opens > ns && contactMade(opens, seed, severity) !== made) return opens;
    if (closes > ns && contactMade(closes, seed, severity) !== made) return closes;
  }
}

function brokenNs(slot: number, seed: number, severity: number): number {
  const u = uniformAt(seed, LENGTH_STREAM, slot);
  return Math.round(CONTACT_NS * severity * (1 + (1 - severity) * (2 * u - 1)));
}

function opensNs(slot: number, seed: number, severity: number): number {
  const room = CONTACT_NS - brokenNs(slot, seed, severity);
  return slot * CONTACT_NS + Math.floor(room * uniformAt(seed, START_STREAM, slot));
}
