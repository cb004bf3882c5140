import { expect, it } from "vitest";
import type { ScenarioEntry } from "../../../../src/project/scenario";
import { stepToEvent } from "../../../../src/ui/screens/bench/eventSteps";
import { eventOriginNs, eventRowsOf } from "../../../../src/ui/screens/bench/views/eventRows";
import { startPlayback } from "../../../support/startPlayback";
import { projectFile } from "./views/benchRuns";

/** Keying and a knob before the fault, all of them rows of the sequence. */
const BEFORE: readonly ScenarioEntry[] = [
  { atS: 0, do: "key", down: true },
  { atS: 0.02, do: "key", down: false },
  { atS: 0.03, do: "key", down: true },
  { atS: 0.05, do: "set", control: "driveW", value: 61 },
  { atS: 0.08037, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
];

it("steps to every event that the sequence lists, there and back, and then says that there is none", () => {
  const { playback, tick } = startPlayback();
  playback.open(projectFile("skerry-light-insect", BEFORE));
  playback.setLens(false);
  playback.run();
  const state = playback.store.getState;
  for (let n = 0; n < 60 && state().playNs < 0.12e9; n++) tick();
  playback.pause();
  tick();
  const { events, headNs, project, world } = state();
  if (project === null || world === null) throw new Error("no bench");
  const list = {
    events,
    zeroNs: events.find((e) => e.kind === "faultZero")?.atNs ?? null,
    playNs: headNs,
    aloneEvents: [],
    project,
    failures: world.failures,
    running: false,
    atEnd: true,
  };
  const originNs = eventOriginNs(list);
  const rows = eventRowsOf(list).rows.filter((row) => !row.ahead);
  const listed = [...new Set(rows.map((row) => Math.round(originNs + row.atS * 1e9)))];
  expect(listed.filter((ns) => ns < originNs).length).toBeGreaterThanOrEqual(3);
  const walk = (direction: "previous" | "next"): readonly number[] => {
    const visited: number[] = [];
    for (let n = 0; n < 100; n++) {
      stepToEvent(playback, direction);
      tick();
      tick();
      const { refusal, playNs } = state();
      if (refusal !== null) {
        expect(refusal.text).toContain("There is no");
        return visited;
      }
      visited.push(playNs);
    }
    throw new Error("there is always another event");
  };
  expect(walk("previous")).toEqual(expect.arrayContaining(listed));
  expect(state().playNs).toBe(listed[0]);
  expect(walk("next")).toEqual(expect.arrayContaining(listed.slice(1)));
  // two presses before a frame are two steps
  playback.seek(originNs);
  tick();
  tick();
  const before = listed.filter((ns) => ns < originNs);
  stepToEvent(playback, "previous");
  stepToEvent(playback, "previous");
  tick();
  tick();
  expect(state().playNs).toBe(before.at(-2));
});
