/**
 * One record, however it is made: the same scenario in one go, in pieces, live with commands coming in, from
 * snapshots, on a second bench, and after going back. Hashes are compared exactly.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { defaultProject } from "../../src/project/defaults";
import type { Command, ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { type Bench, createBench } from "../../src/simulation/bench";
import { CHANNEL_COUNT } from "../../src/simulation/channels";
import { Recorder } from "../../src/simulation/recorder";
import { fixedRuns } from "../support/properties";
import { ROOT } from "../support/root";

const MS = 1_000_000;

function sample(name: string): Project {
  const reading = readProject(readFileSync(join(ROOT, "public/projects", `${name}.json`), "utf8"));
  if (!reading.ok) throw new Error(reading.problems[0]?.message);
  return reading.project;
}

/** The scenario pulled together: what happened at 1.00037 s happens at 0.06037 s, so that runs stay short. */
function early(project: Project): Project {
  const scenario = project.scenario.map(
    (e): ScenarioEntry => (e.atS > 0.9 ? { ...e, atS: Math.round((e.atS - 0.94) * 1e9) / 1e9 } : e),
  );
  return { ...project, scenario };
}

function bench(project: Project, recorder: "full" | "tracks" = "tracks"): Bench {
  const created = createBench(project, { recorder });
  if (!created.ok) throw new Error(created.problem);
  return created.bench;
}

function hashAt(project: Project, ns: number): string {
  const b = bench(project);
  b.advanceTo(ns);
  return b.hash;
}

const FILES = ["skerry-light-insect", "low-gain-in-shadow", "contactor-alone", "antenna-lost"];
const END = 90 * MS;

describe("the record of a scenario", () => {
  it.each(FILES)("does not depend on the steps in which it is made: %s", (name) => {
    const project = early(sample(name));
    const whole = hashAt(project, END);
    const step = fc.integer({ min: 1, max: 9_000_000 });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 12 }), (steps) => {
        const b = bench(project);
        for (const ns of steps) b.advanceTo(Math.min(b.timeNs + ns, END));
        b.advanceTo(END);
        return b.hash === whole;
      }),
      fixedRuns(4),
    );
  });

  it.each(FILES)("goes on from any snapshot as if it had never stopped: %s", (name) => {
    const project = early(sample(name));
    const whole = hashAt(project, END);
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 85 * 20 }),
        fc.integer({ min: 0, max: 200 }),
        (at, on) => {
          const b = bench(project);
          b.advanceTo(at * 50_000);
          const snapshot = b.snapshot();
          b.advanceTo((at + on) * 50_000);
          b.restore(snapshot);
          const other = b.another();
          other.visit(snapshot);
          for (const run of [b, other]) run.advanceTo(END);
          return b.hash === whole && other.hash === whole;
        },
      ),
      fixedRuns(3),
    );
  });

  it("ends in the same state on a second bench, number for number", () => {
    const project = early(sample("contactor-alone"));
    const b = bench(project);
    b.advanceTo(64 * MS);
    const other = b.another();
    other.visit(b.snapshot());
    for (const run of [b, other]) run.advanceTo(END);
    expect(other.buffer).toEqual(b.buffer);
    expect(other.logic).toEqual(b.logic);
    expect(other.protection).toEqual(b.protection);
  });

  it("is the same with every sample kept as with tracks alone", () => {
    const project = early(sample("skerry-light-insect"));
    const full = bench(project, "full");
    full.advanceTo(END);
    expect(full.hash).toBe(hashAt(project, END));
  });
});

// ---------------------------------------------------------------- commands of a person

