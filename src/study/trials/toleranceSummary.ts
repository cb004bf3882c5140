/**
 * What the units of a tolerance study come to. Figures of the fault are over the units that stay on the air and in which it
 * struck: a unit that trips in normal use never gets that far, and is counted by itself.
 *
 * A margin counts as endless where nothing is damaged within the time the unprotected run is followed, and as 0 where protection has
 * not ended the fault: it has not been cleared, or a part heats on to its damage although it has. Rank correlation tells how steadily the margin follows an input, by itself and in which direction;
 * Sobol indices, of the logarithm of the margin and over all units, what share of its variance the input has. There a case that was
 * not ended counts with the time in which a person opens the key, and one that is not damaged as damaged when the run left alone ends.
 */
import { ln, log10, powerOfTen } from "../../math/elementary";
import { type Histogram, histogram, quantile, sorted } from "../statistics/quantiles";
import { correlationOfRanks, rankNoise, ranksOf } from "../statistics/rankCorrelation";
import {
  type SobolIndex,
  type SobolRow,
  sobolIndices,
  sobolRunsPerRow,
} from "../statistics/sobolIndices";
import type { Steps } from "./steps";
import type { ToleranceOutcome } from "./toleranceCases";
import { type Distribution, type Standing, varyingInputs } from "./toleranceInputs";
import type { ToleranceOptions } from "./toleranceOptions";

export const PERCENTILES = [1, 5, 25, 50, 75, 95, 99] as const;

/** Percentiles in the order of PERCENTILES; null for endless. */
export interface Spread {
  readonly units: number;
  readonly percentiles: readonly (number | null)[];
  /** Bins of equal width in the logarithm; null where nothing finite is there to count. */
  readonly histogram: Histogram | null;
  /** Units without a finite value. */
  readonly endless: number;
}

export interface InputReport {
  readonly name: string;
  readonly what: string;
  readonly unit: string;
  readonly standing: Standing;
  readonly why: string;
  readonly distribution: Distribution;
  /** With the margin, -1 to 1; null where the input does not vary. */
  readonly rankCorrelation: number | null;
  /** Shares of the variance of the logarithm of the margin; null unless they were asked for and can be told. */
  readonly sobol: SobolIndex | null;
}

export interface WorstCase {
  readonly index: number;
  readonly margin: number | null;
  readonly marginEarly: number | null;
  readonly first: string | null;
  readonly operateS: number | null;
  /** When protection had ended the fault; null where it has not, or where a part heats on. */
  readonly endedS: number | null;
  readonly heatsOn: boolean;
  readonly onsetS: number | null;
}

export interface ToleranceSummary {
  readonly done: number;
  readonly count: number;
  readonly fault: ToleranceOptions["fault"];
  readonly requiredMargin: number;
  /** Units without a working point at full drive. */
  readonly dead: number;
  readonly tripInNormalUse: {
    readonly units: number;
    readonly share: number;
    /** By monitor, most first; a unit may stand under several. */
    readonly monitors: readonly {
      readonly id: string;
      readonly name: string;
      readonly units: number;
    }[];
  };
  /** Units on the air that the fault did not strike, and in which protection did not end it; those in which a part heats on included. */
  readonly notStruck: number;
  readonly notCleared: number;
  readonly heatsOn: number;
  readonly firstMonitors: readonly {
    readonly id: string;
    readonly name: string;
    readonly units: number;
  }[];
  readonly percentiles: typeof PERCENTILES;
  readonly operateS: Spread;
  /** Until protection had ended the fault: clearing, or the first actuator where that acted later. */
  readonly clearingS: Spread;
  readonly margin: Spread;
  readonly marginEarly: Spread;
  readonly belowRequired: { readonly units: number; readonly share: number };
  readonly belowRequiredEarly: { readonly units: number; readonly share: number };
  readonly worst: readonly WorstCase[];
  /** Rank correlations smaller than this are within noise: two standard errors of those of unrelated inputs; null for few units. */
  readonly rankNoise: number | null;
  /** Strongest first. */
  readonly inputs: readonly InputReport[];
}

