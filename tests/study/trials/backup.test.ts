import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import { backupItems, backupSets } from "../../../src/study/trials/backupItems";
import type { BackupOutcome, BackupSummary } from "../../../src/study/trials/backupSummary";
import { planTrial } from "../../../src/study/trials/planTrial";
import { runCase } from "../../../src/study/trials/runCase";
import type { Plain, Trial } from "../../../src/study/trials/trial";

type BackupTrial = Trial<BackupOutcome, BackupSummary>;

function planned(options: { readonly [name: string]: Plain }): BackupTrial {
  const plan = planTrial({ kind: "backup", project: defaultProject(), seed: 1, options });
  if (!plan.ok) throw new Error(plan.problem);
  return plan.trial as unknown as BackupTrial;
}

const ITEMS = backupItems(defaultProject()).map((item) => item.id);
const SHORTED = ["shortLoad load"];

/** Index of the case of the first fault in which these had failed. */
function indexOf(...failed: readonly string[]): number {
  const sets = backupSets(backupItems(defaultProject()), true);
  return sets.findIndex((set) => set.map((item) => item.id).join() === failed.join());
}

describe("back-up", () => {
  it("fails every acting monitor, fitted actuator, shared detector and sensor in use, alone and in pairs", () => {
    expect(ITEMS.filter((id) => id.startsWith("monitor"))).toHaveLength(
      defaultProject().monitors.filter((m) => m.role === "acting").length,
    );
    // no crowbar is fitted, and no acting monitor looks at light or reflected drive
    expect(ITEMS.filter((id) => id.startsWith("actuator"))).toHaveLength(4);
    expect(ITEMS).not.toContain("sensor tankLight");
    expect(ITEMS).not.toContain("sensor driveReflectedW");
    const n = ITEMS.length;
    expect(planned({ faults: SHORTED }).count).toBe(1 + n + (n * (n - 1)) / 2);
    expect(planned({ faults: SHORTED, pairs: false }).count).toBe(1 + n);
  });

  it("names who takes over, what shows itself, and what two failures leave open", () => {
    const trial = planned({ faults: SHORTED });
    const outcomes: (BackupOutcome | null)[] = new Array<null>(trial.count).fill(null);
    const run = (...failed: readonly string[]): BackupOutcome => {
      const i = indexOf(...failed);
      const outcome = trial.run(i);
      outcomes[i] = outcome;
      return outcome;
    };
    expect(run().firstTrip?.id).toBe("reflectedPower");
    const without = run("monitor reflectedPower");
    expect(without.kind).toBe("covered");
    expect(without.firstTrip?.id).not.toBe("reflectedPower");
    // a reading of nothing under drive is a gain that has gone
    expect(run("shared outputDetectorLost").kind).toBe("showsItself");
    // the comparator alone is left, and a shorted line draws no such current
    expect(run("shared scanStopped").kind).toBe("notCovered");
    // reflected power commands the drive alone
    const both = run("actuator driveInhibit", "actuator cathodeCutoff");
    expect(both.kind).not.toBe("covered");
    expect(both.firstTrip?.id).toBe("reflectedPower");
    const { rows, done } = trial.summarise(outcomes);
    expect(done).toBe(5);
    const row = (...failed: readonly string[]) =>
      rows.find((r) => r.failed.join() === failed.join());
    expect(row("monitor reflectedPower")?.takesOver.map((t) => t.monitor)).toEqual([
      without.firstTrip?.name,
    ]);
    expect(row("shared outputDetectorLost")?.showsItself).toBe(1);
    expect(row("shared scanStopped")?.open.map((o) => o.fault)).toEqual(["shortLoad"]);
    expect(row()?.open).toEqual([]);
  });

  it("comes out the same whatever was run before, and alone", () => {
    const cut = indexOf("actuator cathodeCutoff");
    const first = planned({ faults: SHORTED });
    first.run(indexOf("shared scanStopped"));
    const outcome = first.run(cut);
    const other = planned({ faults: SHORTED });
    expect(JSON.stringify(other.run(cut))).toBe(JSON.stringify(outcome));
    const moment = other.openOnBench(cut);
    const alone = moment === null ? null : runCase(moment.project, moment.project.seed);
    expect(alone?.firstTrip).toEqual(outcome.firstTrip);
    expect(alone?.endedS).toBe(outcome.endedS);
    expect(alone?.weakestMargin).toBe(outcome.margin);
  });

  it("refuses a fault on a part that cannot have it", () => {
    const options = { faults: ["insect tube"] };
    const plan = planTrial({ kind: "backup", project: defaultProject(), seed: 1, options });
    expect(plan).toMatchObject({ ok: false });
  });
});
