/** What a window sweep comes to: each point's faults and false trips, the front between them, and grids for a contour picture. */
import { quantile, sorted } from "../statistics/quantiles";
import { rate } from "./nuisanceSummary";
import { paretoFront } from "./windowFront";
import type { Grid } from "./windowGrid";
import type { WindowOptions } from "./windowOptions";

export type WindowOutcome =
  | {
      readonly kind: "fault";
      readonly fault: string;
      readonly signal: "carrier" | "speech";
      readonly struck: boolean;
      readonly onsetS: number | null;
      readonly onsetEarlyS: number | null;
      /** By variant, in the grid's order. */
      readonly operateS: readonly (number | null)[];
      readonly clearingS: readonly (number | null)[];
    }
  | {
      readonly kind: "use";
      readonly seconds: number;
      /** By variant. */
      readonly trips: readonly number[];
    }
  /** Its bench cannot be built: neither a quiet half minute nor a strike that was missed. */
  | { readonly kind: "notRun"; readonly problem: string };

export interface FaultPoint {
  readonly fault: string;
  readonly signal: "carrier" | "speech";
  readonly runs: number;
  /** Runs in which the point does not operate at all. */
  readonly missed: number;
  /** Null where that many do not operate. */
  readonly operateMedianS: number | null;
  readonly operate95S: number | null;
  readonly clearing95S: number | null;
  /** Least time to onset over clearing; null where a run is missed or nothing melts while it is followed. */
  readonly margin: number | null;
  readonly marginEarly: number | null;
}

export interface WindowPoint {
  readonly x: number;
  readonly y: number;
  readonly faults: readonly FaultPoint[];
  readonly falseTrips: {
    readonly count: number;
    readonly perHour: number;
    readonly low: number;
    readonly high: number;
  } | null;
  readonly onFront: boolean;
}

export interface WindowSummary {
  readonly x: { readonly path: string; readonly values: readonly number[] };
  readonly y: { readonly path: string; readonly values: readonly number[] };
  readonly hours: number;
  readonly faultRuns: number;
  /** Cases that could not be run, in no other figure here, and what the first of them said. */
  readonly notRun: number;
  readonly problem: string;
  /** x running fastest. */
  readonly points: readonly WindowPoint[];
  /** Indices of points: no other is at least as good in false trips and in the first fault's clearing time and better in one. */
  readonly front: readonly number[];
  /** One row for each y, null where nothing is known. */
  readonly contour: {
    readonly operateS: readonly (readonly (number | null)[])[];
    readonly margin: readonly (readonly (number | null)[])[];
    readonly falseTripsPerHour: readonly (readonly (number | null)[])[];
  };
}

type FaultRun = Extract<WindowOutcome, { kind: "fault" }>;
const SIGNALS = ["carrier", "speech"] as const;

export function summariseWindow(
  options: WindowOptions,
  grid: Grid,
  outcomes: readonly (WindowOutcome | null)[],
): WindowSummary {
  const faultRuns = outcomes.filter((o): o is FaultRun => o?.kind === "fault" && o.struck);
  const broken = outcomes.filter((o) => o?.kind === "notRun");
  const uses = outcomes.filter((o) => o?.kind === "use");
  const hours = uses.reduce((sum, o) => sum + o.seconds, 0) / 3600;
  const at = new Map(grid.variants.map((v, i) => [v.id, i]));
  const bare = grid.points.map(({ x, y, ids }) => {
    const variants = ids.map((id) => at.get(id) as number);
    const count = uses.reduce(
      (sum, o) => sum + variants.reduce((n, v) => n + (o.trips[v] as number), 0),
      0,
    );
    const faults = options.faults.flatMap(({ name }) =>
      SIGNALS.flatMap((signal) => {
        const runs = faultRuns.filter((r) => r.fault === name && r.signal === signal);
        return runs.length === 0 ? [] : [faultPoint(name, signal, runs, variants)];
      }),
    );
    return { x, y, faults, falseTrips: rate(count, hours) };
  });
  const costs = bare.map(({ faults, falseTrips }): readonly [number, number] => [
    falseTrips?.perHour ?? Infinity,
    faults[0]?.clearing95S ?? Infinity,
  ]);
  const front = hours > 0 && faultRuns.length > 0 ? paretoFront(costs) : [];
  const rows = (value: (p: (typeof bare)[number]) => number | null) =>
    options.y.values.map((_, j) => {
      const n = options.x.values.length;
      return bare.slice(j * n, (j + 1) * n).map(value);
    });
  return {
    x: { path: options.x.name, values: options.x.values },
    y: { path: options.y.name, values: options.y.values },
    hours,
    faultRuns: faultRuns.length,
    notRun: broken.length,
    problem: broken[0]?.problem ?? "",
    points: bare.map((p, i) => ({ ...p, onFront: front.includes(i) })),
    front,
    contour: {
      operateS: rows((p) => p.faults[0]?.operateMedianS ?? null),
      margin: rows((p) => p.faults[0]?.margin ?? null),
      falseTripsPerHour: rows((p) => p.falseTrips?.perHour ?? null),
    },
  };
}

function faultPoint(
  fault: string,
  signal: "carrier" | "speech",
  runs: readonly FaultRun[],
  variants: readonly number[],
): FaultPoint {
  const earliest = (values: readonly (number | null)[]): number =>
    Math.min(...variants.map((v) => values[v] ?? Infinity));
  const operates = runs.map((r) => earliest(r.operateS));
  const clears = runs.map((r) => earliest(r.clearingS));
  const worst = (onsetOf: (r: FaultRun) => number | null): number | null => {
    const margins = runs.flatMap((r, i) => {
      const onsetS = onsetOf(r);
      return onsetS === null ? [] : [onsetS / (clears[i] as number)];
    });
    return margins.length === 0 ? null : Math.min(...margins);
  };
  const at = (values: readonly number[], p: number): number | null =>
    finite(quantile(sorted(values), p));
  return {
    fault,
    signal,
    runs: runs.length,
    missed: operates.filter((s) => s === Infinity).length,
    operateMedianS: at(operates, 0.5),
    operate95S: at(operates, 0.95),
    clearing95S: at(clears, 0.95),
    margin: worst((r) => r.onsetS),
    marginEarly: worst((r) => r.onsetEarlyS),
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** One line of the chart that says why a shorter window costs nuisance trips. */
export interface WindowRow {
  readonly x: number;
  readonly y: number;
  readonly falseTripsPerHour: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly operateMedianS: number | null;
  readonly operate95S: number | null;
  readonly margin: number | null;
}

/** False trips an hour beside the first fault's operate time, point by point: a chart's data. */
export function windowRows({ points }: WindowSummary): readonly WindowRow[] {
  return points.map(({ x, y, faults, falseTrips }) => ({
    x,
    y,
    falseTripsPerHour: falseTrips?.perHour ?? null,
    low: falseTrips?.low ?? null,
    high: falseTrips?.high ?? null,
    operateMedianS: faults[0]?.operateMedianS ?? null,
    operate95S: faults[0]?.operate95S ?? null,
    margin: faults[0]?.margin ?? null,
  }));
}