interface Counted {
  readonly index: number;
  readonly outcome: ToleranceOutcome;
  readonly margin: number;
  readonly marginEarly: number;
}

const BINS = 24;

/** Sums up the outcomes known so far, a sort of all of them between two pauses. */
export function* toleranceSummarySteps(
  outcomes: readonly (ToleranceOutcome | null)[],
  count: number,
  options: ToleranceOptions,
  operatorS: number,
  nameOf: (id: string) => string,
): Steps<ToleranceSummary> {
  // the rows of a study of indices share their draws: A and B alone are independent cases
  const rowLength = options.sobol ? sobolRunsPerRow(varyingInputs(options.inputs).length) : 1;
  const known = outcomes.flatMap((outcome, index) =>
    outcome === null || index % rowLength > 1 ? [] : [{ outcome, index }],
  );
  const alive = known.filter(({ outcome }) => !outcome.isDead);
  const onAir = alive.filter(({ outcome }) => outcome.healthyTrips.length === 0);
  const struck: readonly Counted[] = onAir
    .filter(({ outcome }) => outcome.struck)
    .map(({ outcome, index }) => ({
      index,
      outcome,
      margin: counted(outcome, outcome.margin),
      marginEarly: counted(outcome, outcome.marginEarly),
    }));
  const byName = (ids: readonly string[]) => countIds(ids, nameOf);
  const isBelow = (margin: number): boolean => margin < options.requiredMargin;
  const margins = struck.map((c) => c.margin);
  const early = struck.map((c) => c.marginEarly);
  const endlessIfNull = (s: number | null): number => s ?? Infinity;
  const tripping = alive.length - onAir.length;
  yield;
  const operateS = spread(struck.map((c) => endlessIfNull(c.outcome.operateS)));
  yield;
  const clearingS = spread(struck.map((c) => endlessIfNull(endOf(c.outcome))));
  yield;
  const margin = spread(margins);
  yield;
  const marginEarly = spread(early);
  yield;
  const inputs = yield* inputReports(struck, outcomes, options, rowLength, operatorS);
  yield;
  const worst = [...struck]
    .sort((a, b) => a.margin - b.margin || a.index - b.index)
    .slice(0, options.worst)
    .map(({ index, outcome: o }) => ({
      index,
      margin: o.heatsOn ? null : o.margin,
      marginEarly: o.heatsOn ? null : o.marginEarly,
      first: o.first,
      operateS: o.operateS,
      endedS: endOf(o),
      heatsOn: o.heatsOn,
      onsetS: o.onsetS,
    }));
  return {
    done: outcomes.filter((o) => o !== null).length,
    count,
    fault: options.fault,
    requiredMargin: options.requiredMargin,
    dead: known.length - alive.length,
    tripInNormalUse: {
      units: tripping,
      share: share(tripping, alive.length),
      monitors: byName(alive.flatMap(({ outcome }) => outcome.healthyTrips)),
    },
    notStruck: onAir.length - struck.length,
    notCleared: struck.filter((c) => endOf(c.outcome) === null).length,
    heatsOn: struck.filter((c) => c.outcome.heatsOn).length,
    firstMonitors: byName(struck.flatMap((c) => c.outcome.first ?? [])),
    percentiles: PERCENTILES,
    operateS,
    clearingS,
    margin,
    marginEarly,
    belowRequired: sharedBy(margins.filter(isBelow).length, margins.length),
    belowRequiredEarly: sharedBy(early.filter(isBelow).length, early.length),
    worst,
    rankNoise: rankNoise(struck.length),
    inputs,
  };
}

/** What a margin counts as. */
function counted(outcome: ToleranceOutcome, margin: number | null): number {
  if (outcome.onsetS === null) return Infinity;
  return endOf(outcome) === null ? 0 : (margin ?? Infinity);
}

