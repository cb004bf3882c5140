/**
 * The preset monitors beside the circuit's currents and powers, each switched to acting on the whole bench: one case that
 * operates it, one that leaves it quiet. First-minute quiet of all of them together is in ordinaryUse.test.ts.
 */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { MonitorDef } from "../../src/project/protection";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Station } from "../../src/project/station";
import { SENSOR_NAMES } from "../../src/protection/sensing/sensing";
import { type Bench, createBench } from "../../src/simulation/bench";
import { operated, operateS } from "../support/benchLog";
import { faultScenario } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const KEY: ScenarioEntry = { atS: 0, do: "key", down: true };
const AT_S = 0.10037;
const AT_NS = 100_370_000;
const BESIDE = ["gridPlateRatio", "tankLight", "efficiency", "inputReflected"];

/** Nothing acts, so that no monitor hides another; what is off by default watches. */
function watching(
  scenario: readonly ScenarioEntry[],
  untilS: number,
  station: Partial<Station> = {},
): Bench {
  const base = defaultProject(scenario);
  const monitors = base.monitors.map((m): MonitorDef => ({ ...m, role: "acting" }));
  const project = { ...base, monitors, station: { ...base.station, ...station } };
  const created = createBench(project, { protection: "inhibited" });
  if (!created.ok) throw new Error(created.problem);
  created.bench.advanceTo(Math.round(untilS * 1e9));
  return created.bench;
}

describe("light in the tank compartment", () => {
  const burning = watching(faultScenario("insect", "tuningCapacitor", 1, AT_S), AT_S + 0.03);

  it("operates within half a millisecond of the strike, ahead of low gain", () => {
    // some hundreds of watts in microseconds, 20 us of the diode, three looks 0.1 ms apart
    expect(operateS(burning, "tankLight", AT_NS)).toBeLessThan(0.5e-3);
    expect(operated(burning)[0]).toBe("tankLight");
  });

  it("is quiet without an arc, also with the lid open to the room", () => {
    const bench = watching(
      [
        { atS: 0.02, do: "interlock", which: "lid", closed: false },
        ...faultScenario("openLoad", "load", 1, AT_S),
      ],
      AT_S + 0.03,
    );
    expect(operated(bench)).not.toContain("tankLight");
    expectWithin(
      bench.sensedRow[SENSOR_NAMES.indexOf("tankLight")] ?? Number.NaN,
      0.05,
      0.007,
      "room light, and 3.5 times the diode's noise of 0.2 %",
    );
  });

  it("leaves it to efficiency to say that the power goes nowhere", () => {
    // sensed dissipation 2.7 kW of 2.7 kW input: nothing is delivered; 20 ms and the smoothing
    expect(operateS(burning, "efficiency", AT_NS)).toBeLessThan(25e-3);
    expect(operateS(burning, "efficiency", AT_NS)).toBeGreaterThan(20e-3);
  });
});

describe("grid to plate current", () => {
  it("operates a tenth of a second after the load came off", () => {
    const bench = watching(faultScenario("openLoad", "load", 1, AT_S), AT_S + 0.14);
    expectWithin(operateS(bench, "gridPlateRatio", AT_NS), 0.102, 3e-3, "smoothing and scans");
  });
});

describe("all four", () => {
  it("are quiet on a carrier that comes and goes, at full and at small drive", () => {
    const bench = watching(
      [
        KEY,
        { atS: 0.15, do: "key", down: false },
        { atS: 0.2, do: "set", control: "driveW", value: 8 },
        { atS: 0.3, do: "key", down: true },
      ],
      0.5,
    );
    for (const id of BESIDE) expect(operated(bench)).not.toContain(id);
  });
});

describe("exhaust air temperature", () => {
  // a room at 95 degC stands for minutes of too much heat: the air leaves the cooler hotter than it came
  const hot = (airK: number): Bench => {
    const base = defaultProject().station;
    return watching([KEY], 3, { cooling: { ...base.cooling, inletK: airK } });
  };

  it("operates after its second past 110 degC and warns past 90", () => {
    const bench = hot(393.15); // 120 degC at the inlet: past both from the start
    expectWithin(operateS(bench, "exhaustAir", 0), 1.01, 0.011, "1 s and a scan of 10 ms");
  });

  it("is quiet at 80 degC at the inlet, in the seconds before the anode is warm", () => {
    expect(operated(hot(353.15))).not.toContain("exhaustAir");
  });
});
