/**
 * Clearing of a fault: the first nanosecond from which arc power, forward power and a supply short's current
 * stay under their levels, known once they have stayed there for 5 ms. The levels are ours [E].
 */
import { READING } from "../physics/stage/readings";
import { CLEAR_AT } from "./worldLayout";

/** Arc, output and short gone for this long count as cleared. */
const CLEAR_FOR_NS = 5_000_000;
const CLEAR_ARC_W = 1;
const CLEAR_FORWARD_W = 10;
const CLEAR_SHORT_A = 1;

const NOT_CLEAR = -1;
/** Since the fault nothing has been on that could be cleared. */
const NOTHING_TO_CLEAR = -2;

/** A fault has begun: it is cleared no sooner than something has been on. */
export function awaitFault(buffer: Float64Array): void {
  buffer[CLEAR_AT] = NOTHING_TO_CLEAR;
}

/** One piece of physics of `dtS` that ends with the readings `after`. */
export function watchClearing(
  buffer: Float64Array,
  fromNs: number,
  dtS: number,
  after: Float64Array,
  shortSiemens: number,
): void {
  const clear =
    (after[READING.arcW] as number) < CLEAR_ARC_W &&
    (after[READING.forwardW] as number) < CLEAR_FORWARD_W &&
    shortSiemens * (after[READING.plateV] as number) < CLEAR_SHORT_A;
  if (!clear) buffer[CLEAR_AT] = NOT_CLEAR;
  else if (buffer[CLEAR_AT] === NOT_CLEAR) {
    buffer[CLEAR_AT] = Math.ceil(fromNs + dtS * 1e9 - 1e-6);
  }
}

/** Instant at which the fault of `zeroNs` was cleared, as known at `endNs`; null while it is not. */
export function clearedAtNs(buffer: Float64Array, zeroNs: number, endNs: number): number | null {
  const since = buffer[CLEAR_AT] as number;
  return since < 0 || endNs - since < CLEAR_FOR_NS ? null : Math.max(since, zeroNs);
}
