import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_STATION, defaultProject } from "../../../src/project/defaults";
import { FAULT_NAMES } from "../../../src/project/faults";
import type { MonitorDef } from "../../../src/project/protection";
import type { Project } from "../../../src/project/types";
import type { CoverageOutcome, CoverageSummary } from "../../../src/study/trials/coverage";
import { openReason } from "../../../src/study/trials/openReason";
import { planTrial } from "../../../src/study/trials/planTrial";
import { NOTHING, runCase } from "../../../src/study/trials/runCase";
import { drained } from "../../../src/study/trials/steps";
import type { Plain, Trial } from "../../../src/study/trials/trial";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

type CoverageTrial = Trial<CoverageOutcome, CoverageSummary>;

function planned(
  options: { readonly [name: string]: Plain },
  project: Project = defaultProject(),
): CoverageTrial {
  const plan = planTrial({ kind: "coverage", project, seed: 1, options });
  if (!plan.ok) throw new Error(plan.problem);
  return plan.trial as unknown as CoverageTrial;
}

const ONE = { bands: ["20 m"], drivesW: [62], swr: 1 };

/** The demonstration project with one monitor changed. */
function withMonitor(id: string, change: Partial<MonitorDef>): Project {
  const project = defaultProject();
  const monitors = project.monitors.map((m) => (m.id === id ? { ...m, ...change } : m));
  return { ...project, monitors };
}

/** The one case of a fault on the tuning capacitor, 20 m, full drive. */
function cellOf(fault: string, project?: Project): CoverageOutcome {
  return planned({ ...ONE, faults: [fault] }, project).run(0);
}

