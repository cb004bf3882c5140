/** Faults of the tubes on the bench: what trips, what nothing catches, and what a meter shows meanwhile. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { Command, FaultName, Onset, ScenarioEntry } from "../../src/project/scenario";
import type { Bench, FaultStart } from "../../src/simulation/bench";
import { operated, operateS, protectionLog, reading } from "../support/benchLog";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const KEY: ScenarioEntry = { atS: 0, do: "key", down: true };
const NO_DRIVE: ScenarioEntry = { atS: 0, do: "set", control: "driveW", value: 0 };
const AT_NS = 60_030_000;

function place(fault: FaultName, severity: number, onset?: Onset): ScenarioEntry {
  const command: Command = { do: "placeFault", fault, part: "tube", severity };
  return { atS: AT_NS / 1e9, ...command, ...(onset === undefined ? {} : { onset }) };
}

function play(scenario: readonly ScenarioEntry[], untilS: number): Bench {
  const bench = benchOf(defaultProject(scenario));
  bench.advanceTo(Math.round(untilS * 1e9));
  return bench;
}

/** The same with nobody but the operator. */
function alone(bench: Bench, untilS: number): Bench {
  const twin = bench.fork(bench.zeros[0] as FaultStart);
  twin.advanceTo(Math.round(untilS * 1e9));
  return twin;
}

const noTrip = (bench: Bench) => expect(protectionLog(bench, "trip")).toEqual([]);
const HEALTHY = play([KEY], 0.09);

describe("a tube that ages", () => {
  it("gives less output for the same drive, and no monitor says so at VSWR 1", () => {
    const aged = play([KEY, place("tubeAgeing", 0.3)], 0.09);
    // 62 W into 0.7 of the perveance: with the drive's phasor held, currents go roughly as K^(2/3)
    const lostDb = 10 * Math.log10(reading(aged, "forwardW") / reading(HEALTHY, "forwardW"));
    expectWithin(lostDb, (20 / 3) * Math.log10(0.7), 0.5, "K^(2/3) neglects bias and grid current");
    expect(reading(aged, "gridCurrentA")).toBeLessThan(reading(HEALTHY, "gridCurrentA"));
    noTrip(aged);
  });

  it("trips low gain when one of a pair is gone", () => {
    const half = play([KEY, place("tubeOut", 0.5)], 0.09);
    expect(operated(half)).toEqual(["lowGain"]);
    expect(reading(half, "forwardW")).toBeLessThan(1);
  });

  it("grows the same in pieces and in one go", () => {
    const scenario = [KEY, place("tubeAgeing", 0.9, { kind: "growing", overS: 0.02 })];
    const whole = play(scenario, 0.09);
    const pieces = benchOf(defaultProject(scenario));
    for (let ns = 3_333_333; ns < 90_000_000; ns += 3_333_333) pieces.advanceTo(ns);
    pieces.advanceTo(90_000_000);
    expect(pieces.hash).toBe(whole.hash);
    expect(operated(whole)).toEqual(["lowGain"]);
  });
});

