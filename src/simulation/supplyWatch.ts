/**
 * What a short behind the surge resistor has let through so far, the fuse's heat, and what becomes of both.
 *
 *   dX/dt = i^2 - X/tau, tau = I2t/Im^2          heat image of a fuse, A2s; it melts at X = I2t
 *
 * so that it melts at its I2t when the current comes at once, and in the end at its melting current Im. It opens at the end
 * of the sample in which it melts; its own arc is left out. All sums count from the fault's time zero, trapezoidal, and
 * only what comes through the surge resistor: the bypass behind it adds millijoules in nanoseconds.
 */

import { READING } from "../physics/stage/readings";
import { ARC_HOLDING_A } from "../physics/supply/dcArc";
import { storedEnergyJ } from "../physics/supply/faultEnergy";
import type { Project } from "../project/types";
import type { BenchEvent } from "./benchEvent";
import { isPlateAllowed, type Logic } from "./logic";
import { hasBrokenDown, presenceOf } from "./presence";
import type { Change } from "./sequencer";
import { ROW_AT, SUPPLY_AT } from "./worldLayout";

/** A filter below this is safe to touch after it has been verified: common practice, no source. */
export const SAFE_V = 50;

const FUSE_A2S = SUPPLY_AT;
const PEAK_A = SUPPLY_AT + 1;
const LET_THROUGH_A2S = SUPPLY_AT + 2;
const FAULT_J = SUPPLY_AT + 3;
const ARC_J = SUPPLY_AT + 4;
const SURGE_J = SUPPLY_AT + 5;
const STORED_J = SUPPLY_AT + 6;
const LEFT_J = SUPPLY_AT + 7;
/** Filter voltage at the last sample's end. */
const WAS_V = SUPPLY_AT + 8;

/** What of the actuators takes the plate supply away. */
export const SUPPLY_ACTUATORS = ["crowbar", "contactor"] as const;

/** Nothing has taken the supply away yet. */
const NOTHING_ACTED = -1;

/** What went through a fault of the plate supply since its time zero. */
export interface SupplyTotals {
  readonly peakA: number;
  /** Integral of the fault current's square. */
  readonly letThroughA2s: number;
  /** In the short or in arc and path, in the arc alone, and in the surge resistor. */
  readonly faultJ: number;
  readonly arcJ: number;
  readonly surgeJ: number;
  /** In the filter at the fault's time zero, and when crowbar, fuse or contactor first acted; null while none has. */
  readonly storedJ: number;
  readonly leftJ: number | null;
}

/** The sums so far of a world's buffer. */
export function supplyTotals(f: Float64Array): SupplyTotals {
  const leftJ = f[LEFT_J] as number;
  return {
    peakA: f[PEAK_A] as number,
    letThroughA2s: f[LET_THROUGH_A2S] as number,
    faultJ: f[FAULT_J] as number,
    arcJ: f[ARC_J] as number,
    surgeJ: f[SURGE_J] as number,
    storedJ: f[STORED_J] as number,
    leftJ: leftJ === NOTHING_ACTED ? null : leftJ,
  };
}

function storedJ(project: Project, f: Float64Array): number {
  const { supply } = project.station;
  return supply.kind === "rectified"
    ? storedEnergyJ(supply.filterF, f[ROW_AT + READING.filterV] as number)
    : 0;
}

/** Sums begin anew at a fault's time zero; the fuse keeps its heat. */
export function beginSupplySums(project: Project, f: Float64Array): void {
  f.fill(0, PEAK_A, STORED_J);
  f[STORED_J] = storedJ(project, f);
  f[LEFT_J] = NOTHING_ACTED;
}

/** Something took the supply away: what the filter still held is what it saved. */
export function noteSupplyTaken(project: Project, f: Float64Array): void {
  if (f[LEFT_J] === NOTHING_ACTED) f[LEFT_J] = storedJ(project, f);
}

