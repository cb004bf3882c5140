/**
 * Advice: settings for the monitors that are enabled, from what trials have shown. It proposes and says why; nothing is changed by
 * it.
 *
 * Rule, for each sweep: among the points whose false trips keep the accepted rate and whose least margin over the sweep's
 * faults, on a steady carrier, keeps the required one, the most patient: fewest false trips, then the longest clearing time.
 * Where no point keeps both, the greatest least margin among those that keep the rate; where none keeps the rate, the fewest false trips. What
 * is not reached is said, and so is every cell of the coverage that no sweep could change.
 */
import type { Project } from "../../project/types";
import { countOf, formatApart, formatNumber, formatRatio } from "../../units/format";
import { poissonRate } from "../statistics/poisson";
import type { CoverageSummary } from "./coverage";
import {
  type Application,
  applySettings,
  readPath,
  type Setting,
  settingNow,
  sweptMonitors,
} from "./windowPaths";
import type { WindowPoint, WindowSummary } from "./windowSummary";

export interface AdviceInput {
  readonly project: Project;
  readonly coverage: CoverageSummary | null;
  readonly sweeps: readonly WindowSummary[];
  /** Least time to onset over clearing. */
  readonly requiredMargin: number;
  /** Accepted false trips an hour, all sweeps each for itself. */
  readonly acceptedPerHour: number;
  /** Which estimate of the melting the margin is taken from. */
  readonly edge: "nominal" | "early";
}

export interface Proposal {
  readonly path: string;
  readonly now: number;
  readonly proposed: number;
}

/** A rate of false trips that the use played does not show to be within what is accepted. */
export interface UnprovedRate {
  readonly hours: number;
  readonly count: number;
  readonly perHour: number;
  /** Upper end of its interval at 95 %. */
  readonly high: number;
  /** Use that would prove it, all in all, if no further false trip came; null where none would. */
  readonly provedByHours: number | null;
}

export interface Advice {
  /** What was made best, in words. */
  readonly optimised: readonly string[];
  readonly proposals: readonly Proposal[];
  /** What could not be reached, or is not known, in words; rates that are not proved stand apart. */
  readonly unreached: readonly string[];
  /** Of the points proposed. */
  readonly unproved: readonly UnprovedRate[];
  /** The proposals as changes somebody may make; they are not made here. */
  readonly application: Application;
}

interface Judged {
  readonly point: WindowPoint;
  /** Least margin over the faults; 0 where one is missed, Infinity where nothing melts. */
  readonly margin: number;
  readonly clearingS: number;
  readonly perHour: number;
}

export function advise(input: AdviceInput): Advice {
  const { project, sweeps, coverage } = input;
  const optimised: string[] = [];
  const unreached: string[] = [];
  const settings: Setting[] = [];
  const unproved: UnprovedRate[] = [];
  for (const sweep of sweeps) {
    const off = whyLeft(project, sweep);
    if (off !== "") {
      unreached.push(off);
      continue;
    }
    const chosen = chosenPoint(sweep, input);
    optimised.push(...chosen.optimised);
    unreached.push(...chosen.unreached);
    if (chosen.judged === null) continue;
    unproved.push(...unprovedRate(chosen.judged, input.acceptedPerHour, sweep.hours));
    settings.push({ path: sweep.x.path, value: chosen.judged.point.x });
    settings.push({ path: sweep.y.path, value: chosen.judged.point.y });
  }
  if (coverage !== null) unreached.push(...openRows(coverage, sweeps));
  else unreached.push("no coverage has been run, so faults beyond the sweep are not judged");
  const monitors = sweptMonitors(project);
  return {
    optimised,
    proposals: settings.map(({ path, value }): Proposal => {
      const read = readPath(monitors, path);
      const def = read.ok ? monitors.find((m) => m.id === read.path.monitor) : undefined;
      const now = read.ok && def !== undefined ? settingNow(def, read.path) : Number.NaN;
      return { path, now, proposed: value };
    }),
    unreached,
    unproved,
    application: applySettings(project, settings),
  };
}

/** A monitor that is off gets no advice. */
function whyLeft(project: Project, sweep: WindowSummary): string {
  for (const { path } of [sweep.x, sweep.y]) {
    const id = path.split(".")[0];
    const def = project.monitors.find((m) => m.id === id);
    if (def !== undefined && def.role === "off")
      return `${def.name} is off, so nothing is proposed for it`;
  }
  return "";
}

interface Choice {
  readonly judged: Judged | null;
  readonly optimised: readonly string[];
  readonly unreached: readonly string[];
}

