/** Every fault of the list at its usual severity on a keyed bench, and what the station's sequence and resets do. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { FAULT_NAMES, FAULTS, usualSeverity } from "../../src/project/faults";
import type { Command, FaultName, PartName, ScenarioEntry } from "../../src/project/scenario";
import type { Bench } from "../../src/simulation/bench";
import { actuatorLog, operated, protectionLog, reading } from "../support/benchLog";
import { benchOf, faultScenario } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const AT_NS = 50_370_000;
const AT_S = 0.05037;
/** Looked at twice up to here: past strike, trip and clearing of all but the slowest. */
const TWICE_NS = 150_000_000;
const KEY: ScenarioEntry = { atS: 0, do: "key", down: true };
const EVERY = FAULT_NAMES.flatMap((fault) => {
  const { parts } = FAULTS[fault];
  // sensors are many and have tests of their own
  const tried = fault.startsWith("sensor") ? parts.slice(0, 1) : parts;
  return tried.map((part) => ({ fault, part }));
});

function play(scenario: readonly ScenarioEntry[], untilS: number): Bench {
  const bench = benchOf(defaultProject(scenario));
  bench.advanceTo(Math.round(untilS * 1e9));
  return bench;
}

function perform(bench: Bench, command: Command, forS: number): void {
  bench.schedule(bench.timeNs, command);
  bench.advanceTo(bench.timeNs + Math.round(forS * 1e9));
}

/** First monitor that trips within 0.25 s; null: none. From the fault's own description in the list. */
const FIRST: Readonly<Record<string, string | null>> = {
  "openLoad load": "plateRfOvervoltage",
  "shortLoad load": "reflectedPower",
  "insect tuningCapacitor": "lowGain",
  "arc tuningCapacitor": "lowGain",
  "arc loadingCapacitor": "lowGain",
  "arc bandSwitch": "lowGain",
  "arc outputContact": "reflectedPower",
  "feedPointBroken load": "plateRfOvervoltage",
  "wrongAntenna load": "plateRfOvervoltage",
  "antennaChanged load": "reflectedPower",
  "relayOpens outputContact": "reflectedPower",
  "alcLost exciter": "overdrive",
  "wrongBand bandSwitch": "lowGain",
  "bandSwitchMoved bandSwitch": "lowGain",
  "shortedTurn tank": "lowGain",
  "platesTouch tuningCapacitor": "lowGain",
  "platesTouch loadingCapacitor": "lowGain",
  "loadingOpen loadingCapacitor": "lowGain",
  "overdrive exciter": "overdrive",
  "lightLoading tank": "gridTimed",
  "plateSupplyShort supply": "plateInstantaneous",
  "plateSupplyLost supply": "supplyUndervoltage",
  "plateDcArc supply": "plateInstantaneous",
  "blockingShorted tank": "plateInstantaneous",
  "tubeFlashover tube": "plateInstantaneous",
  "tubeOut tube": "lowGain",
  "gridTouch tube": "lowGain",
  "selfOscillation tube": "gridTimed",
  "outputDetectorLost protection": "lowGain",
  "mainsDip supply": "supplyUndervoltage",
  "stepStartStuck supply": "supplyUndervoltage",
};

describe("every fault at its usual severity", () => {
  it.each(EVERY)("$fault on $part runs 0.25 s, twice the same", ({ fault, part }) => {
    const scenario = faultScenario(fault, part, usualSeverity(fault, part), AT_S);
    const bench = play(scenario, TWICE_NS / 1e9);
    const again = benchOf(defaultProject(scenario));
    for (let ns = 7_000_000; ns < TWICE_NS; ns += 7_000_000) again.advanceTo(ns);
    again.advanceTo(TWICE_NS);
    expect(again.hash).toBe(bench.hash);
    bench.advanceTo(AT_NS + 250_000_000); // a reading that is not finite throws
    expect(bench.events.filter((e) => e.kind === "command" && e.refused !== "")).toEqual([]);

    const zero = bench.events.find((e) => e.kind === "faultZero");
    const first = FIRST[`${fault} ${part}`] ?? null;
    expect(protectionLog(bench, "trip")[0]?.event.monitorId ?? null).toBe(first);
    // a gap that does not strike, and what is latent, starts no race; everything else is electrical at once
    const electrical = !FAULTS[fault].latent && (first !== null || isElectrical(fault));
    expect(zero?.atNs ?? null).toBe(electrical ? AT_NS : null);
    expect(bench.zeros.length).toBe(electrical ? 1 : 0);
    if (first !== null && electrical) {
      const cleared = bench.events.find((e) => e.kind === "cleared");
      expect(cleared?.atNs ?? 0).toBeGreaterThan(AT_NS);
      expect(reading(bench, "arcW")).toBe(0);
      expect(reading(bench, "forwardW")).toBeLessThan(10);
    }
  });

  it("starts from the same record until it is placed", () => {
    const healthy = play([KEY], 0.05);
    for (const { fault, part } of EVERY.slice(0, 3)) {
      const scenario = faultScenario(fault, part, usualSeverity(fault, part), AT_S);
      expect(play(scenario, 0.05).hash).toBe(healthy.hash);
    }
  });

  it("is refused on a part it does not fit", () => {
    const misplaced: readonly [FaultName, PartName][] = [["insect", "load"]];
    for (const [fault, part] of misplaced) {
      const bench = play([KEY, { atS: 0.01, do: "placeFault", fault, part, severity: 1 }], 0.02);
      const refused = bench.events.filter((e) => e.kind === "command" && e.refused !== "");
      expect(refused.length).toBe(1);
      expect(bench.zeros).toEqual([]);
    }
  });
});

