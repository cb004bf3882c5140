/** Faults that come in steps: switches turned under power, contacts that part, an exciter that does not wait. */
import { describe, expect, it } from "vitest";
import { DEFAULT_LEVEL_CONTROLS, defaultProject } from "../../src/project/defaults";
import type { Command, Onset, ScenarioEntry } from "../../src/project/scenario";
import type { Exciter } from "../../src/project/station";
import type { Bench } from "../../src/simulation/bench";
import { operated, protectionLog, reading } from "../support/benchLog";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const KEY: ScenarioEntry = { atS: 0, do: "key", down: true };
/** So little drive that no arc can be fed. */
const LOW: ScenarioEntry = { atS: 0, do: "set", control: "driveW", value: 0.5 };

type Placing = Extract<Command, { do: "placeFault" }>;

function place(
  atS: number,
  fault: Placing["fault"],
  part: Placing["part"],
  severity: number,
  onset: Onset = { kind: "sudden" },
): ScenarioEntry {
  return { atS, do: "placeFault", fault, part, severity, onset };
}

function play(scenario: readonly ScenarioEntry[], untilS: number, exciter: Partial<Exciter> = {}) {
  const usual = defaultProject(scenario);
  const station = { ...usual.station, exciter: { ...usual.station.exciter, ...exciter } };
  const bench = benchOf({ ...usual, station });
  bench.advanceTo(Math.round(untilS * 1e9));
  return bench;
}

function swr(bench: Bench): number {
  const rho = Math.sqrt(reading(bench, "reflectedW") / reading(bench, "forwardW"));
  return (1 + rho) / (1 - rho);
}

const strikes = (bench: Bench) => bench.events.filter((e) => e.kind === "strike");
const zeros = (bench: Bench) =>
  bench.events.flatMap((e) => (e.kind === "faultZero" ? [e.atNs] : []));
const noTrip = (bench: Bench) => expect(protectionLog(bench, "trip", "alarm")).toEqual([]);

describe("an antenna switch turned under power", () => {
  it("is open for its travel of 15 ms, then shows the other antenna's SWR", () => {
    const bench = play([KEY, LOW, place(0.06003, "antennaChanged", "load", 3)], 0.075);
    expect(swr(bench)).toBeGreaterThan(100); // 20 uS on 50 ohm is SWR 1000
    bench.advanceTo(75_200_000); // 0.17 ms after the switch has arrived
    expectWithin(swr(bench), 3, 0.01, "the tank has long settled");
    expect(strikes(bench)).toEqual([]);
    noTrip(bench);
  });

  it("draws an arc beyond the coupler at full power, and reflected power ends it", () => {
    const bench = play([KEY, place(0.06003, "antennaChanged", "load", 1.2)], 0.1);
    expect(strikes(bench).map((e) => [e.place, e.atNs])).toEqual([["beyondCoupler", 60_030_000]]);
    expect(operated(bench)).toEqual(["reflectedPower"]);
    const out = bench.events.find((e) => e.kind === "arcOut");
    // 200 V peak at the few amperes the output can give: some hundreds of watts for 22 ms
    expect(out?.energyJ).toBeGreaterThan(1);
    expect(out?.energyJ).toBeLessThan(40);
    expect(reading(bench, "arcW")).toBe(0);
  });
});

describe("a band switch turned under power", () => {
  it("arcs at the coil tap, and low gain acts as on any arc there", () => {
    const bench = play([KEY, place(0.06037, "bandSwitchMoved", "bandSwitch", 0.5)], 0.09);
    expect(strikes(bench).map((e) => e.place)).toEqual(["coilTap"]);
    expect(operated(bench)).toEqual(["lowGain"]);
  });

  it("does nothing without power; the next key-down finds the wrong band", () => {
    const later: ScenarioEntry = { atS: 0.05, do: "key", down: true };
    const bench = play([place(0.01, "bandSwitchMoved", "bandSwitch", 0.5), later], 0.1);
    expect(strikes(bench)).toEqual([]);
    expect(operated(bench)[0]).toBe("lowGain");
  });
});

