/**
 * A coordination sheet as curves and regions in its own units: what the chart draws and the table lists. Pure.
 *
 * A trip curve rises to the top where its monitor ceases to operate. The margin's region lies between clearing by the chosen
 * monitors and the first damage; where damage comes first, the region between the two is the one that is late.
 */
import type { CoordinationSheet, StressPoint } from "../../../study/coordination/coordinate";
import {
  DEFAULT_REQUIREMENT,
  firstDamage,
  schemeMargin,
} from "../../../study/coordination/margins";

/** Ends of the time axis, seconds; what is outside is drawn at the edge and said in figures. */
export const FIRST_S = 1e-5;
export const LAST_S = 100;

export interface Place {
  readonly x: number;
  readonly s: number;
}

/** Runs of places that are joined. */
export type Curve = readonly (readonly Place[])[];

/** A run between a lower and an upper curve. */
export interface Region {
  readonly lower: readonly Place[];
  readonly upper: readonly Place[];
}

export interface MonitorCurve {
  readonly index: number;
  readonly curve: Curve;
}

export interface DamageCurve {
  readonly key: string;
  readonly part: StressPoint["damage"][number]["part"];
  readonly milestone: StressPoint["damage"][number]["milestone"];
  readonly curve: Curve;
}

export interface SheetCurves {
  readonly monitors: readonly MonitorCurve[];
  readonly damage: readonly DamageCurve[];
  /** Clearing by the chosen monitors. */
  readonly clearing: Curve;
  readonly actuatorBand: readonly Region[];
  readonly margin: readonly Region[];
  readonly late: readonly Region[];
  readonly hurt: readonly Region[];
  /** From the early to the late estimate of the onset. */
  readonly onsetBand: readonly Region[];
}

/** Curves of a sheet for the monitors that are chosen. */
export function sheetCurves(sheet: CoordinationSheet, chosen: readonly boolean[]): SheetCurves {
  const points = sheet.points.filter((p) => p.facts !== null);
  const scheme = points.map((p) => schemeMargin(p, chosen, DEFAULT_REQUIREMENT).clearS);
  const damageS = points.map((p) => firstDamage(p)?.nominalS ?? LAST_S);
  const clearS = scheme.map((c) => c?.nominal ?? null);
  const onset = points.map((p) => p.damage.find((d) => d.milestone === "onset"));
  const between = (
    low: (k: number) => number | null | undefined,
    high: (k: number) => number | null | undefined,
  ): readonly Region[] => regions(points, low, high);
  return {
    monitors: chosen.flatMap((isChosen, index) => {
      if (!isChosen) return [];
      const curve = tripCurve(points, (p) => p.monitors[index]?.latestS ?? null);
      return curve.length === 0 ? [] : [{ index, curve }];
    }),
    damage: damageCurves(points),
    clearing: tripCurve(points, (_, k) => clearS[k] ?? null),
    actuatorBand: between(
      (k) => scheme[k]?.shortest,
      (k) => scheme[k]?.longest,
    ),
    margin: between(
      (k) => clearS[k],
      (k) => Math.max(clearS[k] ?? 0, damageS[k] as number),
    ),
    late: lateRegions(points, clearS, damageS),
    hurt: between(
      (k) => damageS[k],
      () => LAST_S,
    ).filter(isThick),
    onsetBand: between(
      (k) => onset[k]?.earlyS,
      (k) => (onset[k]?.earlyS == null ? null : (onset[k]?.lateS ?? LAST_S)),
    ),
  };
}

/** On the axis, whatever it is. */
export function clampS(seconds: number): number {
  return Math.min(Math.max(seconds, FIRST_S), LAST_S);
}

/** Place in the list of the point that lies nearest to `x` on the logarithmic axis; -1 for an empty list. */
export function nearestPoint(points: readonly StressPoint[], x: number): number {
  let nearest = -1;
  let least = Infinity;
  for (const [i, p] of points.entries()) {
    const away = Math.abs(Math.log(p.x / x));
    if (away >= least) continue;
    nearest = i;
    least = away;
  }
  return nearest;
}

