/**
 * What a fault looks like to the protection: how perfect sensors read it in the run left alone, 20 ms after the fault. That is later
 * than any monitor of arcs confirms, and earlier than most edges melt.
 */
import { BURST_GRID_NS, type Burst } from "../../simulation/burst";
import { CHANNEL_COUNT } from "../../simulation/channels";
import { quantityOf } from "../../simulation/quantityOf";
import type { RaceInput } from "../../simulation/race";

/** Null for what has no reading, without drive for example. */
export interface CaseLook {
  readonly gainDeviationDb: number | null;
  readonly vswr: number | null;
}

const LOOK_AT_NS = 20_000_000;

/** At the last point of the record so far, not past the look; null without a record. */
export function caseLook(
  track: Burst | null | undefined,
  expected: RaceInput["expectedForwardGainDb"],
): CaseLook | null {
  if (track === null || track === undefined || track.count === 0) return null;
  let last = 0;
  while (last + 1 < track.count && (BURST_GRID_NS[last + 1] as number) <= LOOK_AT_NS) last += 1;
  const at = last * CHANNEL_COUNT;
  return {
    gainDeviationDb: quantityOf("gainDeviationDb", track.data, at, expected),
    vswr: quantityOf("vswr", track.data, at, expected),
  };
}
