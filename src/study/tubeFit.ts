/**
 * Bring your own tube: the law of a triode fitted to what its data sheet says.
 *
 * Unknowns are K, mu, v0 and delta of ONE tube (see `physics/tube/triode`); mu and v0 may be held. They are searched as
 * logarithms (v0 in tens of volts), least squares of the residuals of `tubePoints`. The search itself is handed in: the
 * library lives outside the core. What it returns is rounded, mu, K and delta to six digits, v0 to 0.1 mV, and only then
 * judged, so that engines that differ in the last bits agree on tube, residuals and words.
 *
 * Uncertainty is the linearised one, s sqrt(diag (J'J)^-1), with s the residuals' spread but not under 2 %, the reading
 * of a printed sheet (estimate).
 */
import { exp, ln } from "../math/elementary";
import { DenseSolver } from "../physics/stage/denseSolve";
import {
  checkPoints,
  type FitProblem,
  type FitTarget,
  modelledFigures,
  type TubePoint,
  targetsOf,
} from "./tubePoints";

/** A sum of squares to be made least. `residuals` may return one array, written anew at every call. */
export interface LeastSquares {
  readonly start: readonly number[];
  readonly lowest: readonly number[];
  readonly highest: readonly number[];
  readonly count: number;
  readonly residuals: (parameters: readonly number[]) => Float64Array;
}

/** Finds parameters from `start` that make the sum least, inside the limits. */
export type Minimiser = (problem: LeastSquares) => readonly number[];

export interface FittedTube {
  readonly perveanceAPerV1p5: number;
  readonly mu: number;
  readonly offsetV: number;
  readonly divisionRatio: number;
}

export type TubeParameter = keyof FittedTube;

/** Values that are known and not to be found. */
export interface HeldValues {
  readonly mu?: number;
  readonly offsetV?: number;
}

/** One figure of the sheet beside the law's. */
export interface FitResidual extends FitTarget {
  /** NaN where the law cannot reach the column. */
  readonly modelled: number;
  /** ln(modelled/stated), times the weight. */
  readonly residual: number;
}

export interface FitWarning {
  readonly kind: "poorFit" | "uncertain" | "held" | "nothingToCheck" | "unreachable";
  readonly message: string;
}

export type TubeFit =
  | {
      readonly ok: true;
      readonly tube: FittedTube;
      readonly residuals: readonly FitResidual[];
      readonly rmsResidual: number;
      /** Standard errors: relative, of the offset in volts; null for what was held or cannot be told. */
      readonly uncertainty: Readonly<Record<TubeParameter, number | null>>;
      readonly warnings: readonly FitWarning[];
    }
  | { readonly ok: false; readonly problems: readonly FitProblem[] };

/**
 * A fit is called poor above this rms residual: idle, grid current and output of a sheet can be trusted to 10 %, so what
 * is missed by more is missed by the law, not by the sheet.
 */
export const POOR_FIT_RMS = 0.1;

const LEAST_SPREAD = 0.02;
/** Samples of one type differ by 10 to 20 %: a wider uncertainty says that the points do not determine the value. */
const UNCERTAIN = 0.2;
const UNCERTAIN_OFFSET_V = 5;
/** Stands for a column the law cannot reach, well above any residual of a near miss. */
const UNREACHED = 3;
const OFFSET_UNIT_V = 10;

const NAMES: readonly TubeParameter[] = ["perveanceAPerV1p5", "mu", "offsetV", "divisionRatio"];
const WORDS: Readonly<Record<TubeParameter, string>> = {
  perveanceAPerV1p5: "perveance",
  mu: "amplification factor",
  offsetV: "offset voltage",
  divisionRatio: "current division",
};
/** The range of a project's tube, narrower for the offset: contact potentials are volts, not hundreds. */
const LIMITS: Readonly<Record<TubeParameter, readonly [number, number]>> = {
  perveanceAPerV1p5: [1e-7, 1],
  mu: [1, 2000],
  offsetV: [-50, 50],
  divisionRatio: [0.01, 100],
};
/** First guesses; mu is tried over the range of transmitting triodes. */
const GUESSES_MU: readonly number[] = [10, 25, 60, 130, 220];
const GUESS_DELTA = 2;
const GUESSES_PERVEANCE: readonly number[] = Array.from({ length: 14 }, (_, k) => 1e-5 * (1 << k));