describe("a gassy tube", () => {
  it("brings an ion current through the grid the wrong way round, and nothing catches it", () => {
    const gassy = play([KEY, place("gassyTube", 0.03)], 0.09);
    const ionA = (0.03 * reading(gassy, "plateV")) / 3000;
    const grid = reading(HEALTHY, "gridCurrentA") - reading(gassy, "gridCurrentA");
    const plate = reading(gassy, "plateCurrentA") - reading(HEALTHY, "plateCurrentA");
    expectWithin(
      grid,
      ionA,
      1e-3,
      "the supply sags by 4 V of 3050, so the tube's own moves little",
    );
    expectWithin(plate, ionA, 1.5e-3, "the same, and the filter has not quite come down");
    noTrip(gassy);
    noTrip(play([KEY, NO_DRIVE, place("gassyTube", 0.03)], 0.09));
  });

  it("ends in a flashover at the nanosecond in which all of a severe one is there", () => {
    const grown = [KEY, place("gassyTube", 0.12, { kind: "growing", overS: 0.02 })];
    const bench = play(grown, 0.12);
    expect(operated(bench)[0]).toBe("plateInstantaneous");
    // 3 kV through 10.1 ohm passes 2 A behind 20 us in 0.1 us
    const crossedS = operateS(bench, "plateInstantaneous", AT_NS + 20_000_000);
    expectWithin(crossedS, 0.14e-6, 0.1e-6, "20 us x 2 A/300 A");
    const pieces = benchOf(defaultProject(grown));
    for (let ns = 7_000_000; ns < 120_000_000; ns += 7_000_000) pieces.advanceTo(ns);
    pieces.advanceTo(120_000_000);
    expect(pieces.hash).toBe(bench.hash);
    // left alone, the mains feed the arc
    expect(reading(alone(bench, 0.12), "plateCurrentA")).toBeGreaterThan(15);
  });

  it("does not break down below that severity", () => {
    noTrip(play([KEY, place("gassyTube", 0.09, { kind: "growing", overS: 0.01 })], 0.09));
  });
});

describe("a grid that touches the cathode", () => {
  const touched = play([KEY, place("gridTouch", 0.5)], 0.09);

  it("shorts the drive, and low gain trips", () => {
    expect(operated(touched)).toEqual(["lowGain"]);
    const twin = alone(touched, 0.09);
    // 0.5 ohm for the cathode's some 25 to 100 ohm: all but a few per cent come back
    expect(reading(twin, "driveReflectedW")).toBeGreaterThan(0.8 * 62);
    expect(reading(twin, "forwardW")).toBeLessThan(10);
  });

  it("leaves an idle current that no cut-off ends and no monitor sees", () => {
    // K (vp/mu - vk)^1.5, vk the drop in the touch: 0.0042 (15.67 - 0.13)^1.5 at 3134 V
    const idleA = 0.257;
    expectWithin(reading(touched, "plateCurrentA"), idleA, 0.003, "plate voltage on its way up");
    // the cathode's current returns through the grid shunt
    expectWithin(reading(touched, "gridCurrentA"), -idleA, 0.003, "the same");
    expect(reading(touched, "plateDissipationW")).toBeLessThan(1500);
  });

  it("does the same to a station that only listens", () => {
    const listening = play([place("gridTouch", 0.5)], 0.09);
    expectWithin(reading(listening, "plateCurrentA"), 0.26, 0.01, "plate voltage near no load");
    noTrip(listening);
  });
});

describe("self-oscillation", () => {
  it("without drive is output without drive, by the grid current", () => {
    const bench = play([KEY, NO_DRIVE, place("selfOscillation", 0.6)], 0.09);
    expect(operated(bench)).toEqual(["outputWithoutDrive"]);
    const seen = protectionLog(bench, "operate").map((e) => e.event.quantity);
    expect(seen).toEqual(["gridCurrentA"]);
    expectWithin(reading(bench, "plateDissipationW"), 5, 3, "cut off: some milliamperes");
  });

  it("under drive leaves the gain as it is, and the grid trips", () => {
    // 100 ms of confirmation, a scan and the detector
    const bench = play([KEY, place("selfOscillation", 0.6)], 0.18);
    expect(operated(bench)).toEqual(["gridTimed"]);
    const before = reading(HEALTHY, "forwardW");
    const twin = alone(bench, 0.1);
    expectWithin(reading(twin, "forwardW"), before, 0.03 * before, "5 W more and a sag of 90 V");
  });

  it("needs its bias: while the station listens there is none", () => {
    const bench = play([place("selfOscillation", 0.6)], 0.08);
    expect(reading(bench, "plateCurrentA")).toBeLessThan(0.01);
    noTrip(bench);
  });
});
