/**
 * Airflow lost, on a station whose anode holds a hundredth of the heat and whose air is watched a hundred times as
 * quickly: every time is a hundredth of the demonstration station's, and the temperatures are the same.
 */
import { describe, expect, it } from "vitest";
import { CLOCK } from "../../src/physics/heat/clocks";
import { defaultProject } from "../../src/project/defaults";
import { FAULTS } from "../../src/project/faults";
import type { MonitorDef } from "../../src/project/protection";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Bench } from "../../src/simulation/bench";
import { operated, operateS, protectionLog, reading } from "../support/benchLog";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const HASTE = 100;
const INLET_K = 293.15;
const KEY: ScenarioEntry = { atS: 0, do: "key", down: true };

function lost(severity: number): ScenarioEntry {
  return { atS: 0, do: "placeFault", fault: "airflowLost", part: "tube", severity };
}

function hasty(def: MonitorDef): MonitorDef {
  if (def.id !== "exhaustAir") return def;
  const criteria = def.criteria.map((c) => ({
    ...c,
    timing: { kind: "definite", delayS: 1 / HASTE } as const,
  }));
  return { ...def, scanS: 1e-3, criteria };
}

function benchWith(scenario: readonly ScenarioEntry[], untilS: number): Bench {
  const project = defaultProject(scenario);
  const { station, sensors } = project;
  const bench = benchOf({
    ...project,
    station: {
      ...station,
      cooling: {
        ...station.cooling,
        anodeHeatCapacityJPerK: station.cooling.anodeHeatCapacityJPerK / HASTE,
      },
      // air of the density that the cooler's numbers are for
      site: { ...station.site, altitudeM: 0, airK: INLET_K },
      powerUp: { ...station.powerUp, fanRunOnS: 0.1 },
    },
    sensors: {
      ...sensors,
      exhaustAirK: {
        ...sensors.exhaustAirK,
        timeConstantS: sensors.exhaustAirK.timeConstantS / HASTE,
      },
    },
    monitors: project.monitors.map(hasty),
  });
  bench.advanceTo(Math.round(untilS * 1e9));
  return bench;
}

function anode(bench: Bench): number {
  return bench.damage.clockFraction(bench.buffer, CLOCK.anode);
}

describe("airflow lost", () => {
  it("is seen by the exhaust air alone, when still air has become as hot as the anode", () => {
    const bench = benchWith([KEY, lost(1)], 0.24);
    expect(protectionLog(bench, "trip")).toEqual([]);
    const watts = reading(bench, "plateDissipationW");
    bench.advanceTo(0.32e9);
    expect(operated(bench)).toEqual(["exhaustAir"]);
    // C dT/dt = P - g T, g = 0.03 of 1500 W/225 K; a ramp is read one time constant late; then the confirmation.
    // Inlet 20 degC, pickup 110 degC; drive comes 15 ms after the key
    const g = (0.03 * 1500) / 225;
    const warmS = (-2.31 / g) * Math.log(1 - (90 * g) / watts);
    expectWithin(
      operateS(bench, "exhaustAir"),
      0.015 + warmS + 0.03 + 0.01,
      0.01,
      "heat of the first 0.1 s, when the supply still sags, and a scan",
    );
  });

  it("leaves the anode about three times as long as that, and nothing else is hurt before", () => {
    const bench = benchWith([KEY, lost(1)], 0.1);
    const left = (part: keyof typeof CLOCK): number =>
      bench.damage.clockTimeLeftS(bench.buffer, CLOCK[part]);
    const damageS = 0.1 + left("anode");
    // 630 K is 337 K over the inlet: 2.31 J/K x 337 K / 0.92 kW = 0.84 s, and what still air takes away on the way
    expectWithin(damageS, 0.88, 0.06, "natural draught takes a twentieth");
    for (const part of Object.keys(CLOCK) as (keyof typeof CLOCK)[])
      if (part !== "anode") expect(left(part), part).toBeGreaterThan(left("anode"));
  });

  it("is no trip and no alarm while three quarters of the air are left", () => {
    const bench = benchWith([KEY, lost(0.25)], 1.1);
    expect(protectionLog(bench, "operate", "alarm")).toEqual([]);
    expect(bench.damage.clockTimeLeftS(bench.buffer, CLOCK.anode)).toBe(Infinity);
    // in the end all the heat is in the air that is left, P / (0.75 x 1.204 x 0.0165 x 1006); until then the anode
    // warms with C/g, g = (0.03 + 0.97 x 0.75) 1500 W/225 K: 0.457 s
    const inTheEndK = reading(bench, "plateDissipationW") / (0.75 * 1.204 * 0.0165 * 1006);
    const riseK = inTheEndK * 1.01 * (1 - Math.exp(-(1.1 - 0.015) / 0.457));
    const exhaustK = bench.damage.exhaustAirK(bench.buffer);
    expectWithin(
      exhaustK - INLET_K,
      riseK,
      0.02 * riseK,
      "1 % goes by radiation; heat of the first 0.1 s",
    );
  });

  it("changes nothing that the other sensors read", () => {
    const with1 = benchWith([KEY, lost(1)], 0.1);
    const without = benchWith([KEY], 0.1);
    for (const channel of ["plateCurrentA", "gridCurrentA", "outputW", "plateV"] as const)
      expect(reading(with1, channel)).toBe(reading(without, channel));
    expect(anode(with1)).toBeGreaterThan(anode(without));
  });

  it("grows with a clogging filter", () => {
    const scenario: ScenarioEntry[] = [
      KEY,
      { ...lost(1), onset: { kind: "growing", overS: 0.2 } } as ScenarioEntry,
    ];
    const [sudden, growing, none] = [[KEY, lost(1)], scenario, [KEY]].map((s) =>
      anode(benchWith(s, 0.1)),
    ) as [number, number, number];
    expect(growing).toBeLessThan(sudden);
    expect(growing).toBeGreaterThan(none);
    expect(FAULTS.airflowLost.latent).toBe(false);
  });
});

describe("the fan's run-on", () => {
  it("goes on cooling the anode after switch-off; once the fan has stopped hardly anything does", () => {
    const bench = benchWith([KEY, { atS: 0.1, do: "power", on: false }], 0.12);
    const rate = (fromS: number, toS: number): number => {
      bench.advanceTo(fromS * 1e9);
      const before = anode(bench);
      bench.advanceTo(toS * 1e9);
      return Math.log(before / anode(bench)) / (toS - fromS);
    };
    const running = rate(0.15, 0.19);
    // g/C = (1500/225)/2.31 a second; the cut-off current at 3 kV goes on heating with 6 W
    expectWithin(running, 2.886, 0.08, "6 W beside the 250 W that are carried away");
    expect(rate(0.21, 0.25)).toBeLessThan(0.03 * running);
  });
});
