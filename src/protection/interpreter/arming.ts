/**
 * When a monitor may watch.
 *
 * On the air: operate, T/R confirmed closed, and settled (10 ms by default) since drive first passed its floor (5 W)
 * in this transmission. Under the floor counts are held, and after the hold time (100 ms) they clear: speech and
 * keying pass through such gaps. A monitor that compares with an expected gain is not armed at a drive for which none is
 * known. In every other way a monitor that is not armed is clear.
 */
import type { Situation } from "../situation";
import type { MonitorState } from "./monitorState";
import type { MonitorProgram } from "./program";
import { conditionsHold } from "./timing";

export const NOT_ARMED = 0;
export const HELD = 1;
export const ARMED = 2;
export type Arming = typeof NOT_ARMED | typeof HELD | typeof ARMED;

/** The scan at which drive first passed its floor in this transmission; -1 while off the air or not yet. */
export function settlingSince(
  program: MonitorProgram,
  state: MonitorState,
  row: Float64Array,
  scan: number,
  situation: Situation,
): number {
  const { arming } = program;
  if (!arming.onAir || !situation.operate || !situation.transmitConfirmed) return -1;
  if (state.settlingSinceScan >= 0) return state.settlingSinceScan;
  return arming.drive(row) >= arming.driveAboveW ? scan : -1;
}

/** Whether the monitor is armed at this scan; `settlingSinceScan` comes from `settlingSince`. */
export function armingAt(
  program: MonitorProgram,
  state: MonitorState,
  row: Float64Array,
  scan: number,
  situation: Situation,
  settlingSinceScan: number,
): Arming {
  const { arming } = program;
  const atNs = scan * program.scanNs;
  if (arming.blankingNs > 0 && situation.keyDown) {
    if (atNs - situation.keyDownAtNs < arming.blankingNs) return NOT_ARMED;
  }
  if (arming.afterSupplyReadyNs > 0) {
    const readyNs = situation.supplyReadyAtNs;
    if (readyNs === null || atNs - readyNs < arming.afterSupplyReadyNs) return NOT_ARMED;
  }
  if (arming.driveKnownToW < Infinity && !(arming.drive(row) <= arming.driveKnownToW))
    return NOT_ARMED;
  if (arming.when.length > 0 && !conditionsHold(arming.when, row, state.criteria)) return NOT_ARMED;
  if (!arming.onAir) return ARMED;
  if (settlingSinceScan < 0 || scan - settlingSinceScan < arming.settledScans) return NOT_ARMED;
  return arming.drive(row) >= arming.driveAboveW ? ARMED : HELD;
}