describe("the coverage table", () => {
  it("has a kind and a reason in every cell, and no cell left out without one", () => {
    const trial = planned({ ...ONE, faults: ["insect", "bleederOpen", "sway"] });
    const cells = Array.from({ length: 4 }, (_, i) => trial.run(i));
    // an insect between plates at 389 V of RF leaves air enough: only the tuning capacitor strikes
    expect(cells.map((c) => c.kind)).toEqual(["covered", "noStrike", "noStrike", "latent"]);
    for (const cell of cells) expect(cell.reason).not.toBe("");
    expect(cells[0]?.outcome.firstTrip?.id).toBe("lowGain");
    const summary = trial.summarise([cells[0] ?? null, null, null, null]);
    expect(summary).toMatchObject({ done: 1, open: [] });
    expect(summary.rows.map((r) => [r.name, r.worstIndex])).toEqual([["Insect in the gap", 0]]);
    expect(summary.leftOut.map((l) => l.what)).toEqual(["Antenna sways"]);
  });

  it("names a band without a design, accepted only where every fault on it is", () => {
    const project = defaultProject();
    const { tank } = DEFAULT_STATION;
    if (tank.kind !== "designedPi") throw new Error("no designed tank");
    // a pi from 1900 to 50 ohm needs a loaded Q over sqrt(1900/50 - 1) = 6.1 (handbook of the trade, no source)
    const bands = tank.bands.map((b) => (b.name === "10 m" ? { ...b, loadedQ: 3 } : b));
    const station = { ...DEFAULT_STATION, tank: { ...tank, bands } };
    const accept = (fault: "shortedTurn" | "offResonance", band?: string) =>
      ({ fault, part: "tank", reason: `${fault} lasts`, ...(band ? { band } : {}) }) as const;
    const leftOut = (accepted: Project["accepted"]) => {
      const trial = planned(
        { drivesW: [62], swr: 1, faults: ["shortedTurn", "offResonance"] },
        { ...project, station, accepted },
      );
      return trial.summarise(new Array<null>(trial.count).fill(null)).leftOut;
    };
    expect(leftOut([accept("shortedTurn")])).toMatchObject([{ band: "10 m", accepted: null }]);
    expect(leftOut([accept("shortedTurn"), accept("offResonance", "10 m")])).toMatchObject([
      { band: "10 m", accepted: "offResonance lasts; shortedTurn lasts" },
    ]);
    expect(
      leftOut([accept("shortedTurn"), accept("offResonance", "20 m")])[0]?.accepted,
    ).toBeNull();
  });

  it("tries every fault on every band at every drive, and mismatch where there is most power", () => {
    const trial = planned({ faults: ["overdrive", "bleederOpen"] });
    // nine bands at three drives, two faults; overdrive also at four phases on each band
    expect(trial.count).toBe(9 * 3 * 2 + 9 * 4);
    const all = planned({ ...ONE });
    const labels = Array.from({ length: all.count }, (_, i) => all.labelOf(i));
    expect(new Set(labels).size).toBe(all.count);
    // all but the five that need an antenna behind a line
    const placed = all.summarise(new Array<null>(all.count).fill(null));
    expect(placed.leftOut).toHaveLength(5);
    expect(all.count).toBeGreaterThan(FAULT_NAMES.length - 5);
  });

  it("comes out the same in any order, in shares, and run alone", () => {
    const options = { ...ONE, swr: 2, phases: 1, faults: ["platesTouch", "plateSupplyShort"] };
    const trial = planned(options);
    const once = Array.from({ length: trial.count }, (_, i) => JSON.stringify(trial.run(i)));
    expect(trial.count).toBe(5);
    fc.assert(
      fc.property(
        fc.shuffledSubarray([...once.keys()], { minLength: 1, maxLength: 2 }),
        (order) => {
          const share = planned(options);
          for (const i of order) expect(JSON.stringify(share.run(i))).toBe(once[i]);
        },
      ),
      fixedRuns(2),
    );
    const moment = trial.openOnBench(2);
    const alone = moment === null ? null : runCase(moment.project, moment.project.seed);
    expect(JSON.stringify(alone)).toBe(JSON.stringify(JSON.parse(once[2] ?? "{}").outcome));
    // opened where the monitor trips
    const { zero, operateS } = alone ?? {};
    expectWithin(
      (moment?.atNs ?? 0) / 1e9,
      (zero?.atS ?? 0) + (operateS ?? 0),
      1e-9,
      "whole nanoseconds",
    );
  });

  it("shows the arc at the tuning capacitor uncovered once low gain is out", () => {
    const project = withMonitor("lowGain", { role: "off" });
    const place = { fault: "insect", part: "tuningCapacitor" } as const;
    const accepted = [
      { ...place, band: "40 m", reason: "never used there" },
      { ...place, part: "bandSwitch" as const, reason: "screened" },
    ];
    const cell = cellOf("insect", { ...project, accepted });
    expect(["late", "notCovered"]).toContain(cell.kind);
    expect(cell.reason).toContain("the tuning capacitor is damaged");
    // what is off watches the run left alone, and is named where it would have been in time
    expect(cell.reason).toMatch(
      /; only Low gain \(off, after 3\.\d+\sms\), Light in the tank .* and Efficiency /,
    );
    expect(cell.accepted).toBeNull();
    const [open] = planned(ONE, project).summarise([cell]).open;
    const { weakestMargin: margin, weakestMarginEarly: marginEarly } = cell.outcome;
    expect(open).toMatchObject({ index: 0, kind: cell.kind, margin, marginEarly, accepted: null });
    const everywhere = [{ ...place, reason: "gauze over the vents" }];
    expect(cellOf("insect", { ...project, accepted: everywhere }).accepted).toBe(
      "gauze over the vents",
    );
  });

  it("shows who takes over from reflected power when the line is shorted, and how much later", () => {
    const shorted = cellOf("shortLoad");
    expect(shorted.outcome.firstTrip?.id).toBe("reflectedPower");
    const without = cellOf("shortLoad", withMonitor("reflectedPower", { role: "off" }));
    expect(without.outcome.firstTrip?.id).not.toBe("reflectedPower");
    expect(without.outcome.firstTrip?.atS).toBeGreaterThan(shorted.outcome.firstTrip?.atS ?? 1);
  });

  it("never trips more, or sooner, with a pickup further out", () => {
    const trips = [-1.2, -2, -30].map((pickup) => {
      const lowGain = defaultProject().monitors[0] as MonitorDef;
      const criteria = lowGain.criteria.map((c) => ({ ...c, pickup, dropOff: pickup + 0.5 }));
      return cellOf("heavyLoading", withMonitor("lowGain", { criteria })).outcome.trips.filter(
        (t) => t.id === "lowGain",
      );
    });
    for (let i = 1; i < trips.length; i++) {
      expect(trips[i]?.length).toBeLessThanOrEqual(trips[i - 1]?.length ?? 0);
      expect(trips[i]?.[0]?.atS ?? Infinity).toBeGreaterThanOrEqual(trips[i - 1]?.[0]?.atS ?? 0);
    }
    expect(trips[0]).toHaveLength(1);
    expect(trips[2]).toHaveLength(0);
  });

  it("says what limits a short of the plate supply, which no monitor can", () => {
    const cell = cellOf("plateSupplyShort");
    expect(cell.kind).toBe("limitedByDesign");
    expect(cell.reason).toContain("limited by the surge resistor, not by a monitor");
    // tripped all the same, and the contactor opens: what the mains would feed is ended
    expect(cell.outcome.firstTrip?.id).toBe("plateInstantaneous");
  });

  it("leaves nothing to a monitor where damage comes before the quickest actuator", () => {
    const { erosion } = DEFAULT_STATION;
    const nominal = { spotAPerM2: 1e9, electrodeShare: 0.45 };
    const base = defaultProject();
    const slow = { ...base.actuators, cathodeCutoff: { ...base.actuators.cathodeCutoff } };
    const project = {
      ...base,
      station: { ...DEFAULT_STATION, erosion: { ...erosion, nominal } },
      actuators: {
        ...slow,
        driveInhibit: { ...slow.driveInhibit, delayS: 20e-3 },
        cathodeCutoff: { ...slow.cathodeCutoff, delayS: 20e-3 },
      },
    };
    const cell = cellOf("insect", project);
    expect(cell.kind).toBe("limitedByDesign");
    expect(cell.reason).toContain("the quickest actuator alone takes");
  });

  it("says in words what an open cell looks like", () => {
    const mismatched = planned({ ...ONE, swr: 1.5, phases: 1, faults: ["overdrive"] }).run(1);
    // a load of ratio 1.5 reflects a fifth of the wave, whatever feeds it: definition of the standing-wave ratio
    expectWithin(
      mismatched.outcome.look?.vswr ?? 0,
      1.5,
      0.02,
      "envelope of a carrier not quite settled",
    );
    const words = (gainDeviationDb: number | null, vswr: number): string =>
      drained(openReason(defaultProject(), { ...NOTHING, look: { gainDeviationDb, vswr } }, 3));
    expect(words(-0.5, 1.5)).toBe(
      "it looks like a mismatch (VSWR 1.5, gain \u22120.5\u00a0dB beside what is expected)",
    );
    expect(words(-0.2, 1.05)).toMatch(/^it looks like a healthy carrier/);
    expect(words(-4, 1.5)).toMatch(/^it shows VSWR/);
    expect(words(null, 1.5)).toBe("");
  });

  it("refuses options it cannot use, with their names", () => {
    const project = defaultProject();
    const plan = planTrial({
      kind: "coverage",
      project,
      seed: 1,
      options: { swr: 0.5, faults: ["insekt"] },
    });
    expect(plan).toMatchObject({ ok: false });
    if (!plan.ok) expect(plan.problem).toMatch(/faults.*swr/);
    const none = planTrial({ kind: "coverage", project, seed: 1, options: { bands: ["6 m"] } });
    expect(none).toMatchObject({ ok: false, at: "options" });
    if (!none.ok) expect(none.problem).toMatch(/bands out of .*20 m.*, which "6 m" is not$/);
  });
});
