/** Power-up, interlocks and switch-off. Times are those of a station in a hurry. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { type Bench, createBench } from "../../src/simulation/bench";
import { CH } from "../../src/simulation/channels";
import { expectWithin } from "../support/expectWithin";

function quick(scenario: readonly ScenarioEntry[], crowbar = false): Project {
  const project = defaultProject(scenario);
  const { station, actuators } = project;
  const { supply } = station;
  if (supply.kind !== "rectified") throw new Error("the default supply is rectified");
  return {
    ...project,
    station: {
      ...station,
      powerUp: { warmUpS: 0.05, fanRunOnS: 0.08 },
      // 250 ohm x 40 uF: 10 ms
      supply: { ...supply, stepStart: { resistorOhm: 100, timeS: 0.05 } },
    },
    actuators: { ...actuators, crowbar: { ...actuators.crowbar, fitted: crowbar } },
  };
}

function run(project: Project, untilS: number): Bench {
  const created = createBench(project);
  if (!created.ok) throw new Error(created.problem);
  created.bench.advanceTo(Math.round(untilS * 1e9));
  return created.bench;
}

function log(bench: Bench): readonly string[] {
  return bench.events.flatMap((e) => {
    const at = `${Math.round(e.atNs / 1e6)} ms`;
    if (e.kind === "supply") return [`${at} ${e.news}`];
    if (e.kind === "command" && e.refused !== "") return [`${at} refused: ${e.refused}`];
    return e.kind === "actuator" ? [`${at} ${e.actuator} ${e.effect}`] : [];
  });
}

const filterV = (bench: Bench): number => bench.recorder.row[CH.filterV] as number;

describe("power-up", () => {
  it("warms up, closes through the step-start resistor, bridges it, and refuses operate until then", () => {
    const bench = run(
      quick([
        { atS: 0.01, do: "power", on: false },
        { atS: 0.02, do: "operate" },
        { atS: 0.03, do: "power", on: true },
        { atS: 0.05, do: "operate" },
        { atS: 0.1, do: "operate" },
        { atS: 0.15, do: "operate" },
      ]),
      0.16,
    );
    expect(log(bench)).toEqual([
      "10 ms powerOff",
      "20 ms refused: the power is off",
      "30 ms heaterOn",
      "50 ms refused: warming up, 1 s to go",
      "80 ms warm",
      "80 ms stepStart",
      "100 ms refused: the plate supply is coming up",
      "130 ms supplyOn",
    ]);
    expect(bench.logic.operate).toBe(true);
  });

  it("begins warm and closed, so that a run without these commands has no news of them", () => {
    expect(log(run(quick([{ atS: 0.01, do: "key", down: true }]), 0.05))).toEqual([]);
  });

  it("waits for an interlock that is open when it is warm", () => {
    const bench = run(
      quick([
        { atS: 0.01, do: "power", on: false },
        { atS: 0.02, do: "interlock", which: "airflow", closed: false },
        { atS: 0.03, do: "power", on: true },
        { atS: 0.1, do: "operate" },
        { atS: 0.11, do: "interlock", which: "airflow", closed: true },
      ]),
      0.17,
    );
    expect(log(bench).slice(-4)).toEqual([
      "80 ms warm",
      "100 ms refused: no airflow",
      "110 ms stepStart",
      "160 ms supplyOn",
    ]);
  });
});

describe("switch-off", () => {
  it("takes heater and plate supply at once and lets the fan run on", () => {
    const bench = run(quick([{ atS: 0.01, do: "power", on: false }]), 0.1);
    expect(log(bench)).toEqual(["10 ms powerOff", "90 ms fanOff"]);
    expect(bench.logic.operate).toBe(false);
    // 3175 V e^(-0.09/4), and 1.6 mA of cut-off current for 90 ms
    expectWithin(filterV(bench), 3101, 2, "the settled solver's steps, and 4 V of the tube's");
  });

  it("with the bleeder open leaves the filter to the tube's last milliampere", () => {
    const bench = run(
      quick([
        { atS: 0, do: "placeFault", fault: "bleederOpen", part: "supply", severity: 1 },
        { atS: 0.01, do: "power", on: false },
      ]),
      0.1,
    );
    // without the bleeder's 32 mA it had risen to 3179.1 V in 10 ms; 16 V over 10 kohm of cut-off resistor take 1.6 mA
    // from 40 uF for 90 ms, 3.6 V
    expectWithin(filterV(bench), 3175.5, 0.5, "self-bias of the generic tube, mu 200");
  });
});

describe("open lid", () => {
  it("drops the contactor and puts the station to standby; closed again, the supply comes up slowly", () => {
    const bench = run(
      quick([
        { atS: 0.02, do: "interlock", which: "lid", closed: false },
        { atS: 0.05, do: "operate" },
        { atS: 0.07, do: "interlock", which: "lid", closed: true },
      ]),
      0.13,
    );
    expect(log(bench)).toEqual([
      "45 ms supplyOff",
      "50 ms refused: the lid is open",
      "70 ms stepStart",
      "120 ms supplyOn",
    ]);
    expect(bench.logic.operate).toBe(false);
  });

  it("fires the crowbar where one is fitted, which then goes out", () => {
    const project = quick(
      [
        { atS: 0.02, do: "interlock", which: "lid", closed: false },
        { atS: 0.07, do: "interlock", which: "lid", closed: true },
      ],
      true,
    );
    const open = run(project, 0.06);
    expect(log(open)).toEqual(["20 ms crowbar acted", "20 ms discharged", "45 ms supplyOff"]);
    expect(filterV(open)).toBeLessThan(50);
    // 10 ms of time constant: up again after eight of them
    expect(filterV(run(project, 0.15))).toBeGreaterThan(3000);
  });

  it("does nothing to a welded contactor", () => {
    const bench = run(
      quick([
        { atS: 0, do: "placeFault", fault: "contactorWelded", part: "protection", severity: 1 },
        { atS: 0.02, do: "interlock", which: "lid", closed: false },
      ]),
      0.06,
    );
    expect(log(bench)).toEqual(["45 ms contactor failed"]);
    expect(filterV(bench)).toBeGreaterThan(3100);
  });
});