/** One piece of physics of `dtS`. */
export function addSupply(
  project: Project,
  f: Float64Array,
  dtS: number,
  before: Float64Array,
  after: Float64Array,
): void {
  const { supply } = project.station;
  if (supply.kind !== "rectified") return;
  if (supply.fuse.kind === "fitted") {
    const { meltingA2s, meltingA } = supply.fuse;
    const added = square(dtS, before, after, READING.plateCurrentA);
    const cooling = (dtS * meltingA * meltingA) / meltingA2s;
    f[FUSE_A2S] = ((f[FUSE_A2S] as number) + added) / (1 + cooling);
  }
  const was = fedShare(before);
  const is = fedShare(after);
  if (was <= 0 && is <= 0) return;
  const a = was * (before[READING.supplyFaultA] as number);
  const b = is * (after[READING.supplyFaultA] as number);
  if (b > (f[PEAK_A] as number)) f[PEAK_A] = b;
  f[LET_THROUGH_A2S] = (f[LET_THROUGH_A2S] as number) + (dtS / 3) * (a * a + a * b + b * b);
  const mean = (reading: number): number =>
    0.5 * dtS * (was * (before[reading] as number) + is * (after[reading] as number));
  f[FAULT_J] = (f[FAULT_J] as number) + mean(READING.supplyFaultW);
  f[ARC_J] = (f[ARC_J] as number) + mean(READING.dcArcW);
  f[SURGE_J] = (f[SURGE_J] as number) + mean(READING.surgeW);
}

/** Of the fault's current, the share that comes through the surge resistor; 0 without a fault. */
function fedShare(row: Float64Array): number {
  const faultA = row[READING.supplyFaultA] as number;
  return faultA > 0 ? Math.min(1, Math.max(row[READING.plateCurrentA] as number, 0) / faultA) : 0;
}

function square(dtS: number, before: Float64Array, after: Float64Array, reading: number): number {
  const a = before[reading] as number;
  const b = after[reading] as number;
  return (dtS / 3) * (a * a + a * b + b * b);
}

/** At a sample's end: a fuse that has melted, a direct-current arc without current, a filter that has come down; null for none. */
export function watchSupply(
  project: Project,
  logic: Logic,
  f: Float64Array,
  endNs: number,
): Change | null {
  const wasV = f[WAS_V] as number;
  const filterV = f[ROW_AT + READING.filterV] as number;
  f[WAS_V] = filterV;
  const { supply } = project.station;
  const fuse = supply.kind === "rectified" ? supply.fuse : null;
  if (fuse?.kind !== "fitted" && isPlateAllowed(logic.power) && logic.faults.length === 0)
    return null;
  let next = logic;
  const events: BenchEvent[] = [];
  if (fuse?.kind === "fitted" && !logic.fuseOpen) {
    const large = logic.faults.find((fault) => fault.fault === "fuseTooLarge")?.severity ?? 1;
    if ((f[FUSE_A2S] as number) >= large * fuse.meltingA2s) {
      noteSupplyTaken(project, f);
      f[FUSE_A2S] = 0;
      next = { ...next, fuseOpen: true };
      events.push({ kind: "supply", atNs: endNs, news: "fuseMelted" });
    }
  }
  if ((f[ROW_AT + READING.supplyFaultA] as number) < ARC_HOLDING_A) {
    for (const placed of logic.faults) {
      const { fault } = placed;
      const isArc = fault === "tubeFlashover" || fault === "plateDcArc";
      if (!isArc && !hasBrokenDown(placed, endNs)) continue;
      if (next.dcArcsOut.includes(fault) || presenceOf(placed, endNs) === 0) continue;
      next = { ...next, dcArcsOut: [...next.dcArcsOut, fault] };
      events.push({ kind: "supply", atNs: endNs, news: "dcArcOut" });
    }
  }
  if (!isPlateAllowed(logic.power) && wasV >= SAFE_V && filterV < SAFE_V)
    events.push({ kind: "supply", atNs: endNs, news: "discharged" });
  return events.length === 0 ? null : { logic: next, later: [], events, jumps: next !== logic };
}