const command: fc.Arbitrary<Command> = fc.oneof(
  fc.record({
    do: fc.constant("set" as const),
    control: fc.constant("driveW" as const),
    value: fc.double({ min: 5, max: 90, noNaN: true }),
  }),
  fc.record({
    do: fc.constant("set" as const),
    control: fc.constant("tuningRatio" as const),
    value: fc.double({ min: 0.9, max: 1.1, noNaN: true }),
  }),
  fc.record({ do: fc.constant("key" as const), down: fc.boolean() }),
  fc.constant<Command>({ do: "key", text: "e", wordsPerMinute: 40 }),
  fc.constant<Command>({ do: "reset" }),
  fc.constant<Command>({ do: "acknowledge" }),
  fc.constantFrom<Command>(
    { do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
    { do: "placeFault", fault: "openLoad", part: "load", severity: 1 },
    { do: "removeFault", fault: "insect", part: "tuningCapacitor" },
    { do: "configureMonitor", monitor: "lowGain", change: { role: "shadow" } },
    { do: "configureMonitor", monitor: "lowGain", change: { role: "acting" } },
  ),
);

describe("commands of a person", () => {
  it("inside the sample just made give the record of a scenario that had them from the start", () => {
    const moves = fc.array(
      fc.record({
        waitNs: fc.integer({ min: 1, max: 9 * MS }),
        command,
        back: fc.integer({ min: 0, max: 49_999 }),
      }),
      { minLength: 2, maxLength: 8 },
    );
    fc.assert(
      fc.property(moves, (list) => {
        const start = defaultProject([{ atS: 0, do: "key", down: true }]);
        const live = bench(start);
        const scenario: ScenarioEntry[] = [...start.scenario];
        let lastNs = 0;
        for (const move of list) {
          live.advanceTo(live.timeNs + move.waitNs);
          const atNs = Math.max(live.timeNs - move.back, live.openFromNs, lastNs);
          live.schedule(atNs, move.command);
          scenario.push({ atS: atNs / 1e9, ...move.command });
          lastNs = atNs;
        }
        const endNs = live.timeNs + 12 * MS;
        live.advanceTo(endNs);
        expect(live.hash).toBe(hashAt({ ...start, scenario }, endNs));
        // what was done live is the scenario, once each: keyed text is one entry
        expect(live.entries).toHaveLength(scenario.length);
      }),
      fixedRuns(12),
    );
  });

  it("after going back give the record of the scenario they make", () => {
    const project = early(sample("skerry-light-insect"));
    const b = bench(project, "full");
    b.advanceTo(30 * MS);
    const snapshot = b.snapshot();
    b.advanceTo(80 * MS);
    b.restore(snapshot);
    const kept = b.entries;
    b.advanceTo(55 * MS);
    const shadow: Command = {
      do: "configureMonitor",
      monitor: "lowGain",
      change: { role: "shadow" },
    };
    b.schedule(55 * MS - 13, shadow);
    b.advanceTo(END);
    const scenario: ScenarioEntry[] = [
      ...project.scenario,
      { atS: (55 * MS - 13) / 1e9, ...shadow },
    ];
    scenario.sort((x, y) => x.atS - y.atS);
    expect(b.hash).toBe(hashAt({ ...project, scenario }, END));
    expect(kept).toHaveLength(project.scenario.length);
  });

  it("refuse to go on with a scenario that differs in what is past", () => {
    const b = bench(early(sample("skerry-light-insect")));
    b.advanceTo(80 * MS);
    expect(() => b.follow([])).toThrow("invalid entries");
  });
});

describe("the record's rows", () => {
  it("read back what was recorded, also where a sample was made again", () => {
    const project = early(sample("antenna-lost"));
    const once = bench(project, "full");
    const again = bench(project, "full");
    once.advanceTo(END);
    for (let ns = 0; ns < END; ns += 7 * MS) {
      again.advanceTo(ns);
      again.restore(again.openSnapshot());
    }
    again.advanceTo(END);
    const a = new Float64Array(CHANNEL_COUNT);
    const b = new Float64Array(CHANNEL_COUNT);
    for (let k = 0; k < END / 50_000; k++) {
      expect(once.recorder.sampleAt(k, a) && again.recorder.sampleAt(k, b)).toBe(true);
      expect(b).toEqual(a);
    }
    expect(again.recorder.tracks.map((t) => [t.atNs, t.count, t.data])).toEqual(
      once.recorder.tracks.map((t) => [t.atNs, t.count, t.data]),
    );
    const pair = new Float64Array(2);
    const other = new Float64Array(2);
    for (let k = 0; k < END / 50_000; k += 100) {
      once.recorder.extremes(3, k, k + 100, pair, true);
      again.recorder.extremes(3, k, k + 100, other, true);
      expect(other).toEqual(pair);
    }
  });

  it("are not read where a later run has written over them", () => {
    const recorder = new Recorder("full", 50_000);
    const row = new Float64Array(CHANNEL_COUNT);
    const makeUpTo = (samples: number): void => {
      while (recorder.sampleCount < samples) {
        recorder.row.fill(recorder.sampleCount);
        recorder.openSample();
        const startNs = recorder.sampleCount * 50_000;
        recorder.closeSample(startNs, startNs + 50_000, new Float64Array(2), 0);
      }
    };
    const start = recorder.mark();
    makeUpTo(220_000);
    expect(recorder.oldestSample).toBe(20_000); // 10 s of 50 us out of 11 s
    recorder.rewind(start);
    makeUpTo(20);
    expect(recorder.sampleAt(19, row)).toBe(true);
    expect(row[0]).toBe(19);
    expect(recorder.sampleAt(20, row)).toBe(false);
    makeUpTo(220_000);
    expect(recorder.oldestSample).toBe(20_000);
    expect(recorder.sampleAt(20_000, row)).toBe(true);
    expect(row[0]).toBe(20_000);
  });
});

describe("the unprotected twin", () => {
  it.each(["skerry-light-insect", "antenna-lost"])(
    "is the protected run until the first actuator has acted: %s",
    (name) => {
      const project = early(sample(name));
      const b = bench(project, "full");
      b.advanceTo(END);
      const start = b.zeros[0];
      if (start === undefined) throw new Error("no fault");
      const acted = b.events.find((e) => e.kind === "actuator" && e.effect === "acted");
      if (acted === undefined) throw new Error("nothing acted");
      const twin = b.fork(start);
      const row = new Float64Array(CHANNEL_COUNT);
      let compared = 0;
      while (twin.timeNs + 50_000 < acted.atNs) {
        twin.advanceTo(twin.timeNs + 50_000);
        expect(b.recorder.sampleAt(twin.timeNs / 50_000 - 1, row)).toBe(true);
        expect(twin.recorder.row).toEqual(row);
        compared++;
      }
      expect(compared).toBeGreaterThan(5);
      const acts = new Set(["trip", "lockout"]);
      const seen = (events: Bench["events"]): unknown[] =>
        events.filter(
          (e) =>
            e.atNs >= start.zero.atNs &&
            e.atNs < acted.atNs - 50_000 &&
            !(e.kind === "protection" && acts.has(e.event.kind)),
        );
      expect(seen(twin.events)).toEqual(seen(b.events));
    },
  );
});
