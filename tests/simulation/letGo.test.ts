/** What resets let go of, and what must not follow them; the unprotected run of faults that come before the key. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { type Bench, createBench } from "../../src/simulation/bench";
import { CH } from "../../src/simulation/channels";
import { faultResult } from "../../src/simulation/simulate";

function benchOf(scenario: readonly ScenarioEntry[], change: Partial<Project> = {}): Bench {
  const created = createBench({ ...defaultProject(scenario), ...change });
  if (!created.ok) throw new Error(created.problem);
  return created.bench;
}

const KEY: ScenarioEntry = { atS: 0, do: "key", down: true };

describe("a reset", () => {
  it("of two trips at once leaves a station that can be keyed again", () => {
    const bench = benchOf([
      KEY,
      { atS: 0.1, do: "placeFault", fault: "driveInhibitFailed", part: "protection", severity: 1 },
      { atS: 0.2, do: "placeFault", fault: "overdrive", part: "exciter", severity: 3.5 },
      { atS: 0.5, do: "removeFault", fault: "overdrive", part: "exciter" },
      { atS: 0.5, do: "removeFault", fault: "driveInhibitFailed", part: "protection" },
      { atS: 0.55, do: "key", down: false },
      { atS: 0.7, do: "reset" },
      { atS: 0.9, do: "key", down: true },
    ]);
    bench.advanceTo(1.1e9);
    const trips = bench.events.filter((e) => e.kind === "protection" && e.event.kind === "trip");
    expect(trips.length).toBeGreaterThanOrEqual(2);
    expect(bench.logic.tripHeld).toBe(false);
    expect(bench.recorder.row[CH.outputW]).toBeGreaterThan(1000);
  });

  it("voids what the trip had commanded and not yet done", () => {
    const bench = benchOf([
      KEY,
      { atS: 0.30037, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
      { atS: 0.306, do: "removeFault", fault: "insect", part: "tuningCapacitor" },
      { atS: 0.3145, do: "reset" },
    ]);
    bench.advanceTo(0.5e9);
    const { sequence, driveInhibited, tripHeld } = bench.logic;
    expect({ sequence: sequence.phase, driveInhibited, tripHeld }).toEqual({
      sequence: "transmit",
      driveInhibited: false,
      tripHeld: false,
    });
    expect(bench.recorder.row[CH.outputW]).toBeGreaterThan(1000);
  });

  it("closes the contactor again once the wiring that opened it alone is mended", () => {
    const bench = benchOf([
      KEY,
      { atS: 0.1, do: "placeFault", fault: "contactorOnly", part: "protection", severity: 1 },
      { atS: 0.30037, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
      { atS: 0.8, do: "key", down: false },
      { atS: 1.1, do: "removeFault", fault: "insect", part: "tuningCapacitor" },
      { atS: 1.1, do: "removeFault", fault: "contactorOnly", part: "protection" },
      { atS: 1.2, do: "reset" },
    ]);
    bench.advanceTo(1.4e9);
    expect(bench.events.some((e) => e.kind === "actuator" && e.actuator === "contactor")).toBe(
      true,
    );
    expect(bench.logic.contactorOpen).toBe(false);
  });
});

describe("the T/R sequence", () => {
  it("finishes opening when the key opens after standby", () => {
    const bench = benchOf([
      KEY,
      { atS: 0.3, do: "standby" },
      { atS: 0.308, do: "key", down: false },
    ]);
    bench.advanceTo(0.6e9);
    expect(bench.logic.sequence.phase).toBe("receive");
    expect(bench.logic.sequence.antennaClosed).toBe(false);
  });
});

describe("a fault that comes before the key", () => {
  const scenario: readonly ScenarioEntry[] = [
    { atS: 0.1, do: "placeFault", fault: "shortLoad", part: "load", severity: 0.5 },
    { atS: 0.3, do: "key", down: true },
  ];

  it("is met by the unprotected run as well, and is not cleared before it was there", () => {
    const bench = benchOf(scenario);
    bench.advanceTo(0.6e9);
    const start = bench.zeros[0];
    if (start === undefined) throw new Error("the fault had no time zero");
    const twin = bench.fork(start);
    twin.advanceTo(0.5e9);
    const { race } = faultResult(bench, start, Infinity, twin);
    const reflected = race.monitors.find((m) => m.id === "reflectedPower");
    expect(reflected?.operateS).toBeGreaterThan(0.2);
    expect(race.clearingS).toBeGreaterThan(0.2);
  });
});

describe("the unprotected run", () => {
  it("does not carry out what an earlier trip had still to do", () => {
    const bench = benchOf([
      KEY,
      { atS: 0.30037, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
      { atS: 0.30402, do: "placeFault", fault: "openLoad", part: "load", severity: 1 },
    ]);
    bench.advanceTo(0.4e9);
    const start = bench.zeros[1];
    if (start === undefined) throw new Error("the second fault had no time zero");
    const twin = bench.fork(start);
    twin.advanceTo(start.zero.atNs + 30e6);
    expect(twin.events.some((e) => e.kind === "actuator" && e.effect === "acted")).toBe(false);
  });

  it("keeps its onset when the arc strikes again in the protected run", () => {
    const bench = benchOf([
      KEY,
      { atS: 0.30037, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
      { atS: 0.36, do: "reset" },
    ]);
    bench.advanceTo(0.6e9);
    const start = bench.zeros[0];
    if (start === undefined) throw new Error("nothing struck");
    const twin = bench.fork(start);
    twin.advanceTo(start.zero.atNs + 0.4e9);
    expect(twin.events.some((e) => e.kind === "milestone" && e.milestone === "meltOnset")).toBe(
      true,
    );
  });
});

describe("a settled piece of a few microseconds", () => {
  it("is recorded as it was, and again the same from a snapshot", () => {
    const scenario: readonly ScenarioEntry[] = [
      KEY,
      { atS: 0.1, do: "placeFault", fault: "offResonance", part: "tank", severity: 0.02 },
      { atS: 0.15, do: "set", control: "driveW", value: 40 },
    ];
    const straight = benchOf(scenario);
    const again = benchOf(scenario);
    // pieces of 1 to 4 us anywhere in settled samples, so that some hold a point of the fault's track
    const cuts = Array.from({ length: 400 }, (_, i) => 300_000_000 + i * 250_003);
    for (const atNs of cuts) straight.schedule(atNs, { do: "acknowledge" });
    for (const atNs of cuts) again.schedule(atNs, { do: "acknowledge" });
    straight.advanceTo(0.45e9);
    again.advanceTo(0.28e9);
    const kept = again.snapshot();
    again.advanceTo(0.35e9);
    again.restore(kept);
    again.advanceTo(0.45e9);
    expect(again.hash).toBe(straight.hash);
  });
});