/** Fits a triode to points of its data sheet. Never throws for what a person gave. */
export function fitTube(
  points: readonly TubePoint[],
  held: HeldValues,
  minimise: Minimiser,
): TubeFit {
  const problems = [...checkPoints(points), ...checkHeld(held)];
  if (problems.length > 0) return { ok: false, problems };
  const warnings: FitWarning[] = [];
  const known: { -readonly [Name in TubeParameter]?: number } = { ...held };
  const oneVoltage = points.every((point) => point.plateV === points[0]?.plateV);
  if (oneVoltage && known.mu === undefined && known.offsetV === undefined) {
    known.offsetV = 0;
    warnings.push({
      kind: "held",
      message:
        "all points are at one plate voltage, which cannot tell amplification factor and offset voltage apart; " +
        "the offset is held at 0 V",
    });
  }
  const free = NAMES.filter((name) => known[name] === undefined);
  const targets = targetsOf(points);
  const missing = checkTargets(targets, free.length);
  if (missing.length > 0) return { ok: false, problems: missing };

  const tubeAt = (x: readonly number[]): FittedTube => {
    const values = { ...known };
    for (const [index, name] of free.entries()) values[name] = fromScaled(name, x[index] ?? 0);
    return values as FittedTube;
  };
  const residuals = (x: readonly number[]) =>
    Float64Array.from(residualsOf(tubeAt(x), points, targets), (each) => each.residual);
  const limits = free.map((name) => LIMITS[name]);
  const problem = {
    lowest: limits.map(([low], index) => toScaled(free[index] as TubeParameter, low)),
    highest: limits.map(([, high], index) => toScaled(free[index] as TubeParameter, high)),
    count: targets.length,
    residuals,
  };
  // A search may end in a side valley; another start is tried as long as the fit is poor.
  let best: { tube: FittedTube; judged: readonly FitResidual[] } | null = null;
  for (const from of startsOf(known, points, targets)) {
    if (best !== null && rmsOf(best.judged) <= POOR_FIT_RMS) break;
    const start = free.map((name) => toScaled(name, from[name]));
    const tube = rounded(tubeAt(minimise({ ...problem, start })));
    const judged = residualsOf(tube, points, targets);
    if (best === null || rmsOf(judged) < rmsOf(best.judged)) best = { tube, judged };
  }
  if (best === null) throw new Error("no start for the fit");
  const { tube, judged } = best;
  const rmsResidual = rmsOf(judged);
  const uncertainty = uncertaintyOf(
    free,
    free.map((name) => toScaled(name, tube[name])),
    residuals,
    rmsResidual,
  );
  warnings.push(...warningsOf(judged, rmsResidual, free, uncertainty));
  return { ok: true, tube, residuals: judged, rmsResidual, uncertainty, warnings };
}

/** A law beside the points it should meet, in the order of the points; no search. */
export function residualsOf(
  tube: FittedTube,
  points: readonly TubePoint[],
  targets: readonly FitTarget[] = targetsOf(points),
): readonly FitResidual[] {
  const law = {
    perveance: tube.perveanceAPerV1p5,
    mu: tube.mu,
    offsetV: tube.offsetV,
    divisionRatio: tube.divisionRatio,
  };
  const figures = modelledFigures(law, points, targets);
  return targets.map((target, index) => {
    const modelled = figures[index] as number;
    const { stated, floor, weight } = target;
    const off = ln((modelled + floor) / (stated + floor));
    // Minus infinity: the law is cut off where the sheet has current.
    const near = off > -UNREACHED && off < UNREACHED;
    const residual = weight * (near ? off : off < 0 ? -UNREACHED : UNREACHED);
    return { ...target, modelled, residual };
  });
}

/** Root mean square of the weighted logarithmic residuals. */
export function rmsOf(residuals: readonly FitResidual[]): number {
  const sum = residuals.reduce((total, { residual }) => total + residual * residual, 0);
  return residuals.length === 0 ? 0 : Math.sqrt(sum / residuals.length);
}

function toScaled(name: TubeParameter, value: number): number {
  return name === "offsetV" ? value / OFFSET_UNIT_V : ln(value);
}

function fromScaled(name: TubeParameter, x: number): number {
  return name === "offsetV" ? x * OFFSET_UNIT_V : exp(x);
}

function rounded(tube: FittedTube): FittedTube {
  const sixDigits = (value: number) => Number(value.toPrecision(6));
  return {
    perveanceAPerV1p5: sixDigits(tube.perveanceAPerV1p5),
    mu: sixDigits(tube.mu),
    offsetV: Math.round(tube.offsetV * 1e4) / 1e4 + 0, // no -0
    divisionRatio: sixDigits(tube.divisionRatio),
  };
}

function checkHeld(held: HeldValues): FitProblem[] {
  return (["mu", "offsetV"] as const).flatMap((name) => {
    const value = held[name];
    const [low, high] = LIMITS[name];
    if (value === undefined || (value >= low && value <= high)) return [];
    return [
      {
        point: null,
        message: `the ${WORDS[name]} held is ${value}`,
        remedy: `give a value from ${low} to ${high}, or leave it to the fit`,
      },
    ];
  });
}

function checkTargets(targets: readonly FitTarget[], unknowns: number): FitProblem[] {
  const problems: FitProblem[] = [];
  if (targets.length < unknowns) {
    problems.push({
      point: null,
      message: `${targets.length} figures for ${unknowns} unknowns`,
      remedy:
        "give more points, or plate load, grid current, drive and output of the columns, or hold the amplification factor",
    });
  }
  if (!targets.some(({ quantity }) => quantity === "gridCurrentA")) {
    problems.push({
      point: null,
      message: "no point tells the grid current, so the current division cannot be found",
      remedy:
        "give the grid current of one column with its plate load or output, or of a curve point",
    });
  }
  return problems;
}

