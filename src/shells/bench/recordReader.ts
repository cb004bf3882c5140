/** The last recorded point at or before an instant: a sample's end, or a point of a track between two. */
import { BURST_GRID_NS, BURST_POINTS, type Burst } from "../../simulation/burst";
import { CHANNEL_COUNT } from "../../simulation/channels";
import type { Recorder } from "../../simulation/recorder";

/** Index of the last point of a track at or before `ns`, -1 for none. */
function lastPoint(burst: Burst, ns: number): number {
  const since = ns - burst.atNs;
  let low = 0;
  let high = Math.min(burst.count, BURST_POINTS);
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((BURST_GRID_NS[middle] as number) <= since) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/**
 * Improves `out`, which holds the row of the instant `bestNs` (-1: nothing), by a later point of a track;
 * answers the instant of what `out` then holds.
 */
export function readTracks(
  tracks: readonly Burst[],
  ns: number,
  bestNs: number,
  out: Float64Array,
): number {
  let best = bestNs;
  let from: Burst | null = null;
  let point = -1;
  for (const burst of tracks) {
    if (burst.atNs > ns) continue;
    const k = lastPoint(burst, ns);
    if (k < 0) continue;
    const at = burst.atNs + (BURST_GRID_NS[k] as number);
    if (at <= best) continue;
    best = at;
    from = burst;
    point = k;
  }
  if (from !== null) {
    const o = point * CHANNEL_COUNT;
    for (let i = 0; i < CHANNEL_COUNT; i++) out[i] = from.data[o + i] as number;
  }
  return best;
}

/**
 * Copies the point shown at `ns` into `out` and answers its instant; -1 when the sample before `ns` is not
 * held (too old, or the very start).
 */
export function readRecord(
  recorder: Recorder,
  sampleNs: number,
  ns: number,
  out: Float64Array,
): number {
  const ended = Math.floor(ns / sampleNs);
  if (!recorder.sampleAt(ended - 1, out)) return -1;
  return readTracks(recorder.tracks, ns, ended * sampleNs, out);
}
