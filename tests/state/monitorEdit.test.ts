import { describe, expect, it } from "vitest";
import { checkMeaning } from "../../src/formats/meaning";
import { defaultProject } from "../../src/project/defaults";
import type { MonitorDef } from "../../src/project/protection";
import type { Project } from "../../src/project/types";
import {
  liveChanges,
  timingOf,
  whyKept,
  withCopy,
  withNew,
  withQuantity,
} from "../../src/state/monitorEdit";
import { racedProjects } from "../../src/state/monitorStudy";
import { expectWithin } from "../support/expectWithin";

const project = defaultProject();
const { monitors } = project;

function having(id: string, change: (def: MonitorDef) => MonitorDef): Project {
  return { ...project, monitors: monitors.map((m) => (m.id === id ? change(m) : m)) };
}

describe("a monitor that is added or copied", () => {
  it("has a name and an id of its own, only watches, and makes a project that can be read", () => {
    const copied = withCopy(monitors, 0);
    const twice = withCopy(copied?.monitors ?? [], 0);
    const added = withNew(twice?.monitors ?? []);
    const ids = added.monitors.map((m) => m.id);
    expect(new Set(ids).size).toBe(monitors.length + 3);
    expect(copied?.monitors[1]).toMatchObject({
      id: "lowGain2",
      name: "Low gain 2",
      role: "shadow",
    });
    expect(twice?.monitors[1]).toMatchObject({ id: "lowGain3", name: "Low gain 3" });
    expect(added.monitors[added.index]?.role).toBe("shadow");
    expect(checkMeaning({ ...project, monitors: added.monitors })).toEqual([]);
  });

  it("cannot be taken away while the scenario changes it", () => {
    const entry = {
      atS: 2,
      do: "configureMonitor",
      monitor: "lowGain",
      change: { role: "off" },
    } as const;
    expect(whyKept({ ...project, scenario: [entry] }, 0)).toMatch(/at 2 s: set it to off instead/);
    expect(whyKept(project, 0)).toBe("");
  });
});

describe("a criterion on another quantity", () => {
  it("has a pickup on the far side of normal use, and a drop-off inside it", () => {
    const [first] = monitors[0]?.criteria ?? [];
    if (first === undefined) throw new Error("low gain has a criterion");
    const over = withQuantity(first, "plateCurrentA", "over", { least: 0.1, most: 0.8 });
    expectWithin(over.pickup, 1, 1e-12, "a quarter over 0.8 A");
    expectWithin(over.dropOff, 0.95, 1e-12, "reset ratio 0.95 of over-functions");
    const under = withQuantity(first, "forwardGainDb", "under", { least: 13, most: 14 });
    expectWithin(under.pickup, 11, 1e-12, "2 dB under 13 dB");
    expectWithin(under.dropOff, 11.5, 1e-12, "half a decibel back");
    expect(withQuantity(first, first.quantity, first.side, null)).toBe(first);
  });

  it("keeps its timing of the same kind and takes a usual one of another", () => {
    const own = { kind: "definite", delayS: 0.123 } as const;
    expect(timingOf("definite", own)).toBe(own);
    expect(timingOf("inverse", own)).toEqual({
      kind: "inverse",
      curve: "iecA",
      timeMultiplier: 0.1,
    });
  });
});

describe("what a running bench is told", () => {
  it("is nothing where it has the settings, and role, pickup and timing where only they differ", () => {
    expect(liveChanges(project, monitors, project)).toEqual([]);
    const edited = having("lowGain", (m) => ({
      ...m,
      role: "shadow",
      criteria: m.criteria.map((c) => ({ ...c, pickup: -3, dropOff: -2.5 })),
    }));
    expect(liveChanges(project, monitors, edited)).toEqual([
      { do: "configureMonitor", monitor: "lowGain", change: { role: "shadow" } },
      { do: "configureMonitor", monitor: "lowGain", change: { criterion: 0, pickup: -3 } },
    ]);
  });

  it("cannot be said of a scan, a sensor or a new monitor: those need a new run", () => {
    const slower = having("lowGain", (m) => ({ ...m, scanS: 2e-3 }));
    expect(liveChanges(project, monitors, slower)).toBeNull();
    const { plateV } = project.sensors;
    const blunt = { ...project, sensors: { ...project.sensors, plateV: { ...plateV, bits: 8 } } };
    expect(liveChanges(project, monitors, blunt)).toBeNull();
    expect(
      liveChanges(project, monitors, { ...project, monitors: withNew(monitors).monitors }),
    ).toBeNull();
  });
});

describe("the race that is run beside the bench", () => {
  it("is the run's own first fault, else the same under a full carrier", () => {
    const fault = { do: "placeFault", fault: "openLoad", part: "load", severity: 1 } as const;
    const early: Project = {
      ...project,
      scenario: [
        { atS: 0, do: "key", down: true },
        { atS: 1.2, ...fault },
      ],
    };
    const own = racedProjects(early, monitors, project);
    expect(own.fault).toEqual({ fault: "openLoad", part: "load", isOfRun: true });
    expect(own.before.scenario).toEqual(early.scenario);
    const late: Project = { ...project, scenario: [{ atS: 60, ...fault }] };
    const moved = racedProjects(late, monitors, project);
    expect(moved.fault.isOfRun).toBe(false);
    expect(moved.before.scenario.at(-1)).toMatchObject({ ...fault, atS: 0.12037 });
  });

  it("has the bench's settings first and the edited ones after", () => {
    const edited = having("lowGain", (m) => ({ ...m, role: "off" }));
    const { before, after } = racedProjects(project, monitors, edited);
    expect(before.monitors).toBe(monitors);
    expect(after.monitors).toBe(edited.monitors);
    expect(after.scenario).toBe(before.scenario);
  });
});
