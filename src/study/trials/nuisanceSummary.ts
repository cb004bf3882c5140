/** What a nuisance trial comes to: rates by monitor with their intervals, and what trips under which use and condition. */
import type { Project } from "../../project/types";
import { KEY_DOWN_LIMIT_ID } from "../../protection/events";
import { poissonRate } from "../statistics/poisson";
import type { NuisanceCase } from "./nuisanceCases";
import { CONDITIONS } from "./ordinaryConditions";
import { USE_WORDS, USES } from "./ordinaryUse";

export interface Happening {
  readonly monitor: string;
  /** From the beginning of the case. */
  readonly atS: number;
}

export interface NuisanceOutcome {
  /** Of use that was played: 0 where nothing could be. */
  readonly seconds: number;
  /** Why the case could not be run at all; empty where it was. */
  readonly notRun: string;
  readonly engine: "quick" | "bench";
  /** Why the bench had to be run; empty for a quick run. */
  readonly reason: string;
  readonly trips: readonly Happening[];
  /** Operations of monitors in shadow: nothing would have happened. */
  readonly shadow: readonly Happening[];
  readonly alarms: readonly Happening[];
}

interface Rate {
  readonly count: number;
  readonly perHour: number;
  /** Exact Poisson interval at 95 %, if trips came independently. */
  readonly low: number;
  readonly high: number;
}

export interface NuisanceSummary {
  readonly cases: number;
  readonly casesRun: number;
  /** Cases that could not be run, in no other figure here. */
  readonly notRun: number;
  /** The first hundred of them, each with its problem. */
  readonly problems: readonly {
    readonly index: number;
    readonly label: string;
    readonly problem: string;
  }[];
  readonly hours: number;
  /** Of them, run on the bench itself. */
  readonly benchHours: number;
  readonly all: Rate | null;
  readonly monitors: readonly ({
    readonly id: string;
    readonly name: string;
    readonly alarms: number;
  } & Rate)[];
  readonly uses: readonly Share[];
  readonly conditions: readonly Share[];
  /** The first hundred, each with its case, which opens on the bench. */
  readonly trips: readonly ({ readonly index: number; readonly label: string } & Happening)[];
  /** Not ordinary use: what tripped, by name of the monitor, empty for nothing. */
  readonly exceptions: readonly {
    readonly index: number;
    readonly label: string;
    readonly monitors: readonly string[];
    readonly firstS: number | null;
  }[];
}

interface Share {
  readonly id: string;
  readonly words: string;
  readonly hours: number;
  readonly trips: number;
  readonly alarms: number;
  readonly monitors: readonly string[];
}

interface Done {
  readonly index: number;
  readonly of: NuisanceCase;
  readonly outcome: NuisanceOutcome;
}

const MOST_LISTED = 100;
const HOUR_S = 3600;

export function summariseNuisance(
  project: Project,
  cases: readonly NuisanceCase[],
  outcomes: readonly (NuisanceOutcome | null)[],
): NuisanceSummary {
  const known = cases.flatMap((of, index): readonly Done[] => {
    const outcome = outcomes[index] ?? null;
    return outcome === null ? [] : [{ index, of, outcome }];
  });
  // an outcome kept from an earlier version has no such field
  const isBroken = (d: Done): boolean => Boolean(d.outcome.notRun);
  const done = known.filter((d) => !isBroken(d));
  const broken = known.filter(isBroken);
  const ordinary = done.filter((d) => d.of.use !== null);
  const hours = hoursOf(ordinary);
  const ids = [...project.monitors.map((m) => m.id), KEY_DOWN_LIMIT_ID];
  const nameOf = (id: string): string =>
    project.monitors.find((m) => m.id === id)?.name ?? "Key-down time in tune mode";
  const isSeen = (id: string): boolean => {
    const def = project.monitors.find((m) => m.id === id);
    return def === undefined || def.role !== "off";
  };
  return {
    cases: cases.length,
    casesRun: done.length,
    notRun: broken.length,
    problems: broken
      .map(({ index, of, outcome }) => ({ index, label: of.label, problem: outcome.notRun }))
      .slice(0, MOST_LISTED),
    hours,
    benchHours: hoursOf(ordinary.filter((d) => d.outcome.engine === "bench")),
    all: rate(
      ordinary.reduce((sum, d) => sum + d.outcome.trips.length, 0),
      hours,
    ),
    monitors: ids.filter(isSeen).flatMap((id) => {
      const of = rate(countOf(ordinary, id, "trips"), hours);
      if (of === null) return [];
      return [{ id, name: nameOf(id), alarms: countOf(ordinary, id, "alarms"), ...of }];
    }),
    uses: USES.map((use) =>
      share(
        use,
        USE_WORDS[use],
        ordinary.filter((d) => d.of.use === use),
      ),
    ).filter((s) => s.hours > 0),
    conditions: [...new Map(CONDITIONS.map((c) => [c.id, c.words]))]
      .map(([id, words]) =>
        share(
          id,
          words,
          ordinary.filter((d) => d.of.condition === id),
        ),
      )
      .filter((s) => s.hours > 0),
    trips: ordinary
      .flatMap(({ index, of, outcome }) =>
        outcome.trips.map((trip) => ({ index, label: of.label, ...trip })),
      )
      .slice(0, MOST_LISTED),
    exceptions: done
      .filter((d) => d.of.use === null)
      .map(({ index, of, outcome }) => ({
        index,
        label: of.label,
        monitors: [...new Set(outcome.trips.map((t) => t.monitor))],
        firstS: outcome.trips[0]?.atS ?? null,
      })),
  };
}

function hoursOf(done: readonly Done[]): number {
  return done.reduce((sum, d) => sum + d.outcome.seconds, 0) / HOUR_S;
}

function countOf(done: readonly Done[], id: string, what: "trips" | "alarms"): number {
  return done.reduce((sum, d) => sum + d.outcome[what].filter((h) => h.monitor === id).length, 0);
}

/** Null while there are no hours to count in. */
export function rate(count: number, hours: number): Rate | null {
  if (!(hours > 0)) return null;
  const { rate: perHour, low, high } = poissonRate(count, hours);
  return { count, perHour, low, high };
}

function share(id: string, words: string, done: readonly Done[]): Share {
  const trips = done.flatMap((d) => d.outcome.trips);
  return {
    id,
    words,
    hours: hoursOf(done),
    trips: trips.length,
    alarms: done.reduce((sum, d) => sum + d.outcome.alarms.length, 0),
    monitors: [...new Set(trips.map((t) => t.monitor))],
  };
}