function chosenPoint(sweep: WindowSummary, input: AdviceInput): Choice {
  const { requiredMargin, acceptedPerHour, edge } = input;
  const what = `${sweep.x.path} and ${sweep.y.path}`;
  const judged = sweep.points.flatMap((point) => judge(point, edge));
  if (judged.length === 0)
    return {
      judged: null,
      optimised: [],
      unreached: [
        `nothing is proposed for ${what}: the sweep has counted no use, or struck nothing on a carrier`,
      ],
    };
  const quiet = judged.filter((j) => j.perHour <= acceptedPerHour);
  const both = quiet.filter((j) => j.margin >= requiredMargin);
  const played = `in the ${formatNumber(sweep.hours)} h played`;
  const accepted = `${acceptedPerHour} false trips an hour ${played}`;
  const onset = edge === "early" ? "by the early edge of the onset" : "by the nominal onset";
  const required = `a margin of ${formatRatio(requiredMargin)} ${onset}`;
  if (both.length > 0) {
    const best = first(both, (a, b) => a.perHour - b.perHour || b.clearingS - a.clearingS);
    return {
      judged: best,
      optimised: [
        `${what} let the monitor wait as long as it may: ${countOf(both.length, "point keeps", "points keep")} ${required} and ${accepted}, and of these the one with the fewest false trips, then the longest clearing time, is proposed`,
      ],
      unreached: shortfalls(best.point, requiredMargin),
    };
  }
  if (quiet.length > 0) {
    const best = first(quiet, (a, b) => b.margin - a.margin || a.clearingS - b.clearingS);
    return {
      judged: best,
      optimised: [
        `${what} are set for the greatest margin: of the points that keep ${accepted} none keeps the required margin as well`,
      ],
      unreached: [
        `${required} is not reached within ${accepted}: ${bestWords(best, edge)}`,
        ...shortfalls(best.point, requiredMargin),
      ],
    };
  }
  const best = first(judged, (a, b) => a.perHour - b.perHour || b.margin - a.margin);
  return {
    judged: best,
    optimised: [`${what} are set for the fewest false trips, whatever the margin`],
    unreached: [
      `no point of the sweep stays within ${accepted}: the best one has ${formatApart(best.perHour, acceptedPerHour, 2)} an hour`,
    ],
  };
}

function judge(point: WindowPoint, edge: "nominal" | "early"): readonly Judged[] {
  const carrier = point.faults.filter((f) => f.signal === "carrier");
  if (point.falseTrips === null || carrier.length === 0) return [];
  const margins = carrier.map((f) => marginOf(f, edge));
  const clearings = carrier.map((f) => f.clearing95S ?? Infinity);
  return [
    {
      point,
      margin: Math.min(...margins),
      clearingS: Math.max(...clearings),
      perHour: point.falseTrips.perHour,
    },
  ];
}

function marginOf(f: WindowPoint["faults"][number], edge: "nominal" | "early"): number {
  if (f.missed > 0) return 0;
  return (edge === "early" ? f.marginEarly : f.margin) ?? Infinity;
}

/** What the best of the points comes to. */
function bestWords({ point, margin }: Judged, edge: "nominal" | "early"): string {
  const worst = point.faults.find((f) => f.signal === "carrier" && marginOf(f, edge) === margin);
  const fault = worst?.fault ?? "no fault";
  return margin === 0
    ? `the best point misses ${fault}`
    : `the best point has ${formatRatio(margin)}, with ${fault}`;
}

/** What the choice was not made by: the early edge of the estimates, and faults that come in speech. */
function shortfalls({ faults }: WindowPoint, required: number): readonly string[] {
  return faults.flatMap(({ fault, signal, runs, missed, marginEarly }) => {
    const where = `${fault} ${signal === "carrier" ? "on a carrier" : "in speech"}`;
    const late =
      signal === "carrier" && marginEarly !== null && marginEarly < required
        ? [
            `${where} is left a margin of ${formatRatio(marginEarly)} by the early edge of the estimates`,
          ]
        : [];
    return missed > 0
      ? [`${where} is not seen in ${missed} of ${countOf(runs, "run")}`, ...late]
      : late;
  });
}

function unprovedRate(
  { point: { falseTrips } }: Judged,
  accepted: number,
  hours: number,
): readonly UnprovedRate[] {
  if (falseTrips === null || falseTrips.high <= accepted) return [];
  const { count, perHour, high } = falseTrips;
  const provedByHours = accepted > 0 ? poissonRate(count, 1).high / accepted : null;
  return [{ hours, count, perHour, high, provedByHours }];
}

function openRows(coverage: CoverageSummary, sweeps: readonly WindowSummary[]): readonly string[] {
  const swept = new Set(sweeps.flatMap((s) => s.points[0]?.faults.map((f) => f.fault) ?? []));
  return coverage.rows.flatMap((row) => {
    const open = row.counts.thin + row.counts.late + row.counts.notCovered;
    if (open === 0 || swept.has(`${row.fault}@${row.part}`)) return [];
    const margin =
      row.worstMargin === null ? "" : ` with a least margin of ${formatRatio(row.worstMargin)}`;
    const cells = countOf(open, "cell");
    return [
      `${row.name} (${row.part}) stays open in ${cells}${margin}, and no sweep was made for it`,
    ];
  });
}

function first<T>(items: readonly T[], compare: (a: T, b: T) => number): T {
  return [...items].sort(compare)[0] as T;
}
