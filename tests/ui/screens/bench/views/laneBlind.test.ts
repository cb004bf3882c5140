import { describe, expect, it } from "vitest";
import { DEFAULT_MONITORS } from "../../../../../src/project/presets/monitors";
import type { MonitorDef } from "../../../../../src/project/protection";
import type { Command } from "../../../../../src/project/scenario";
import type { BenchEvent } from "../../../../../src/simulation/benchEvent";
import { blindWords } from "../../../../../src/ui/screens/bench/views/laneBlind";

type Placing = Extract<Command, { do: "placeFault" }>;

const monitor = (id: string): MonitorDef => {
  const found = DEFAULT_MONITORS.find((m) => m.id === id);
  if (found === undefined) throw new Error(`no monitor ${id}`);
  return found;
};

function placed(
  fault: Placing["fault"],
  part: Placing["part"],
  more: Partial<Placing> = {},
): BenchEvent {
  const command: Placing = { do: "placeFault", fault, part, severity: 1, ...more };
  return { kind: "command", atNs: 100, command, refused: "" };
}

describe("why a monitor could not see", () => {
  it.each([
    ["gridTimed", placed("sensorOpen", "gridCurrentA"), "its grid current sensor is open"],
    ["lowGain", placed("sensorStuck", "outputForwardW"), "its forward power sensor is stuck"],
    // low gain arms on drive, and waits for plate voltage
    ["lowGain", placed("sensorOpen", "plateV"), "its plate voltage sensor is open"],
    ["reflectedPower", placed("outputDetectorLost", "protection"), "its output detector is lost"],
    ["plateTimed", placed("plateShuntLost", "protection"), "its plate current shunt is lost"],
    [
      "plateInstantaneous",
      placed("plateShuntLost", "protection"),
      "its plate current shunt is lost",
    ],
    ["overdrive", placed("scanStopped", "protection"), "its scan has stopped: nobody evaluates it"],
    [
      "overdrive",
      placed("sensorDrifts", "driveForwardW", { severity: -0.3, onset: { kind: "sudden" } }),
      "its drive sensor is 30 % too low",
    ],
    [
      "overdrive",
      placed("sensorDrifts", "driveForwardW", { severity: 0.2 }),
      "its drive sensor drifts towards 20 % too high",
    ],
    [
      "gridFast",
      placed("sensorOpen", "gridCurrentA", { onset: { kind: "intermittent", share: 0.1 } }),
      "its grid current sensor is open at times",
    ],
  ])("%s: %#", (id, event, words) => {
    expect(blindWords(monitor(id), [event], 200)).toBe(words);
  });

  it("says nothing of a sensor it does not need, nor of the comparator's own tap", () => {
    expect(blindWords(monitor("gridTimed"), [placed("sensorOpen", "plateV")], 200)).toBe("");
    const scanned = placed("sensorOpen", "plateCurrentA");
    expect(blindWords(monitor("plateInstantaneous"), [scanned], 200)).toBe("");
    const stopped = placed("scanStopped", "protection");
    expect(blindWords(monitor("plateInstantaneous"), [stopped], 200)).toBe("");
  });

  it("forgets what was refused, removed or comes later", () => {
    const open = placed("sensorOpen", "gridCurrentA");
    const gone: BenchEvent = {
      kind: "command",
      atNs: 150,
      command: { do: "removeFault", fault: "sensorOpen", part: "gridCurrentA" },
      refused: "",
    };
    const grid = monitor("gridTimed");
    expect(blindWords(grid, [open, gone], 200)).toBe("");
    expect(blindWords(grid, [open], 50)).toBe("");
    if (open.kind === "command")
      expect(blindWords(grid, [{ ...open, refused: "it does not fit" }], 200)).toBe("");
  });
});