function isElectrical(fault: FaultName): boolean {
  return [
    "offResonance",
    "heavyLoading",
    "biasLost",
    "tubeAgeing",
    "gassyTube",
    "mainsLevel",
    "ice",
    "sway",
    "gust",
    "airflowLost",
  ].includes(fault);
}

describe("a short of the plate supply", () => {
  it("ends for every drive, whatever part of a nanosecond the comparator crosses in", () => {
    for (const driveW of [58, 60, 61, 62, 63, 64, 65, 66, 68, 70]) {
      const bench = play(
        [
          { atS: 0, do: "set", control: "driveW", value: driveW },
          ...faultScenario("plateSupplyShort", "supply", 5, 0.1),
        ],
        0.11,
      );
      expect(operated(bench)[0], `${driveW} W`).toBe("plateInstantaneous");
    }
  });
});

describe("the T/R sequence", () => {
  it("takes 15 ms from key to drive: 8 ms antenna relay, 3 ms input relay, 2 ms bias, 2 ms drive", () => {
    const bench = play([{ atS: 0.01, do: "key", down: true }], 0.06);
    const steps = bench.events.flatMap((e) => (e.kind === "sequence" ? [[e.step, e.atNs]] : []));
    expect(steps).toEqual([
      ["transmit", 23_000_000],
      ["driveOn", 25_000_000],
    ]);
  });

  it("keeps the relays for 300 ms after the key opens, and drive comes at once inside that time", () => {
    const bench = play(
      [
        KEY,
        { atS: 0.1, do: "key", down: false },
        { atS: 0.3, do: "key", down: true },
        { atS: 0.4, do: "key", down: false },
      ],
      0.8,
    );
    const steps = bench.events.flatMap((e) => (e.kind === "sequence" ? [[e.step, e.atNs]] : []));
    expect(steps).toEqual([
      ["transmit", 13_000_000],
      ["driveOn", 15_000_000],
      ["driveOff", 100_000_000],
      ["driveOn", 300_000_000],
      ["driveOff", 400_000_000],
      // 5 ms of key edge, 300 ms hold, 8 ms release
      ["receive", 713_000_000],
    ]);
  });

  it("puts nothing on the air in standby, whatever the key does, and starts on operate", () => {
    const bench = play(
      [
        { atS: 0, do: "standby" },
        { atS: 0.01, do: "key", down: true },
      ],
      0.1,
    );
    expect(reading(bench, "forwardW")).toBeLessThan(1);
    perform(bench, { do: "operate" }, 0.06);
    expect(reading(bench, "forwardW")).toBeGreaterThan(1400);
    perform(bench, { do: "standby" }, 0.06);
    expect(reading(bench, "forwardW")).toBeLessThan(1);
  });
});

