/**
 * From a sheet to verdicts: the margin of a stress is the time to damage over the time to clear, for each monitor alone and
 * for those chosen together, of which the first to clear counts.
 *
 *   margin        nominal estimate of the first damage over the nominal clearing at the worst phase of the scan
 *   early margin  early estimate over the longest clearing its actuators' range allows
 *   mass margin   0.5 mg molten over the nominal clearing, where an edge melts
 */

import type { CoordinationSheet, MonitorPoint, StressPoint } from "./coordinate";
import type { DamageTime } from "./damageTime";
import { STRESS } from "./stress";

export interface Requirement {
  readonly onset: number;
  readonly halfMilligram: number;
}

export const DEFAULT_REQUIREMENT: Requirement = { onset: 3, halfMilligram: 5 };

export type Verdict =
  | "covered"
  /** In time, with less than the margin required. */
  | "thin"
  | "late"
  /** Damage comes, and nothing clears. */
  | "notCovered"
  | "noDamage"
  /** This station cannot have the stress. */
  | "noStress";

export interface Margin {
  readonly verdict: Verdict;
  /** First damage of the nominal estimates; null where there is none. */
  readonly hurt: DamageTime | null;
  readonly clearS: MonitorPoint["clearS"];
  readonly margin: number | null;
  readonly marginEarly: number | null;
  readonly marginHalfMilligram: number | null;
}

export interface SchemeMargin extends Margin {
  /** Index of the monitor that clears first; -1 where none does. */
  readonly first: number;
}

/** First damage of a point by the nominal estimates. */
export function firstDamage(point: StressPoint): DamageTime | null {
  let first: DamageTime | null = null;
  for (const d of point.damage) {
    if (d.nominalS === null || d.milestone === "halfMilligram") continue;
    if (first === null || d.nominalS < (first.nominalS as number)) first = d;
  }
  return first;
}

/** What one monitor alone is worth at a point. */
export function monitorMargin(point: StressPoint, index: number, required: Requirement): Margin {
  return marginOf(point, point.monitors[index]?.clearS ?? null, required);
}

/** What the chosen monitors are worth together: the first to clear. */
export function schemeMargin(
  point: StressPoint,
  chosen: readonly boolean[],
  required: Requirement,
): SchemeMargin {
  let first = -1;
  let clearS: MonitorPoint["clearS"] = null;
  for (const [i, m] of point.monitors.entries()) {
    if (chosen[i] !== true || m.clearS === null) continue;
    if (clearS !== null && clearS.nominal <= m.clearS.nominal) continue;
    first = i;
    clearS = m.clearS;
  }
  return { ...marginOf(point, clearS, required), first };
}

function marginOf(
  point: StressPoint,
  clearS: MonitorPoint["clearS"],
  required: Requirement,
): Margin {
  const hurt = firstDamage(point);
  const none = { hurt, clearS, margin: null, marginEarly: null, marginHalfMilligram: null };
  if (point.facts === null) return { ...none, verdict: "noStress" };
  if (hurt === null) return { ...none, verdict: "noDamage" };
  if (clearS === null) return { ...none, verdict: "notCovered" };
  const over = (s: number | null, clear: number): number | null => (s === null ? null : s / clear);
  const half = point.damage.find((d) => d.milestone === "halfMilligram")?.nominalS ?? null;
  const margin = (hurt.nominalS as number) / clearS.nominal;
  const marginHalfMilligram = over(half, clearS.nominal);
  const isEnough =
    margin >= required.onset &&
    (marginHalfMilligram === null || marginHalfMilligram >= required.halfMilligram);
  return {
    hurt,
    clearS,
    margin,
    marginEarly: over(hurt.earlyS, clearS.longest),
    marginHalfMilligram,
    verdict: margin < 1 ? "late" : isEnough ? "covered" : "thin",
  };
}

const BADNESS: Readonly<Record<Verdict, number>> = {
  notCovered: 0,
  late: 1,
  thin: 2,
  covered: 3,
  noDamage: 4,
  noStress: 5,
};

/** Below zero where `a` is the worse. */
export function compareMargins(a: Margin, b: Margin): number {
  return BADNESS[a.verdict] - BADNESS[b.verdict] || (a.margin ?? 0) - (b.margin ?? 0);
}

/** Index of the point with the worst margin in a range of the axis; -1 where the sheet has no point there. */
export function worstPoint(
  sheet: CoordinationSheet,
  range: readonly [from: number, to: number],
  chosen: readonly boolean[],
  required: Requirement,
): number {
  let worst = -1;
  let least: Margin | null = null;
  for (const [i, point] of sheet.points.entries()) {
    if (point.x < range[0] * (1 - 1e-9) || point.x > range[1] * (1 + 1e-9)) continue;
    const here = schemeMargin(point, chosen, required);
    if (least !== null && compareMargins(here, least) >= 0) continue;
    worst = i;
    least = here;
  }
  return worst;
}

/** The mildest stress of a sheet at which a monitor operates; null where it does not. */
export function operatesFrom(sheet: CoordinationSheet, index: number): number | null {
  const xs = sheet.points.filter((p) => p.monitors[index]?.latestS != null).map((p) => p.x);
  if (xs.length === 0) return null;
  return STRESS[sheet.stress].isWorseBelow ? Math.max(...xs) : Math.min(...xs);
}

export interface Crossing {
  readonly x: number;
  readonly s: number;
}

/** Where clearing by the chosen monitors takes as long as the first damage, by straight lines between points. */
export function crossings(
  sheet: CoordinationSheet,
  chosen: readonly boolean[],
  required: Requirement,
): readonly Crossing[] {
  const found: Crossing[] = [];
  let before: { readonly x: number; readonly margin: number; readonly clearS: number } | null =
    null;
  for (const point of sheet.points) {
    const { margin, clearS } = schemeMargin(point, chosen, required);
    const now =
      margin === null || clearS === null ? null : { x: point.x, margin, clearS: clearS.nominal };
    if (before !== null && now !== null && before.margin < 1 !== now.margin < 1) {
      const share = (1 - before.margin) / (now.margin - before.margin);
      found.push({
        x: before.x + share * (now.x - before.x),
        s: before.clearS + share * (now.clearS - before.clearS),
      });
    }
    before = now;
  }
  return found;
}
