/**
 * A track of points on a fixed logarithmic grid after an event: what a microsecond looked like, long
 * after the 50 us samples could not tell. 24 points a decade from 50 ns; 10 s are 200 points.
 */
import { powerOfTen } from "../math/elementary";
import { CHANNEL_COUNT } from "./channels";

const PER_DECADE = 24;
const FIRST_NS = 50;
const LAST_NS = 10e9;

/** Times after the event, whole nanoseconds. */
export const BURST_GRID_NS: readonly number[] = grid();
export const BURST_POINTS = BURST_GRID_NS.length;

function grid(): readonly number[] {
  const out: number[] = [];
  for (let k = 0; ; k++) {
    const ns = Math.round(FIRST_NS * powerOfTen(k / PER_DECADE));
    if (ns > LAST_NS) return out;
    out.push(ns);
  }
}

export interface Burst {
  readonly atNs: number;
  /** What it belongs to: a fault's time zero is followed to 10 s, everything else to the next event. */
  readonly kind: "fault" | "event";
  readonly data: Float64Array;
  /** The recorded row of the sample before, in the order of CHANNEL_NAMES. */
  readonly before: Float64Array;
  /** Points filled so far. */
  readonly count: number;
  readonly open: boolean;
}

/** An empty track from `atNs` on; `before` is the recorded row of the sample before. */
export function startBurst(atNs: number, kind: Burst["kind"], before: Float64Array): Burst {
  const data = new Float64Array(BURST_POINTS * CHANNEL_COUNT);
  return { atNs, kind, data, before, count: 0, open: true };
}

/** Bursts kept; the oldest goes first. */
export const BURSTS_KEPT = 64;