describe("tune mode", () => {
  it("limits drive to 20 W and keeps low gain from acting", () => {
    const bench = play(
      [
        { atS: 0, do: "mode", mode: "tune" },
        { atS: 0, do: "set", control: "tuningRatio", value: 0.7 },
        KEY,
      ],
      0.15,
    );
    expectWithin(reading(bench, "driveW"), 20, 1e-9, "exact");
    expect(operated(bench)).toContain("lowGain");
    expect(protectionLog(bench, "trip")).toEqual([]);
  });

  it("ends each key-down after 15 s, and a reset of that gives back no drive a lockout holds", () => {
    const bench = play([{ atS: 0, do: "mode", mode: "tune" }, KEY], 7);
    const halfway = bench.snapshot();
    bench.advanceTo(15.1e9);
    const limit = protectionLog(bench, "keyDownLimit")[0];
    expectWithin((limit?.atNs ?? 0) / 1e9, 15, 1e-3, "counted from the key, seen at the next scan");
    expect(reading(bench, "forwardW")).toBeLessThan(1);

    // the same key-down again; four operations with 2 s between are a lockout well before the limit
    bench.restore(halfway);
    perform(bench, { do: "placeFault", fault: "overdrive", part: "exciter", severity: 4 }, 8.5);
    const kinds = protectionLog(bench, "lockout", "keyDownLimit").map((e) => e.event.kind);
    expect(kinds).toEqual(["lockout", "keyDownLimit"]);
    perform(bench, { do: "key", down: false }, 0.5);
    perform(bench, { do: "key", down: true }, 0.2);
    expect(protectionLog(bench, "keyDownLimitOver").length).toBe(1);
    expect(bench.logic.driveInhibited).toBe(true);
    expect(reading(bench, "outputW")).toBeLessThan(1);
  });
});

describe("acknowledge and reset", () => {
  it("acknowledge keeps the trip, reset releases it and the sequence starts again", () => {
    const bench = play([...faultScenario("arc", "tuningCapacitor", 250, AT_S)], 0.2);
    expect(bench.logic.tripHeld).toBe(true);
    perform(bench, { do: "acknowledge" }, 0.05);
    expect(protectionLog(bench, "acknowledge").length).toBe(1);
    expect(bench.logic.tripHeld).toBe(true);
    expect(reading(bench, "forwardW")).toBeLessThan(1);
    perform(bench, { do: "removeFault", fault: "arc", part: "tuningCapacitor" }, 0.01);
    perform(bench, { do: "reset" }, 0.06);
    expect(bench.logic.tripHeld).toBe(false);
    expect(reading(bench, "forwardW")).toBeGreaterThan(1400);
    const released = actuatorLog(bench).filter((a) => a.what.endsWith("released"));
    expect(released.map((a) => a.what).sort()).toEqual([
      "cathodeCutoff released",
      "driveInhibit released",
    ]);
  });
});

describe("self-reset", () => {
  it("tries a grid overcurrent once on a tank that stays lightly loaded, then locks out", () => {
    const bench = play(faultScenario("lightLoading", "tank", 1.5, AT_S), 2.4);
    const log = protectionLog(bench, "trip", "selfReset", "lockout");
    expect(log.map((e) => `${e.event.kind} ${e.event.monitorId}`)).toEqual([
      "trip gridTimed",
      "selfReset gridTimed",
      "trip gridTimed",
      "lockout gridTimed",
    ]);
    expectWithin(
      ((log[1]?.atNs ?? 0) - (log[0]?.atNs ?? 0)) / 1e9,
      2,
      2e-3,
      "2 s after the operation, on a scan",
    );
    expect(reading(bench, "forwardW")).toBeLessThan(1);
  });

  it("tries an overdrive three times inside 30 s, then locks out", () => {
    const bench = play(faultScenario("overdrive", "exciter", 130 / 62, AT_S), 6.6);
    const count = (kind: "trip" | "selfReset" | "lockout"): number =>
      protectionLog(bench, kind).length;
    expect([count("trip"), count("selfReset"), count("lockout")]).toEqual([4, 3, 1]);
    expect(new Set(operated(bench))).toEqual(new Set(["overdrive"]));
  });

  it("never goes on feeding a line that stays shorted", () => {
    const bench = play(faultScenario("shortLoad", "load", 0.5, AT_S), 2.2);
    expect(protectionLog(bench, "selfReset").map((e) => e.event.monitorId)).toEqual([
      "reflectedPower",
    ]);
    expect(protectionLog(bench, "trip").length).toBe(2);
    expect(reading(bench, "forwardW")).toBeLessThan(1);
  });

  it("comes back on the air when the fault has gone in the meantime", () => {
    const bench = play(
      [
        ...faultScenario("shortLoad", "load", 0.5, AT_S),
        { atS: 1, do: "removeFault", fault: "shortLoad", part: "load" },
      ],
      2.3,
    );
    expect(protectionLog(bench, "lockout")).toEqual([]);
    expect(reading(bench, "forwardW")).toBeGreaterThan(1400);
  });
});