function tripCurve(
  points: readonly StressPoint[],
  timeOf: (p: StressPoint, k: number) => number | null,
): Curve {
  const runs: Place[][] = [];
  let run: Place[] | null = null;
  for (const [k, p] of points.entries()) {
    const s = timeOf(p, k);
    if (s === null) {
      const last = run?.at(-1);
      if (last !== undefined) run?.push({ x: last.x, s: LAST_S });
      run = null;
      continue;
    }
    if (run === null) {
      run = k === 0 ? [] : [{ x: p.x, s: LAST_S }];
      runs.push(run);
    }
    run.push({ x: p.x, s: clampS(s) });
  }
  return runs;
}

function damageCurves(points: readonly StressPoint[]): readonly DamageCurve[] {
  const curves = new Map<
    string,
    { part: DamageCurve["part"]; milestone: DamageCurve["milestone"]; curve: Place[][] }
  >();
  const open = new Map<string, number>();
  for (const [k, p] of points.entries()) {
    for (const { part, milestone, nominalS } of p.damage) {
      if (nominalS === null || nominalS > LAST_S) continue;
      const key = `${part} ${milestone}`;
      const found = curves.get(key) ?? { part, milestone, curve: [] };
      curves.set(key, found);
      if (open.get(key) !== k - 1) found.curve.push([]);
      open.set(key, k);
      found.curve.at(-1)?.push({ x: p.x, s: clampS(nominalS) });
    }
  }
  return [...curves].map(([key, c]) => ({ key, ...c }));
}

function regions(
  points: readonly StressPoint[],
  low: (k: number) => number | null | undefined,
  high: (k: number) => number | null | undefined,
): readonly Region[] {
  const found: { lower: Place[]; upper: Place[] }[] = [];
  let isOpen = false;
  for (const [k, { x }] of points.entries()) {
    const [a, b] = [low(k), high(k)];
    if (a == null || b == null) {
      isOpen = false;
      continue;
    }
    if (!isOpen) found.push({ lower: [], upper: [] });
    isOpen = true;
    found.at(-1)?.lower.push({ x, s: clampS(a) });
    found.at(-1)?.upper.push({ x, s: clampS(b) });
  }
  return found;
}

/** Runs in which damage comes before clearing, from where the two cross. */
function lateRegions(
  points: readonly StressPoint[],
  clearS: readonly (number | null)[],
  damageS: readonly number[],
): readonly Region[] {
  const found: { lower: Place[]; upper: Place[] }[] = [];
  const isLate = (k: number): boolean => {
    const damage = damageS[k];
    return damage !== undefined && damage < LAST_S && damage < (clearS[k] ?? LAST_S);
  };
  for (const [k, { x }] of points.entries()) {
    const place = (s: number): Place => ({ x, s: clampS(s) });
    if (isLate(k)) {
      if (!isLate(k - 1)) {
        const tip = crossingPlace(points, clearS, damageS, k - 1, k);
        found.push({ lower: tip, upper: tip.slice() });
      }
      found.at(-1)?.lower.push(place(damageS[k] as number));
      found.at(-1)?.upper.push(place(clearS[k] ?? LAST_S));
    } else if (isLate(k - 1)) {
      const tip = crossingPlace(points, clearS, damageS, k - 1, k);
      found.at(-1)?.lower.push(...tip);
      found.at(-1)?.upper.push(...tip);
    }
  }
  return found;
}

/** Where clearing and damage cross between two points, straight on the logarithmic sheet; nothing without four times. */
function crossingPlace(
  points: readonly StressPoint[],
  clearS: readonly (number | null)[],
  damageS: readonly number[],
  a: number,
  b: number,
): Place[] {
  const [p, q] = [points[a], points[b]];
  const [clearA, clearB] = [clearS[a], clearS[b]];
  const [hurtA, hurtB] = [damageS[a], damageS[b]];
  if (p === undefined || q === undefined || clearA == null || clearB == null) return [];
  if (hurtA === undefined || hurtB === undefined) return [];
  const [one, other] = [Math.log(hurtA / clearA), Math.log(hurtB / clearB)];
  const share = one / (one - other);
  const along = (from: number, to: number): number => from * (to / from) ** share;
  return [{ x: along(p.x, q.x), s: clampS(along(clearA, clearB)) }];
}

function isThick({ lower, upper }: Region): boolean {
  return lower.some((p, k) => (upper[k] as Place).s > p.s);
}
