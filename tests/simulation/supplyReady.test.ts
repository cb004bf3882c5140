/** The plate supply after its contactor has opened: when it counts as ready, and what waits for it. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { createBench } from "../../src/simulation/bench";
import { initialLogic } from "../../src/simulation/logic";
import { takeStep } from "../../src/simulation/sequencer";
import { noteSupplyReady } from "../../src/simulation/supplyReady";
import { operated, protectionLog, reading } from "../support/benchLog";
import { expectWithin } from "../support/expectWithin";

describe("a plate supply whose contactor has opened", () => {
  it("is ready again at the sample in which it first passes 90 % of no load", () => {
    const project = defaultProject();
    const logic = initialLogic(project, { swr: 1, phaseRad: 0 });
    const step = { actuator: "contactor", delayNs: 0, wait: null, works: true } as const;
    const open = takeStep(project, logic, { kind: "actuate", step }, 5e6).logic;
    expect(open.supplyReadyAtNs).toBeNull();
    const row = new Float64Array(8);
    row[6] = 3000;
    // the filter still holds its charge, but nothing feeds it
    expect(noteSupplyReady(open, row, 3180, 6e6).supplyReadyAtNs).toBeNull();
    const closed = { ...open, contactorOpen: false };
    row[6] = 2861; // 0.9 x 3180 = 2862
    expect(noteSupplyReady(closed, row, 3180, 7e6).supplyReadyAtNs).toBeNull();
    row[6] = 2863;
    const ready = noteSupplyReady(closed, row, 3180, 8e6);
    expect(ready.supplyReadyAtNs).toBe(8e6);
    row[6] = 0; // a supply that fails is no supply that was switched off
    expect(noteSupplyReady(ready, row, 3180, 9e6)).toBe(ready);
  });

  it("starts the undervoltage monitor's wait anew, so that its recharging trips nothing", () => {
    const created = createBench(
      defaultProject([
        { atS: 0, do: "key", down: true },
        {
          atS: 0.05,
          do: "placeFault",
          fault: "contactorOnly",
          part: "protection",
          severity: 1,
        },
        { atS: 0.1, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
        { atS: 0.25, do: "key", down: false },
        { atS: 0.3, do: "removeFault", fault: "insect", part: "tuningCapacitor" },
        { atS: 0.3, do: "removeFault", fault: "contactorOnly", part: "protection" },
        { atS: 0.4, do: "reset" },
      ]),
    );
    if (!created.ok) throw new Error(created.problem);
    const { bench } = created;
    bench.advanceTo(0.39e9);
    expect(bench.logic.contactorOpen).toBe(true);
    expect(bench.situation().supplyReadyAtNs).toBeNull();
    while (bench.logic.supplyReadyAtNs === null && bench.timeNs < 1e9)
      bench.advanceTo(bench.timeNs + bench.sampleNs);
    expect(bench.logic.supplyReadyAtNs).toBe(bench.timeNs);
    // 90 % of the 3180 V that stand in the presets' notes as no-load voltage
    const readyV = 2862;
    // 12 bits over 5000 V: steps of 1.22 V; the sample that passes the level may end a sample's rise above it
    const trueV = reading(bench, "plateV");
    bench.advanceTo(bench.timeNs + bench.sampleNs);
    const riseV = reading(bench, "plateV") - trueV;
    const sensedV = bench.sensedRow[6] as number;
    expectWithin(sensedV, readyV + riseV, 2 * riseV + 1.3, "two samples' rise, one step");
    // a filter of 1 ms trails a ramp by its time constant: twenty samples of 50 us
    const trailV = 20 * riseV;
    expectWithin(
      trueV,
      readyV + trailV,
      0.2 * trailV + 1.3,
      "the ramp bends within 1 ms, one step",
    );
    // through the monitor's wait of 1 s and its slowest delay of 0.1 s after it
    const readyNs = bench.timeNs;
    bench.advanceTo(readyNs + 1.11e9);
    const since = (kind: "trip" | "operate"): readonly string[] =>
      protectionLog(bench, kind).flatMap((e) => (e.atNs > 0.4e9 ? [e.event.monitorId] : []));
    expect(since("trip")).toEqual([]);
    expect(since("operate")).toEqual([]);
    expect(operated(bench)).not.toContain("supplyUndervoltage");
  });
});
