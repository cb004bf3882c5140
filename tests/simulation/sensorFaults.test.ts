/** Faults of the protection itself: what shows by itself, what the next fault finds, what nothing ends. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { SensorName } from "../../src/project/protection";
import type {
  Command,
  FaultName,
  Onset,
  PartName,
  ScenarioEntry,
} from "../../src/project/scenario";
import { SENSOR_NAMES } from "../../src/protection/sensing/sensing";
import type { Bench, FaultStart } from "../../src/simulation/bench";
import { operated, operateS, protectionLog, reading } from "../support/benchLog";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const KEY: ScenarioEntry = { atS: 0, do: "key", down: true };
const KEY_UP: ScenarioEntry = { atS: 0.07, do: "key", down: false };
const LOST_S = 0.05;
const FAULT_S = 0.06037;
const FAULT_NS = 60_370_000;
const SUDDEN: Onset = { kind: "sudden" };

function place(
  atS: number,
  fault: FaultName,
  part: PartName,
  severity = 1,
  onset: Onset = SUDDEN,
): ScenarioEntry {
  const command: Command = { do: "placeFault", fault, part, severity, onset };
  return { atS, ...command };
}

function play(scenario: readonly ScenarioEntry[], untilS: number): Bench {
  const bench = benchOf(defaultProject(scenario));
  bench.advanceTo(Math.round(untilS * 1e9));
  expect(bench.events.filter((e) => e.kind === "command" && e.refused !== "")).toEqual([]);
  return bench;
}

const read = (bench: Bench, sensor: SensorName) =>
  bench.sensedRow[SENSOR_NAMES.indexOf(sensor)] as number;

const SHORT = place(FAULT_S, "plateSupplyShort", "supply", 5);
const lost = (fault: FaultName, part: PartName = "protection") => place(LOST_S, fault, part);

describe("a sensor that is open", () => {
  it.each([
    ["driveForwardW", "outputWithoutDrive"],
    ["outputForwardW", "lowGain"],
    ["plateV", "supplyUndervoltage"],
    ["plateCurrentA", null],
    ["gridCurrentA", null],
    ["plateRfPeakV", null],
    ["outputReflectedW", null],
  ] as const)("%s: %s speaks of it under a steady carrier", (sensor, monitor) => {
    const bench = play([KEY, lost("sensorOpen", sensor)], 0.09);
    expect(operated(bench)[0] ?? null).toBe(monitor);
    expect(bench.zeros).toEqual([]); // nothing is on its way to damage
  });

  it("leaves an antenna lost to the monitor that is next", () => {
    const open = place(FAULT_S, "openLoad", "load");
    expect(operated(play([KEY, open], 0.07))[0]).toBe("plateRfOvervoltage");
    const bench = play([KEY, lost("sensorOpen", "plateRfPeakV"), open], 0.07);
    expect(operated(bench)[0]).toBe("reflectedPower");
  });

  it("is there only at times when its contact is poor, the same in pieces", () => {
    const often: Onset = { kind: "intermittent", share: 0.5 };
    const scenario = [KEY, place(LOST_S, "sensorOpen", "gridCurrentA", 1, often)];
    const whole = play(scenario, 0.2);
    const pieces = benchOf(defaultProject(scenario));
    for (let ns = 3_333_333; ns < 200_000_000; ns += 3_333_333) pieces.advanceTo(ns);
    pieces.advanceTo(200_000_000);
    expect(pieces.hash).toBe(whole.hash);
  });
});

describe("a sensor that is stuck", () => {
  it("holds what it read through key-up, and goes on from any snapshot", () => {
    const scenario = [KEY, lost("sensorStuck", "outputReflectedW"), KEY_UP];
    const bench = play(scenario, 0.06);
    const held = read(bench, "outputReflectedW");
    const snapshot = bench.snapshot();
    bench.advanceTo(150_000_000);
    expect(read(bench, "outputReflectedW")).toBe(held);
    const again = bench.another();
    again.visit(snapshot);
    again.schedule(KEY_UP.atS * 1e9, { do: "key", down: false });
    again.advanceTo(150_000_000);
    expect(read(again, "outputReflectedW")).toBe(held);
  });

  it("shows an arc as a healthy carrier where it is the forward power", () => {
    const arc = place(FAULT_S, "arc", "tuningCapacitor", 250);
    expect(operated(play([KEY, arc], 0.07))[0]).toBe("lowGain");
    expect(operated(play([KEY, lost("sensorStuck", "outputForwardW"), arc], 0.12))).toEqual([]);
  });
});

describe("a sensor that drifts", () => {
  it("moves every pickup on it: overdrive of 130 W reads under 100 W and is left to the grid", () => {
    const drive = place(FAULT_S, "overdrive", "exciter", 130 / 62);
    expect(operated(play([KEY, drive], 0.12))[0]).toBe("overdrive");
    const low = place(LOST_S, "sensorDrifts", "driveForwardW", -0.3);
    // the grid confirms for 100 ms, a scan and the detector come to it
    expect(operated(play([KEY, low, drive], 0.18))[0]).toBe("gridTimed");
  });

  it("drifts a little at a time", () => {
    const growing: Onset = { kind: "growing", overS: 0.04 };
    const bench = play([KEY, place(LOST_S, "sensorDrifts", "plateCurrentA", -0.5, growing)], 0.07);
    const shown = read(bench, "plateCurrentA") / reading(bench, "plateCurrentA");
    expectWithin(shown, 0.75, 2e-3, "half of its half; one step of 12 bits on 2.5 A");
    expect(operated(bench)).toEqual([]);
  });
});

describe("what several monitors share", () => {
  it("the output detector: gain seems gone under drive, and without a key nobody notices", () => {
    const bench = play([KEY, lost("outputDetectorLost")], 0.07);
    expect(operated(bench)).toEqual(["lowGain"]);
    expect(operateS(bench, "lowGain", LOST_S * 1e9)).toBeLessThan(6e-3);
    expect(operated(play([lost("outputDetectorLost")], 0.12))).toEqual([]);
  });

  it("the grid shunt: nothing ends a tank that is loaded too lightly", () => {
    const light = place(FAULT_S, "lightLoading", "tank", 1.5);
    // 60 ms to the fault, 100 ms of confirmation
    expect(operated(play([KEY, light], 0.18))[0]).toBe("gridTimed");
    expect(operated(play([KEY, lost("gridShuntLost"), light], 0.18))).toEqual([]);
  });

  it("the plate shunt: a short is left to undervoltage, which does not take the supply away", () => {
    const guarded = play([KEY, SHORT], 0.1);
    expect(operated(guarded)[0]).toBe("plateInstantaneous");
    expect(guarded.events.some((e) => e.kind === "cleared")).toBe(true);
    const blind = play([KEY, lost("plateShuntLost"), SHORT], 0.1);
    expect(operated(blind)).toEqual(["supplyUndervoltage"]);
    expect(reading(blind, "plateCurrentA")).toBeGreaterThan(10);
    expect(blind.events.some((e) => e.kind === "cleared")).toBe(false);
    // nobody speaks of it before
    expect(operated(play([KEY, lost("plateShuntLost")], 0.09))).toEqual([]);
  });
});

describe("a scan that has stopped", () => {
  it("leaves the comparator alone to act", () => {
    const stopped = lost("scanStopped");
    expect(operated(play([KEY, stopped, SHORT], 0.1))).toEqual(["plateInstantaneous"]);
    const open = place(FAULT_S, "openLoad", "load");
    expect(protectionLog(play([KEY, stopped, open], 0.1), "pickup")).toEqual([]);
  });

  it("evaluates nothing in the unprotected run either", () => {
    const bench = play([KEY, lost("scanStopped"), place(FAULT_S, "openLoad", "load")], 0.07);
    const twin = bench.fork(bench.zeros[0] as FaultStart);
    twin.advanceTo(FAULT_NS + 30_000_000);
    expect(operated(twin)).toEqual([]);
  });

  it("goes on when the controller does", () => {
    const hangs = place(LOST_S, "scanStopped", "protection", 1, { kind: "passing", forS: 0.02 });
    const bench = play([KEY, hangs, place(FAULT_S, "openLoad", "load")], 0.09);
    expect(operated(bench)[0]).toBe("plateRfOvervoltage");
    expect(operateS(bench, "plateRfOvervoltage", FAULT_NS)).toBeGreaterThan(9e-3);
  });
});

describe("a T/R relay that does not do as it is told", () => {
  it("does not close at the next key-down: an open tank, and its race begins with the drive", () => {
    const fault = place(0.01, "relayStaysOpen", "protection");
    const bench = play([fault, { ...KEY, atS: 0.02 }], 0.06);
    expect(operated(bench)[0]).toBe("plateRfOvervoltage");
    const zeroNs = bench.zeros[0]?.zero.atNs ?? 0;
    expect(zeroNs).toBeGreaterThan(30_000_000);
    // 5 ms of raised cosine: 3.4 kV of the 3.7 kV are passed before its end
    expect(operateS(bench, "plateRfOvervoltage", zeroNs)).toBeLessThan(6e-3);
  });

  it("says nothing while the relay is closed already", () => {
    const bench = play([KEY, place(LOST_S, "relayStaysOpen", "protection")], 0.09);
    expect(operated(bench)).toEqual([]);
    expect(bench.zeros).toEqual([]);
  });

  it("stays closed when it has welded: the trip is carried out by the others", () => {
    const bench = play(
      [KEY, lost("relayStuck"), place(FAULT_S, "arc", "tuningCapacitor", 250)],
      0.12,
    );
    expect(operated(bench)[0]).toBe("lowGain");
    const said = bench.events.flatMap((e) =>
      e.kind === "actuator" ? [`${e.actuator} ${e.effect}`] : [],
    );
    expect(said).toContain("transmitReceive failed");
    expect(reading(bench, "forwardW")).toBeLessThan(1);
  });
});
