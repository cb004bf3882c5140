/**
 * Clearing of a fault: the first nanosecond from which arc power, forward power, a supply short's current and the RF
 * current through metal that bridges a gap stay under their levels, known once they have stayed there for 5 ms. The
 * levels are ours [E].
 */

import type { StageCircuit } from "../physics/stage/circuit";
import { AT_BEYOND, AT_LOADING, AT_PLATE, AT_TAP } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import { CLEAR_AT } from "./worldLayout";

/** Arc, output and short gone for this long count as cleared. */
const CLEAR_FOR_NS = 5_000_000;
const CLEAR_ARC_W = 1;
const CLEAR_FORWARD_W = 10;
const CLEAR_SHORT_A = 1;
const CLEAR_BRIDGE_A = 0.1;

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
  c: StageCircuit,
): void {
  const clear =
    (after[READING.arcW] as number) < CLEAR_ARC_W &&
    (after[READING.forwardW] as number) < CLEAR_FORWARD_W &&
    (after[READING.supplyFaultA] as number) < CLEAR_SHORT_A &&
    bridgeA(c, after) < CLEAR_BRIDGE_A;
  if (!clear) buffer[CLEAR_AT] = NOT_CLEAR;
  else if (buffer[CLEAR_AT] === NOT_CLEAR) {
    buffer[CLEAR_AT] = Math.ceil(fromNs + dtS * 1e9 - 1e-6);
  }
}

/** Peak RF current through metal across the gaps; what reaches a shorted tap is nearly all of the coil's. */
function bridgeA(c: StageCircuit, row: Float64Array): number {
  const g = c.bridgedSiemens;
  return (
    (g[AT_PLATE] as number) * (row[READING.plateRfPeakV] as number) +
    ((g[AT_TAP] as number) > 0 ? (row[READING.coilPeakA] as number) : 0) +
    (g[AT_LOADING] as number) * (row[READING.loadingRfPeakV] as number) +
    (g[AT_BEYOND] as number) * (row[READING.outputRfPeakV] as number)
  );
}

/** Instant at which the fault of `zeroNs` was cleared, as known at `endNs`; null while it is not. */
export function clearedAtNs(buffer: Float64Array, zeroNs: number, endNs: number): number | null {
  const since = buffer[CLEAR_AT] as number;
  return since < 0 || endNs - since < CLEAR_FOR_NS ? null : Math.max(since, zeroNs);
}
