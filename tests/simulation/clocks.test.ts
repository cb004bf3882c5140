/** The parts' clocks on the running bench: what feeds them, what a fault does to them, and that they replay. */
import { describe, expect, it } from "vitest";
import { CLOCK, CLOCK_COUNT, type ClockPart } from "../../src/physics/heat/clocks";
import { resolveStation } from "../../src/physics/stage/stationCircuit";
import { defaultProject } from "../../src/project/defaults";
import type { ScenarioEntry } from "../../src/project/scenario";
import { type Bench, createBench } from "../../src/simulation/bench";
import { partStress, type StressedPart } from "../../src/study/partStress";
import { type Working, WorkingPoints } from "../../src/study/workingPoint";
import { expectWithin } from "../support/expectWithin";

const KEY: ScenarioEntry = { atS: 0.01, do: "key", down: true };

function benchOf(scenario: readonly ScenarioEntry[]): Bench {
  const created = createBench(defaultProject(scenario));
  if (!created.ok) throw new Error(created.problem);
  return created.bench;
}

function fraction(bench: Bench, part: ClockPart): number {
  return bench.damage.clockFraction(bench.buffer, CLOCK[part]);
}

function stress(bench: Bench, part: ClockPart): number {
  return bench.damage.clockStress(bench.buffer, CLOCK[part]);
}

describe("clocks of the running bench", () => {
  it("are stressed by the currents that the station's own table of stresses names", () => {
    const resolved = resolveStation(defaultProject().station);
    if (!resolved.ok) throw new Error(resolved.problem);
    const points = new WorkingPoints(resolved.parts);
    const rows = partStress(resolved.parts, points.at(points.asDesigned(62)) as Working);
    const shareOf = (part: StressedPart): number => {
      const row = rows.find((r) => r.part === part && r.by === "rfCurrent");
      return (row?.value ?? Number.NaN) / (row?.rating ?? Number.NaN);
    };
    const bench = benchOf([KEY]);
    bench.advanceTo(200_000_000);
    const pairs: readonly (readonly [ClockPart, StressedPart])[] = [
      ["switchContact", "coil"],
      ["tuningWiper", "tuningCapacitor"],
      ["loadingWiper", "loadingCapacitor"],
    ];
    for (const [clock, part] of pairs)
      expectWithin(Math.sqrt(stress(bench, clock)), shareOf(part), 2e-3, "the supply still sags");
    // with a quarter of the direct current's square: 0.25 x 0.83 A squared
    expectWithin(stress(bench, "plateChoke") - shareOf("plateChoke") ** 2, 0.172, 0.01, "0.83 A");
  });

  it("are the same when gone back to, whatever the steps, and in a fork up to the fault's own doing", () => {
    const bench = benchOf([KEY]);
    bench.advanceTo(60_000_000);
    const then = bench.snapshot();
    bench.advanceTo(90_000_000);
    const once = bench.buffer.slice();
    bench.restore(then);
    for (let ns = 60_050_000; ns <= 90_000_000; ns += 50_000) bench.advanceTo(ns);
    expect(bench.buffer).toEqual(once);
    for (let k = 0; k < CLOCK_COUNT; k++)
      expect(bench.damage.clockFraction(bench.buffer, k)).toBeGreaterThanOrEqual(0);
  });

  it("give the surge resistor what the filter held when the supply is shorted", () => {
    const bench = benchOf([
      KEY,
      {
        atS: 0.1,
        do: "placeFault",
        fault: "plateSupplyShort",
        part: "supply",
        severity: 0.1,
        onset: { kind: "sudden" },
      },
    ]);
    bench.advanceTo(100_000_000);
    const before = fraction(bench, "surgeResistor");
    const filterV = bench.recorder.row[8] as number;
    bench.advanceTo(103_000_000);
    const takenJ = (fraction(bench, "surgeResistor") - before) * 500;
    // 40 uF behind 150 ohm of mains into 10.1 ohm: Vc = Vf + (V0 - Vf) exp(-t/tau), Vf = 3180 x 10.1/160.1 = 200.6 V,
    // tau = 40 uF x (150 and 10.1 ohm in parallel) = 0.3785 ms; energy = 10 ohm x integral of (Vc/10.1)^2 over 3 ms
    const restV = 200.6;
    const tauS = 0.3785e-3;
    const fallV = filterV - restV;
    const square = restV ** 2 * 3e-3 + 2 * restV * fallV * tauS + 0.5 * fallV ** 2 * tauS;
    expectWithin(
      takenJ,
      (10 / 10.1 ** 2) * square,
      1,
      "choke's bypass, tube current and cooling, under 1 J",
    );
  });

  it("count no wear for ordinary keying and a little for a relay that opens under power", () => {
    const keyed = benchOf([KEY, { atS: 0.06, do: "key", down: false }]);
    keyed.advanceTo(500_000_000);
    expect(fraction(keyed, "relayContact")).toBeLessThan(1e-5);
    const torn = benchOf([
      KEY,
      {
        atS: 0.06,
        do: "placeFault",
        fault: "relayOpens",
        part: "outputContact",
        severity: 1,
        onset: { kind: "sudden" },
      },
    ]);
    torn.advanceTo(200_000_000);
    expect(fraction(torn, "relayContact")).toBeLessThan(0.05);
  });
});