/** The best perveance for each guess of mu, best mu first. */
function startsOf(
  known: Partial<FittedTube>,
  points: readonly TubePoint[],
  targets: readonly FitTarget[],
): readonly FittedTube[] {
  const starts = (known.mu === undefined ? GUESSES_MU : [known.mu]).map((mu) => {
    const tubes = GUESSES_PERVEANCE.map((perveanceAPerV1p5) => {
      const offsetV = known.offsetV ?? 0;
      const tube = { perveanceAPerV1p5, mu, offsetV, divisionRatio: GUESS_DELTA };
      return { tube, rms: rmsOf(residualsOf(tube, points, targets)) };
    });
    return tubes.reduce((best, next) => (next.rms < best.rms ? next : best));
  });
  return starts.sort((a, b) => a.rms - b.rms).map(({ tube }) => tube);
}

/** Standard error of each free parameter, or null all over when the points leave some mixture of them open. */
function uncertaintyOf(
  free: readonly TubeParameter[],
  at: readonly number[],
  residuals: (x: readonly number[]) => Float64Array,
  rms: number,
): Record<TubeParameter, number | null> {
  const result: Record<TubeParameter, number | null> = {
    perveanceAPerV1p5: null,
    mu: null,
    offsetV: null,
    divisionRatio: null,
  };
  const n = free.length;
  const step = 1e-4;
  const moved = (index: number, by: number) =>
    residuals(at.map((value, k) => (k === index ? value + by : value)));
  const slopes = free.map((_, index) => {
    const up = moved(index, step);
    const down = moved(index, -step);
    return up.map((value, k) => (value - (down[k] as number)) / (2 * step));
  });
  const count = slopes[0]?.length ?? 0;
  const spread = Math.max(LEAST_SPREAD, count > n ? rms * Math.sqrt(count / (count - n)) : 0);
  const solver = new DenseSolver(n);
  solver.clear(n);
  for (const [r, row] of slopes.entries()) {
    for (const [c, column] of slopes.entries()) {
      solver.matrix[r * n + c] = row.reduce(
        (sum, value, k) => sum + value * (column[k] as number),
        0,
      );
    }
  }
  if (!solver.factor()) return result;
  const unit = new Float64Array(n);
  for (const [index, name] of free.entries()) {
    unit.fill(0);
    unit[index] = 1;
    solver.solve(unit);
    const variance = unit[index] as number;
    // A negative or huge variance is a matrix that is singular but for rounding.
    if (!(variance > 0 && variance < 1e8)) continue;
    const error = spread * Math.sqrt(variance);
    result[name] = name === "offsetV" ? error * OFFSET_UNIT_V : error;
  }
  return result;
}

function warningsOf(
  residuals: readonly FitResidual[],
  rms: number,
  free: readonly TubeParameter[],
  uncertainty: Readonly<Record<TubeParameter, number | null>>,
): FitWarning[] {
  const warnings: FitWarning[] = [];
  const unreached = new Set(
    residuals.filter(({ modelled }) => !Number.isFinite(modelled)).map(({ point }) => point + 1),
  );
  if (unreached.size > 0) {
    warnings.push({
      kind: "unreachable",
      message: `no drive brings the tube to what is stated in point ${[...unreached].join(", ")}; check its figures and units`,
    });
  }
  if (rms > POOR_FIT_RMS) {
    warnings.push({
      kind: "poorFit",
      message:
        `poor fit: the figures are missed by ${percent(rms)} rms; a data sheet can be trusted to about ` +
        `${percent(POOR_FIT_RMS)}, so the law does not describe this tube, or a figure or unit is wrong`,
    });
  }
  if (residuals.length === free.length) {
    warnings.push({
      kind: "nothingToCheck",
      message: `${residuals.length} figures for ${free.length} unknowns: nothing is left over to check the fit`,
    });
  }
  for (const name of free) {
    const error = uncertainty[name];
    if (error !== null && error <= (name === "offsetV" ? UNCERTAIN_OFFSET_V : UNCERTAIN)) continue;
    const words = WORDS[name];
    const known =
      error === null
        ? `the points do not determine the ${words}`
        : `the points determine the ${words} only to ${name === "offsetV" ? `${error.toPrecision(2)} V` : percent(error)}`;
    const advice =
      name === "divisionRatio"
        ? "give more grid currents"
        : "give points at other plate voltages, or hold the amplification factor";
    warnings.push({ kind: "uncertain", message: `${known}; ${advice}` });
  }
  return warnings;
}

function percent(ratio: number): string {
  return `${Number((100 * ratio).toPrecision(2))} %`;
}
