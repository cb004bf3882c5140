/** Sweeps of two settings: properties on a fixed record, the front against brute force, and what a point means. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import type { MonitorDef } from "../../../src/project/protection";
import type { Project } from "../../../src/project/types";
import { planTrial } from "../../../src/study/trials/planTrial";
import { quickRun } from "../../../src/study/trials/quickMapRun";
import { runCase } from "../../../src/study/trials/runCase";
import type { Plain, Trial } from "../../../src/study/trials/trial";
import { paretoFront } from "../../../src/study/trials/windowFront";
import { applySettings } from "../../../src/study/trials/windowPaths";
import {
  type WindowOutcome,
  type WindowSummary,
  windowRows,
} from "../../../src/study/trials/windowSummary";
import { benchOf, faultScenario } from "../../support/cases";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const DELAYS_S = [0, 1e-3, 2e-3, 5e-3];
const PICKUPS_DB = [-0.6, -0.8, -1, -1.4];

/** Unequal detectors without smoothing: a record on which low gain operates often. */
function shaky(talker: number, endS: number): Project {
  const base = defaultProject([
    { atS: 0, do: "signal", signal: "speech", talker },
    { atS: 0, do: "key", down: true },
  ]);
  const outputForwardW = { ...base.sensors.outputForwardW, timeConstantS: 0.5e-3 };
  return { ...base, endS, seed: talker, sensors: { ...base.sensors, outputForwardW } };
}

function lowGainAt(project: Project, pickup: number, delayS: number, dropOff = -0.4): MonitorDef {
  const def = project.monitors.find((m) => m.id === "lowGain") as MonitorDef;
  const timing = { kind: "definite", delayS } as const;
  return {
    ...def,
    id: `${pickup} ${delayS}`,
    role: "shadow",
    smoothingS: 0,
    alarm: null,
    criteria: def.criteria.map((c) => ({ ...c, pickup, dropOff, timing })),
  };
}

function operations(project: Project, variants: readonly MonitorDef[]) {
  const outcome = quickRun(project, { variants });
  if (!outcome.ok) throw new Error(outcome.reason);
  const byId = new Map(variants.map((v) => [v.id, [] as number[]]));
  for (const o of outcome.operations) byId.get(o.monitor)?.push(o.atS);
  return (pickup: number, delayS: number): readonly number[] =>
    byId.get(`${pickup} ${delayS}`) ?? [];
}

describe("on one record without feedback", () => {
  it("a longer confirmation, or a pickup further out, never operates earlier and never adds a trip", () => {
    let seen = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (talker) => {
        const project = shaky(talker, 0.6);
        // one drop-off for all: an excursion ends for all of them together
        const of = operations(
          project,
          PICKUPS_DB.flatMap((p) => DELAYS_S.map((d) => lowGainAt(project, p, d))),
        );
        const holds = (a: readonly number[], b: readonly number[]): void => {
          expect(b.length).toBeLessThanOrEqual(a.length);
          b.forEach((atS, k) => {
            expect(atS).toBeGreaterThanOrEqual(a[k] as number);
          });
        };
        for (const p of PICKUPS_DB)
          for (let i = 1; i < DELAYS_S.length; i++)
            holds(of(p, DELAYS_S[i - 1] as number), of(p, DELAYS_S[i] as number));
        for (const d of DELAYS_S)
          for (let i = 1; i < PICKUPS_DB.length; i++)
            holds(of(PICKUPS_DB[i - 1] as number, d), of(PICKUPS_DB[i] as number, d));
        seen += of(PICKUPS_DB[0] as number, 0).length;
      }),
      fixedRuns(4),
    );
    expect(seen).toBeGreaterThan(20); // the record has something to operate on
  });

  it("a family of settings operates as each of them does as a monitor of its own", () => {
    const project = shaky(5, 0.6);
    const variants = PICKUPS_DB.flatMap((p) =>
      DELAYS_S.map((d) => lowGainAt(project, p, d, p + 0.3)),
    );
    const together = quickRun(project, { variants });
    const alone = quickRun({ ...project, monitors: [...project.monitors, ...variants] });
    if (!together.ok || !alone.ok) throw new Error("refused");
    const ours = (of: typeof alone): readonly string[] =>
      (of.ok ? of.operations : [])
        .filter((o) => o.kind === "operate" && o.role === "shadow")
        .map((o) => `${o.atS} ${o.monitor}`)
        .sort();
    expect(ours(alone).length).toBeGreaterThan(20);
    expect(ours(together)).toEqual(ours(alone));
  });
});

describe("the front of best compromises", () => {
  it("is what comparing every pair of points gives", () => {
    const cost = fc.oneof(fc.integer({ min: 0, max: 6 }), fc.constant(Infinity));
    fc.assert(
      fc.property(fc.array(fc.tuple(cost, cost), { maxLength: 30 }), (costs) => {
        const isBeaten = ([x, y]: readonly [number, number]): boolean =>
          costs.some(([a, b]) => a <= x && b <= y && (a < x || b < y));
        const byPairs = costs.flatMap((c, i) => (isBeaten(c) ? [] : [i]));
        expect(paretoFront(costs)).toEqual(byPairs);
      }),
      fixedRuns(50),
    );
  });
});

function planned(options: { readonly [name: string]: Plain }): Trial<WindowOutcome, WindowSummary> {
  const plan = planTrial({ kind: "window", project: defaultProject([]), seed: 1, options });
  if (!plan.ok) throw new Error(plan.problem);
  return plan.trial as unknown as Trial<WindowOutcome, WindowSummary>;
}

