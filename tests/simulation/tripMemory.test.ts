/** What is written down of a trip, and that it stands whatever is done with the run. */
import { describe, expect, it } from "vitest";
import { simulationJson } from "../../src/formats/resultJson";
import { defaultProject } from "../../src/project/defaults";
import type { ScenarioEntry } from "../../src/project/scenario";
import { SENSOR_NAMES } from "../../src/protection/sensing/sensing";
import type { Bench } from "../../src/simulation/bench";
import { simulate } from "../../src/simulation/simulate";
import { keyDownS, MOST_TRIPS, type SensorReadings } from "../../src/simulation/tripMemory";
import { protectionLog } from "../support/benchLog";
import { benchOf, faultScenario } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const MS = 1_000_000;
const LATE = faultScenario("insect", "tuningCapacitor", 1, 1.20037);

function of(
  readings: SensorReadings | null | undefined,
  name: (typeof SENSOR_NAMES)[number],
): number {
  return readings?.[SENSOR_NAMES.indexOf(name)] ?? Number.NaN;
}

function run(scenario: readonly ScenarioEntry[], untilMs: number): Bench {
  const bench = benchOf(defaultProject(scenario));
  bench.advanceTo(untilMs * MS);
  return bench;
}

describe("a trip that is written down", () => {
  const bench = run(LATE, 1260);
  const [trip] = bench.logic.memory.trips;

  it("has the readings a second before, at the pickup and at the trip", () => {
    expect(bench.logic.memory.trips).toHaveLength(1);
    // the operating point of the README: 1453 W, 0.815 A, 64 mA; an arc in the tank leaves a hundredth of the output
    expectWithin(of(trip?.before, "outputForwardW"), 1453, 15, "1 %, and noise of 1.25 W");
    expectWithin(of(trip?.before, "plateCurrentA"), 0.815, 0.01, "1 %");
    expect(of(trip?.atPickup, "outputForwardW")).toBeLessThan(1453);
    expect(of(trip?.atTrip, "outputForwardW")).toBeLessThan(30);
    expectWithin(of(trip?.atTrip, "plateRfPeakV"), 243, 10, "the arc's 250 V, less its swing");
  });

  it("names its monitor, its instants and the first up, and counts", () => {
    const [logged] = protectionLog(bench, "trip");
    const picked = protectionLog(bench, "pickup").filter((e) => e.event.monitorId === "lowGain");
    expect(trip).toMatchObject({
      monitorId: "lowGain",
      firstUp: true,
      lockout: false,
      atNs: logged?.atNs,
      pickupNs: picked[0]?.atNs,
    });
    expect(bench.logic.memory.counts).toEqual({ lowGain: 1 });
  });

  it("counts the time the key has been down", () => {
    expectWithin(keyDownS(bench.buffer), 1.26, 1e-9, "whole samples, key down from the start");
  });

  it("outlives acknowledge and reset, and goes by an act of its own, once", () => {
    bench.schedule(1265 * MS, { do: "acknowledge" });
    bench.schedule(1266 * MS, { do: "key", down: false });
    bench.schedule(1270 * MS, { do: "reset" });
    bench.advanceTo(1280 * MS);
    expect(bench.protection.firstUp).toBeNull();
    expect(bench.logic.memory.trips).toEqual([trip]);
    bench.schedule(1285 * MS, { do: "clearTripMemory" });
    bench.schedule(1290 * MS, { do: "clearTripMemory" });
    bench.advanceTo(1300 * MS);
    expect(bench.logic.memory).toMatchObject({ trips: [], counts: {} });
    const refused = bench.events.flatMap((e) =>
      e.kind === "command" && e.command.do === "clearTripMemory" ? [e.refused] : [],
    );
    expect(refused).toEqual(["", "the trip memory is empty"]);
  });
});

describe("the memory as part of a run", () => {
  it("is the same from a snapshot on, on a second bench, and starts alike in the unprotected run", () => {
    const bench = run(LATE, 1150);
    const snapshot = bench.snapshot();
    bench.advanceTo(1260 * MS);
    const other = bench.another();
    other.visit(snapshot);
    other.advanceTo(1260 * MS);
    expect(other.logic.memory).toEqual(bench.logic.memory);
    bench.restore(snapshot);
    expect(bench.logic.memory.trips).toEqual([]);
    bench.advanceTo(1260 * MS);
    expect(bench.logic.memory).toEqual(other.logic.memory);
    const [start] = bench.zeros;
    if (start === undefined) throw new Error("no fault");
    const twin = bench.fork(start);
    expect(twin.logic.memory).toEqual(start.snapshot.logic.memory);
    twin.advanceTo(1260 * MS);
    expect(twin.logic.memory.trips).toEqual([]); // inhibited: nothing trips
  });

  it("has no second before in the first second, and reads a comparator's trip at its sample's end", () => {
    const bench = run(faultScenario("plateSupplyShort", "supply", 5, 0.10037), 102);
    const trip = bench.logic.memory.trips.find((t) => t.monitorId === "plateInstantaneous");
    expect(trip?.before).toBeNull();
    expect(trip?.lockout).toBe(true);
    expect(of(trip?.atTrip, "plateCurrentA")).toBeGreaterThan(2); // 200 A through 0.3 ms for some 30 us: full scale
  });

  it("keeps the last twenty trips and counts them all", () => {
    const keyed = Array.from({ length: 23 }, (_, i): readonly ScenarioEntry[] => [
      { atS: 0.1 * i, do: "key", down: true },
      { atS: 0.1 * i + 0.07, do: "key", down: false },
      { atS: 0.1 * i + 0.09, do: "reset" },
    ]).flat();
    // 20 % off tune from the start: low gain trips at each key-down
    const bench = run([{ atS: 0, do: "set", control: "tuningRatio", value: 0.8 }, ...keyed], 2300);
    const { trips, counts } = bench.logic.memory;
    expect(counts.lowGain).toBe(23);
    expect(trips).toHaveLength(MOST_TRIPS);
    expect(trips.at(-1)?.atNs).toBeGreaterThan(2200 * MS);
  });

  it("is printed with the result, each reading under its sensor's name", () => {
    const run = simulate({ ...defaultProject(LATE), endS: 1.25 });
    if (!run.ok) throw new Error(run.problem);
    const { tripMemory } = simulationJson(run.simulation);
    expect(tripMemory.counts).toEqual({ lowGain: 1 });
    expect(tripMemory.trips[0]?.name).toBe("Low gain");
    expect(Object.keys(tripMemory.trips[0]?.atTrip ?? {})).toEqual([...SENSOR_NAMES]);
  });
});
