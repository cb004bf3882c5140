/** Parts and stresses in words, and sentences that say what a table or chart shows. All text is computed. */

import { log10 } from "../../../math/elementary";
import type {
  BandResult,
  CircleResult,
  DriveResult,
  Here,
  Point,
} from "../../../shells/study/protocol";
import type { LinePoint } from "../../../study/loadLine";
import {
  headroom,
  type StressedBy,
  type StressedPart,
  type StressRow,
} from "../../../study/partStress";
import type { StopName } from "../../../study/tuneUp";
import {
  dbNumber,
  formatDb,
  formatNumber,
  formatPercent,
  formatQuantity,
} from "../../../units/format";

export const PART_WORDS: Readonly<Record<StressedPart, string>> = {
  tube: "Tube",
  plateChoke: "Plate choke",
  blockingCapacitor: "Blocking capacitor",
  tuningCapacitor: "Tuning capacitor",
  coil: "Coil",
  loadingCapacitor: "Loading capacitor",
  outputCoil: "Output coil",
  safetyChoke: "Safety choke",
  connector: "Relay and connector",
  exciter: "Exciter",
};

export const BY_WORDS: Readonly<Record<StressedBy, string>> = {
  plateCurrent: "plate current",
  gridCurrent: "grid current",
  plateDissipation: "plate dissipation",
  gridDissipation: "grid dissipation",
  plateVoltage: "plate voltage",
  directVoltage: "direct voltage",
  rfPeakVoltage: "RF voltage, peak",
  rfCurrent: "RF current, rms",
  reflectedDrive: "reflected drive",
};

export const STOP_WORDS: Readonly<Record<StopName, string>> = {
  tuningLow: "the lower end stop of the tuning capacitor",
  tuningHigh: "the upper end stop of the tuning capacitor",
  loadingLow: "the lower end stop of the loading capacitor",
  loadingHigh: "the upper end stop of the loading capacitor",
};

/** Gain of the station: output over drive, dB. */
export function gainDb(point: Point): number {
  return 10 * log10(point.outputW / point.setting.driveW);
}

/** The stress that has least headroom; null where none has a rating. */
export function worstOf(rows: readonly StressRow[]): StressRow | null {
  let worst: StressRow | null = null;
  for (const row of rows) {
    const left = headroom(row);
    if (left !== null && (worst === null || left < (headroom(worst) ?? 1))) worst = row;
  }
  return worst;
}

export function shareWords(row: StressRow): string {
  return row.rating === null
    ? "no rating stated"
    : `${formatPercent(row.value / row.rating)} of rating`;
}

/** `plate choke, RF current, rms`. */
export function stressName({ part, by }: StressRow): string {
  return `${PART_WORDS[part].toLowerCase()}, ${BY_WORDS[by]}`;
}

export function hereSummary(here: Here): string {
  const { matched } = here;
  if (here.problem !== "") return `There is no working point: ${here.problem}.`;
  if (matched === null) return "There is no working point: none settles with these values.";
  const worst = worstOf(here.stresses);
  const tight =
    worst === null ? "" : ` Least headroom: ${stressName(worst)} at ${shareWords(worst)}.`;
  return `${formatQuantity(matched.outputW, "W")} from ${formatQuantity(matched.setting.driveW, "W")} of drive into 50 Ω, efficiency ${formatPercent(matched.efficiency)}.${tight}`;
}

export function bandsSummary(rows: readonly BandResult[]): string {
  const solved = rows.filter((r) => r.point !== null);
  if (solved.length === 0) return "No band has a working point.";
  const outputs = solved.map((r) => r.point?.outputW ?? 0);
  const least = formatQuantity(Math.min(...outputs), "W");
  const most = formatQuantity(Math.max(...outputs), "W");
  const over = solved.filter((r) => r.stresses.some((s) => (headroom(s) ?? 0) < 0));
  const loaded =
    over.length === 0
      ? "Every part stays within the station's own rating on every band."
      : `Over one of the station's own ratings: ${over.map((r) => `${r.band} (${stressName(worstOf(r.stresses) as StressRow)})`).join(", ")}.`;
  const failed = rows.length - solved.length;
  const missing = failed === 0 ? "" : ` ${failed} of ${rows.length} bands have no working point.`;
  return `Output from ${least} to ${most}. ${loaded}${missing}`;
}

export function lineSummary(line: readonly LinePoint[]): string {
  if (line.length === 0) return "There is no load line without a working point.";
  const most = line.reduce((a, b) => (b.plateA > a.plateA ? b : a));
  const lowest = Math.min(...line.map((p) => p.plateV));
  const conducting = line.filter((p) => p.plateA > 0.01 * most.plateA).length / line.length;
  return `In one cycle the plate falls to ${formatQuantity(lowest, "V")} and plate current rises to ${formatQuantity(most.plateA, "A")} at ${formatQuantity(most.gridV, "V")} of grid; the tubes conduct over ${formatNumber(360 * conducting, 2)}° of it.`;
}

export function driveSummary(
  rows: readonly DriveResult[],
  driveW: number,
  ratedGridA: number,
): string {
  const solved = rows.flatMap((r) => (r.point === null ? [] : [{ ...r, point: r.point }]));
  const first = solved[0];
  const last = solved.at(-1);
  if (first === undefined || last === undefined) return "No drive has a working point.";
  const over = solved.find((r) => r.point.gridCurrentA > ratedGridA);
  const grid =
    over === undefined
      ? `Grid current stays within ${formatQuantity(ratedGridA, "A")} up to ${formatQuantity(last.driveW, "W")}.`
      : `Grid current passes ${formatQuantity(ratedGridA, "A")} below ${formatQuantity(over.driveW, "W")}, ${over.driveW > driveW ? "above" : "under"} the chosen ${formatQuantity(driveW, "W")}.`;
  return `Gain goes from ${formatDb(gainDb(first.point))} at ${formatQuantity(first.driveW, "W")} to ${dbNumber(gainDb(last.point))} dB at ${formatQuantity(last.driveW, "W")}. ${grid}`;
}

export function circleSummary(rows: readonly CircleResult[], swr: number): string {
  const as = rows.flatMap((r) => (r.asTuned === null ? [] : [r.asTuned]));
  if (as.length === 0) return "No phase has a working point.";
  const range = (of: (p: Point) => number, unit: string): string => {
    const all = as.map(of);
    return `${formatQuantity(Math.min(...all), unit)} to ${formatQuantity(Math.max(...all), unit)}`;
  };
  const stopped = rows.filter((r) => r.retuned === null).length;
  const again =
    stopped === 0
      ? "Every phase can be tuned up."
      : `${stopped} of ${rows.length} phases cannot be tuned up.`;
  return `Round SWR ${formatNumber(swr)} with the settings left, output goes from ${range((p) => p.outputW, "W")}, grid current from ${range((p) => p.gridCurrentA, "A")}, plate RF from ${range((p) => p.plateRfPeakV, "V")} peak. ${again}`;
}