describe("a contact that parts under power", () => {
  it("draws an arc from the T/R relay that reflected power ends", () => {
    const bench = play([KEY, place(0.06003, "relayOpens", "outputContact", 3e-3)], 0.1);
    expect(strikes(bench).map((e) => e.place)).toEqual(["beyondCoupler"]);
    expect(zeros(bench)).toEqual([60_030_000]);
    expect(operated(bench)).toEqual(["reflectedPower"]);
    expect(reading(bench, "arcW")).toBe(0);
  });

  it("burns where a connector makes and breaks, and not where it only loses some of its contact", () => {
    const onset: Onset = { kind: "intermittent", share: 0.6 };
    const bench = play([KEY, place(0.06, "openLoad", "load", 1, onset)], 0.46);
    expect(strikes(bench)[0]?.place).toBe("beyondCoupler");
    expect(protectionLog(bench, "trip").length).toBeGreaterThan(0);
    const partly = play([KEY, place(0.06, "openLoad", "load", 0.05, onset)], 0.46);
    expect(strikes(partly)).toEqual([]);
    noTrip(partly);
  });
});

describe("an exciter ahead of the antenna relay", () => {
  const later: ScenarioEntry = { atS: 0.05, do: "key", down: true };

  it("begins its race with the drive, 6 ms before the relay, and overvoltage at the plate acts", () => {
    const bench = play([place(0.01, "driveAhead", "exciter", 6e-3), later], 0.1);
    // antenna relay 8 ms, input relay 3 ms: drive 5 ms after the key instead of 15
    expect(zeros(bench)).toEqual([55_000_000]);
    expect(operated(bench)).toEqual(["plateRfOvervoltage"]);
  });

  it("is let pass where the key's edge has hardly risen when the relay closes", () => {
    const bench = play([place(0.01, "driveAhead", "exciter", 1.5e-3), later], 0.1);
    noTrip(bench);
    expect(reading(bench, "forwardW")).toBeGreaterThan(1400);
  });
});

describe("a power spike at key-down", () => {
  it("of 3 dB trips nothing, and has one race however many dots follow", () => {
    const dots: ScenarioEntry = { atS: 0.02, do: "key", text: "EE", wordsPerMinute: 24 };
    const bench = play([place(0.01, "leadingEdge", "exciter", 3), dots], 0.3);
    expect(zeros(bench)).toEqual([35_000_000]);
    noTrip(bench);
  });

  it("of 12 dB trips", () => {
    const bench = play([place(0.01, "leadingEdge", "exciter", 12), { ...KEY, atS: 0.02 }], 0.1);
    expect(operated(bench)[0]).toBe("plateRfOvervoltage");
  });
});

describe("a lost level control", () => {
  const alc = { ...DEFAULT_LEVEL_CONTROLS.output, thresholdW: 1000 };

  it("no longer holds the output at its threshold", () => {
    const bench = play([KEY, place(0.1, "alcLost", "exciter", 1)], 0.1, { alc });
    expectWithin(reading(bench, "forwardW"), 1000, 60, "a loop of finite gain, 2 ms attack");
    bench.advanceTo(0.15e9);
    // design figure of the station at 62 W, and a supply that has not sagged yet
    expectWithin(reading(bench, "forwardW"), 1453, 40, "3 % of supply sag");
    noTrip(bench);
  });
});

describe("an antenna in the wind", () => {
  it("swings by 1 % without a trip", () => {
    const bench = play([KEY, place(0.06, "sway", "load", 0.01)], 1);
    noTrip(bench);
  });

  it("says under growing ice that power comes back before it trips", () => {
    const ice = place(0.06, "ice", "load", 0.05, { kind: "growing", overS: 2 });
    const bench = play([KEY, ice], 1.8);
    const log = protectionLog(bench, "alarm", "trip").filter(
      (e) => e.event.monitorId === "reflectedPower",
    );
    expect(log.map((e) => e.event.kind)).toEqual(["alarm", "trip"]);
  });
});

describe("a shorted turn", () => {
  it("of 2 % costs output and trips nothing", () => {
    const bench = play([KEY, place(0.06, "shortedTurn", "tank", 0.02)], 0.3);
    noTrip(bench);
    expect(reading(bench, "forwardW")).toBeLessThan(1400);
  });
});
