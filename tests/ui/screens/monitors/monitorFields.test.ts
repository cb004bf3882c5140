import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../../src/project/defaults";
import type { Project } from "../../../../src/project/types";
import { timingOf } from "../../../../src/state/monitorEdit";
import { withValue } from "../../../../src/state/stationKinds";
import { helpText } from "../../../../src/ui/forms/Fields";
import type { FormItem } from "../../../../src/ui/forms/formTree";
import { chainOf } from "../../../../src/ui/screens/monitors/chainWords";
import { MONITOR_LABELS, projectFields } from "../../../../src/ui/screens/monitors/monitorFields";
import { expectWithin } from "../../../support/expectWithin";

const usual = defaultProject();
/** Every kind of timing once. */
const project: Project = {
  ...usual,
  monitors: usual.monitors.map((m, i) => {
    const kind = (["instantaneous", "definite", "inverse", "thermal"] as const)[
      i % 4
    ] as "definite";
    return {
      ...m,
      criteria: m.criteria.map((c) => ({
        ...c,
        tunePickup: c.pickup,
        timing: timingOf(kind, c.timing),
      })),
    };
  }),
};

function leaves(items: readonly FormItem[]): readonly FormItem[] {
  return items.flatMap((item) => {
    if (item.kind === "group") return leaves(item.items);
    if (item.kind === "list") return item.entries.flatMap((e) => leaves(e.items));
    return [item];
  });
}

const fields = [
  ...project.monitors.flatMap((m, i) => [
    ...projectFields(project, ["monitors", i]),
    ...m.criteria.flatMap((_, k) => projectFields(project, ["monitors", i, "criteria", k])),
  ]),
  ...projectFields(project, ["sensors"]),
  ...projectFields(project, ["actuators"]),
];

describe("the fields of monitors, sensors and actuators", () => {
  it("each have a label of their own, and a number its meaning", () => {
    const poor = leaves(fields).filter(({ path, meaning, kind }) => {
      const name = String(path.at(-1));
      const place = path.filter((step) => typeof step === "string").join(".");
      if (name === "id") return false; // it is given once and not shown
      const isLabelled = name in MONITOR_LABELS || place in MONITOR_LABELS || kind === "choice";
      return !isLabelled || (kind === "number" && meaning === "");
    });
    expect(poor.map(({ path }) => path.join("."))).toEqual([]);
  });

  it("explain themselves without limits that limit nothing, and with those that do", () => {
    const helps = leaves(fields).flatMap((item) => (item.kind === "number" ? [item] : []));
    const far = helps.filter((item) => /−\d{7}/.test(helpText(item)));
    expect(far.map(({ path }) => path.join("."))).toEqual([]);
    const said = (name: string) => helps.filter(({ path }) => path.at(-1) === name).map(helpText);
    expect(said("pickup").length).toBeGreaterThan(10);
    expect(said("pickup").filter((words) => / from | above /.test(words))).toEqual([]);
    for (const words of said("smoothingS")) expect(words).toMatch(/; from 0.ms to 10000.ms$/);
  });

  it("read back what they show, each in the unit of its quantity", () => {
    for (const item of leaves(fields)) {
      if (item.kind !== "number" || Number.isNaN(item.value)) continue;
      const read = item.scale.parse(item.scale.format(item.value));
      const place = item.path.join(".");
      expect(read.ok, place).toBe(true);
      if (read.ok)
        expectWithin(read.value, item.value, 1e-9 * Math.abs(item.value) + 1e-15, "ten digits");
    }
    const unitAt = (path: readonly (string | number)[], name: string): string | undefined => {
      const item = projectFields(project, path, [name])[0];
      return item?.kind === "number" ? item.scale.unit : undefined;
    };
    const at = (id: string): number => project.monitors.findIndex((m) => m.id === id);
    expect(unitAt(["monitors", at("lowGain"), "criteria", 0], "pickup")).toBe("dB");
    expect(unitAt(["monitors", at("gridTimed"), "criteria", 0], "pickup")).toBe("mA");
    expect(unitAt(["monitors", at("exhaustAir"), "criteria", 0], "dropOff")).toBe("°C");
    expect(unitAt(["sensors", "plateV"], "fullScale")).toBe("V");
  });
});

describe("a level that no reading passes", () => {
  const at = usual.monitors.findIndex((m) => m.id === "gridTimed");
  const warningAt = (path: readonly (string | number)[], level: number): string => {
    const set = withValue(usual, ["monitors", at, "criteria", 0, "pickup"], level);
    const item = projectFields(set, path.slice(0, -1), [String(path.at(-1))])[0];
    return item?.kind === "number" ? item.warning.replaceAll("\u00a0", " ") : "no number";
  };

  it("is told at its field and at the full scale it lies beyond, with the remedy", () => {
    const pickup = ["monitors", at, "criteria", 0, "pickup"];
    const { fullScale } = usual.sensors.gridCurrentA;
    expect(warningAt(pickup, 0.999 * fullScale)).toBe("");
    expect(warningAt(pickup, fullScale)).toMatch(
      /^It never picks up: a reading of grid current ends at 1\.00 A\. Give less than that, or a higher full scale of grid current under Sensors\.$/,
    );
    const scale = ["sensors", "gridCurrentA", "fullScale"];
    expect(warningAt(scale, 0.999 * fullScale)).toBe("");
    expect(warningAt(scale, fullScale)).toContain(
      "never picks up (grid current over 1.00 A). Give a higher full scale",
    );
    expect(warningAt(["sensors", "plateV", "fullScale"], fullScale)).toBe("");
  });
});

describe("a monitor's chain", () => {
  it("names every stage from the sensor to the reset", () => {
    const [lowGain] = usual.monitors;
    if (lowGain === undefined) throw new Error("there is a first monitor");
    const chain = chainOf(lowGain, usual.sensors);
    const stages = ["Sensor", "Filter", "Scan", "Pickup", "Drop-off", "Armed", "Blanking"];
    expect(chain.map((link) => link.stage)).toEqual([
      ...stages,
      "Confirmation",
      "Alarm",
      "Action",
      "Reset",
    ]);
    expect(
      chain.every((link) => link.lines.length > 0 && link.lines.every((line) => line !== "")),
    ).toBe(true);
    expect(chain.find((link) => link.stage === "Confirmation")?.lines).toEqual(["2.00\u00a0ms"]);
  });
});
