/** Power-up, interlocks and switch-off. Times are those of a station that warms up in half a second. */
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
      powerUp: { warmUpS: 0.2, fanRunOnS: 0.3 },
      // 300 ohm x 40 uF: 18 ms
      supply: { ...supply, stepStart: { resistorOhm: 300, timeS: 0.2 } },
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
        { atS: 0.1, do: "power", on: true },
        { atS: 0.15, do: "operate" },
        { atS: 0.4, do: "operate" },
        { atS: 0.55, do: "operate" },
      ]),
      0.6,
    );
    expect(log(bench)).toEqual([
      "10 ms powerOff",
      "20 ms refused: the power is off",
      "100 ms heaterOn",
      "150 ms refused: warming up, 1 s to go",
      "300 ms warm",
      "300 ms stepStart",
      "400 ms refused: the plate supply is coming up",
      "500 ms supplyOn",
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
        { atS: 0.1, do: "power", on: true },
        { atS: 0.4, do: "operate" },
        { atS: 0.5, do: "interlock", which: "airflow", closed: true },
      ]),
      0.75,
    );
    expect(log(bench).slice(-4)).toEqual([
      "300 ms warm",
      "400 ms refused: no airflow",
      "500 ms stepStart",
      "700 ms supplyOn",
    ]);
  });
});

describe("switch-off", () => {
  it("takes heater and plate supply at once and lets the fan run on", () => {
    const bench = run(quick([{ atS: 0.01, do: "power", on: false }]), 0.4);
    expect(log(bench)).toEqual(["10 ms powerOff", "310 ms fanOff"]);
    expect(bench.logic.operate).toBe(false);
    // the cut-off resistor's current besides the bleeder's takes a tenth more than e^(-0.39/4)
    expectWithin(filterV(bench), 3175 * 0.9, 60, "bleeder alone leaves 0.907 of 3175 V");
  });

  it("with the bleeder open leaves the filter to the tube's last milliampere", () => {
    const bench = run(
      quick([
        { atS: 0, do: "placeFault", fault: "bleederOpen", part: "supply", severity: 1 },
        { atS: 0.01, do: "power", on: false },
      ]),
      0.4,
    );
    // 16 V over 10 kohm of cut-off resistor: 1.6 mA from 40 uF, 16 V in 0.4 s
    expectWithin(filterV(bench), 3160, 20, "self-bias of the generic tube, mu 200");
  });
});

describe("open lid", () => {
  it("drops the contactor and puts the station to standby; closed again, the supply comes up slowly", () => {
    const bench = run(
      quick([
        { atS: 0.05, do: "interlock", which: "lid", closed: false },
        { atS: 0.1, do: "operate" },
        { atS: 0.2, do: "interlock", which: "lid", closed: true },
      ]),
      0.45,
    );
    expect(log(bench)).toEqual([
      "75 ms supplyOff",
      "100 ms refused: the lid is open",
      "200 ms stepStart",
      "400 ms supplyOn",
    ]);
    expect(bench.logic.operate).toBe(false);
  });

  it("fires the crowbar where one is fitted, which then goes out", () => {
    const project = quick(
      [
        { atS: 0.05, do: "interlock", which: "lid", closed: false },
        { atS: 0.2, do: "interlock", which: "lid", closed: true },
      ],
      true,
    );
    const open = run(project, 0.1);
    expect(log(open)).toEqual(["50 ms crowbar acted", "50 ms discharged", "75 ms supplyOff"]);
    expect(filterV(open)).toBeLessThan(50);
    // 500 ohm beside 450 ohm of source: up again within five time constants
    expect(filterV(run(project, 0.45))).toBeGreaterThan(3000);
  });

  it("does nothing to a welded contactor", () => {
    const bench = run(
      quick([
        { atS: 0, do: "placeFault", fault: "contactorWelded", part: "protection", severity: 1 },
        { atS: 0.05, do: "interlock", which: "lid", closed: false },
      ]),
      0.2,
    );
    expect(log(bench)).toEqual(["75 ms contactor failed"]);
    expect(filterV(bench)).toBeGreaterThan(3100);
  });
});
