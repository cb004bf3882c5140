/** A monitor somebody writes down in the project file, from sensed and derived quantities: data, no code. */
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { operated, operateS } from "../support/benchLog";
import { benchOf, faultScenario } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const AT_S = 0.10037;

/** Two criteria, each with a condition, one of them on a ratio and armed on another. */
const COMPOSED = {
  id: "tankTrouble",
  scanS: 0.5e-3,
  arming: {
    kind: "onAir",
    driveAboveW: 5,
    settledS: 0.01,
    when: [{ quantity: "plateV", side: "over", level: 2000 }],
  },
  criteria: [
    {
      quantity: "efficiency",
      side: "under",
      pickup: 0.1,
      timing: { kind: "definite", delayS: 0.001 },
      when: [{ quantity: "tankLight", side: "over", level: 0.1 }],
    },
    {
      quantity: "gridPlateRatio",
      side: "over",
      pickup: 0.2,
      timing: { kind: "instantaneous", scans: 2, ofScans: 3 },
      when: [{ quantity: "outputReflectedW", side: "over", level: 300 }],
    },
  ],
  actions: ["driveInhibit"],
};

function project(scenario: readonly ScenarioEntry[]): Project {
  const text = JSON.stringify({
    format: "quietarc-project",
    schemaVersion: 1,
    monitors: [COMPOSED],
    scenario,
  });
  const reading = readProject(text);
  if (!reading.ok) throw new Error(reading.problems[0]?.message);
  return reading.project;
}

function run(scenario: readonly ScenarioEntry[]) {
  const bench = benchOf(project(scenario));
  bench.advanceTo(AT_S * 1e9 + 30e6);
  return bench;
}

describe("a composed monitor", () => {
  it("operates on its first criterion when an arc takes the power and shines", () => {
    const bench = run(faultScenario("insect", "tuningCapacitor", 1, AT_S));
    expect(operated(bench)).toEqual(["tankTrouble"]);
    // the output detectors' 0.2 ms down to a tenth of the input, 1 ms confirmed, two scans of 0.5 ms
    expectWithin(operateS(bench, "tankTrouble", AT_S * 1e9), 1.9e-3, 0.6e-3, "scans and detectors");
    expect(bench.logic.driveInhibited).toBe(true);
  });

  it("operates on its second when the antenna goes", () => {
    const bench = run(faultScenario("openLoad", "load", 1, AT_S));
    expect(operateS(bench, "tankTrouble", AT_S * 1e9)).toBeLessThan(5e-3);
  });

  it("keeps quiet where only one half of a criterion holds", () => {
    // wrong band: no output and no light; light loading: grid current and no reflected power
    expect(operated(run(faultScenario("wrongBand", "bandSwitch", 1, AT_S)))).toEqual([]);
    expect(operated(run(faultScenario("lightLoading", "tank", 1.5, AT_S)))).toEqual([]);
  });
});