/** When protection had ended the fault for good. */
function endOf({ endedS, heatsOn }: ToleranceOutcome): number | null {
  return heatsOn ? null : endedS;
}

function* inputReports(
  struck: readonly Counted[],
  outcomes: readonly (ToleranceOutcome | null)[],
  { inputs, sobol }: ToleranceOptions,
  rowLength: number,
  operatorS: number,
): Steps<readonly InputReport[]> {
  const ranks = ranksOf(struck.map((c) => c.margin));
  const varying = varyingInputs(inputs);
  yield;
  const indices = sobol ? sobolIndices(sobolRows(outcomes, rowLength, operatorS)) : null;
  const strength = ({ rankCorrelation: r, sobol: s }: InputReport): number =>
    s === null ? Math.abs(r ?? 0) : s.total;
  const reports: InputReport[] = [];
  for (const [i, { name, what, unit, standing, why, usual }] of inputs.entries()) {
    yield;
    const values = struck.map((c) => c.outcome.values[i] as number);
    reports.push({
      name,
      what,
      unit,
      standing,
      why,
      distribution: usual,
      rankCorrelation: correlationOfRanks(ranksOf(values), ranks),
      sobol: indices?.[varying.indexOf(i)] ?? null,
    });
  }
  return reports.sort((a, b) => strength(b) - strength(a));
}

/** Complete rows in which the fault struck every unit. */
function sobolRows(
  outcomes: readonly (ToleranceOutcome | null)[],
  rowLength: number,
  operatorS: number,
): readonly SobolRow[] {
  const rows: SobolRow[] = [];
  for (let at = 0; at + rowLength <= outcomes.length; at += rowLength) {
    const logs = outcomes.slice(at, at + rowLength).flatMap((o) => {
      const lastedS = o?.struck ? (o.onsetS ?? o.unharmedS) : null;
      return o === null || lastedS === null ? [] : [ln(lastedS / (endOf(o) ?? operatorS))];
    });
    const [a = 0, b = 0, ...mixed] = logs;
    if (logs.length === rowLength) rows.push({ a, b, mixed });
  }
  return rows;
}

function spread(values: readonly number[]): Spread {
  const sample = sorted(values);
  const finite = [...sample.filter((x) => x > 0 && x < Infinity)];
  return {
    units: values.length,
    percentiles: PERCENTILES.map((p) => {
      const q = quantile(sample, p / 100);
      return Number.isFinite(q) ? q : null;
    }),
    histogram: finite.length === 0 ? null : histogram(finite, logEdges(finite)),
    endless: values.filter((x) => x === Infinity).length,
  };
}

/** Bins of equal width in the logarithm over a sorted sample. */
function logEdges(sample: readonly number[]): readonly number[] {
  const low = sample[0] as number;
  const high = sample[sample.length - 1] as number;
  if (!(high > low)) return [low, high];
  const from = log10(low);
  const width = (log10(high) - from) / BINS;
  // the ends exactly: a rounded one would leave a value outside
  return Array.from({ length: BINS + 1 }, (_, k) =>
    k === 0 ? low : k === BINS ? high : powerOfTen(from + k * width),
  );
}

function countIds(
  ids: readonly string[],
  nameOf: (id: string) => string,
): readonly { readonly id: string; readonly name: string; readonly units: number }[] {
  const counts = new Map<string, number>();
  for (const id of ids) counts.set(id, (counts.get(id) ?? 0) + 1);
  return [...counts]
    .map(([id, units]) => ({ id, name: nameOf(id), units }))
    .sort((a, b) => b.units - a.units || (a.id < b.id ? -1 : 1));
}

function sharedBy(units: number, of: number): { readonly units: number; readonly share: number } {
  return { units, share: share(units, of) };
}

function share(units: number, of: number): number {
  return of === 0 ? 0 : units / of;
}