describe("a window sweep", () => {
  it("shows what confirmation costs an arc and saves in false trips", () => {
    const trial = planned({
      preset: "whyNotShorter",
      carrierInstants: 1,
      speechInstants: 0,
      hours: 0.01,
    });
    expect(trial.count).toBe(2);
    const summary = trial.summarise([trial.run(0), trial.run(1)]);
    const rows = windowRows(summary).filter((r) => r.y === 0);
    expect(rows.map((r) => r.x)).toEqual([0, 1e-3, 2e-3, 5e-3]);
    for (let i = 1; i < rows.length; i++) {
      // each millisecond of confirmation is one of operate time: whole scans of 1 ms
      const [before, after] = [rows[i - 1], rows[i]] as const;
      const longer = (after?.x ?? 0) - (before?.x ?? 0);
      const later = (after?.operateMedianS ?? 0) - (before?.operateMedianS ?? 0);
      expect(Math.round(later * 1e3)).toBe(Math.round(longer * 1e3));
      expect(after?.falseTripsPerHour).toBeLessThanOrEqual(before?.falseTripsPerHour ?? 0);
    }
    expect(rows[0]?.falseTripsPerHour).toBeGreaterThan(1000);
    expect(summary.front.length).toBeGreaterThan(0);
    expect(summary.contour.falseTripsPerHour.map((r) => r.length)).toEqual([4, 4]);
    expect(trial.summarise([null, null]).points[0]?.falseTrips).toBeNull();
  });

  it("counts hours of use alone where no instant of an arc is asked for", () => {
    const hours = { preset: "deepStage", hours: 10, carrierInstants: 0, speechInstants: 0 };
    const trial = planned(hours);
    expect(trial.count).toBe((10 * 3600) / 30); // cases of half a minute
    const quiet = { kind: "use", seconds: 30, trips: new Array<number>(25).fill(0) } as const;
    const [point] = trial.summarise(new Array(1200).fill(quiet)).points;
    // upper end of the exact 95 % interval of no event: 3.689 (chi-square tables, half of 7.378 with 2 degrees of freedom)
    expectWithin(point?.falseTrips?.high ?? 0, 0.3689, 1e-4, "four printed digits over 10 h");
  });

  it("counts a case that could not be run apart, in no hours and no strikes", () => {
    const trial = planned({ hours: 0.01, carrierInstants: 1, speechInstants: 0 });
    const summary = trial.summarise([
      { kind: "notRun", problem: "the tank has no bands" },
      { kind: "use", seconds: 36, trips: Array.from({ length: 1000 }, () => 0) },
    ]);
    expect(summary).toMatchObject({ notRun: 1, problem: "the tank has no bands", faultRuns: 0 });
    expectWithin(summary.hours, 0.01, 1e-12, "36 s");
  });

  it("changes no clearing time by watching beside", () => {
    const project = { ...defaultProject(faultScenario("insect", "tuningCapacitor")), endS: 0.35 };
    const variants = DELAYS_S.map((d) => lowGainAt(project, -6, d, -5.5));
    const bare = runCase(project, 1);
    const watched = runCase({ ...project, monitors: [...project.monitors, ...variants] }, 1);
    expect(bare.clearingS).toBeGreaterThan(0);
    expect(watched.clearingS).toBe(bare.clearingS);
    expect(watched.firstTrip).toEqual(bare.firstTrip);
    expect(watched.onsetS).toBe(bare.onsetS);
  });

  it("says which setting does not exist", () => {
    const problem = (x: Plain): string => {
      const project = defaultProject([]);
      const plan = planTrial({ kind: "window", project, seed: 1, options: { x } });
      return plan.ok ? "" : plan.problem;
    };
    expect(problem({ path: "lowGain.colour", values: [1] })).toMatch(/pickup, dropOff/);
    expect(problem({ path: "nobody.pickup", values: [1] })).toMatch(/no monitor nobody/);
    expect(problem({ path: "lowGain.2.pickup", values: [1] })).toMatch(/1 criteria/);
    expect(problem({ path: "plateDissipation.confirmation", values: [1] })).toMatch(/definite/);
    expect(problem({ path: "lowGain.pickup", values: [] })).toMatch(/values/);
  });
});

describe("a point that is chosen", () => {
  it("is a list of changes the bench carries out, and in words what it cannot change while running", () => {
    const project = defaultProject([]);
    const { changes, byHand } = applySettings(project, [
      { path: "lowGain.pickup", value: -3 },
      { path: "overdrive.2.confirmation", value: 4e-3 },
      { path: "lowGain.smoothing", value: 1e-3 },
      { path: "deepGain.pickup", value: -4 },
    ]);
    expect(byHand.length).toBe(2);
    const bench = benchOf({ ...project, scenario: changes });
    bench.advanceTo(1_000_000);
    expect(bench.events.filter((e) => e.kind === "command" && e.refused !== "")).toEqual([]);
    const def = (id: string) => bench.system.programs.find((p) => p.def.id === id)?.def;
    expect(def("lowGain")?.criteria[0]).toMatchObject({ pickup: -3, dropOff: -2.5 });
    expect(def("overdrive")?.criteria[1]?.timing).toEqual({ kind: "definite", delayS: 4e-3 });
  });
});
