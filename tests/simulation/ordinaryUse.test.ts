/** Nothing trips on ordinary use, and no way of playing a project changes its record. */
import { describe, expect, it } from "vitest";
import type { MonitorDef } from "../../src/project/protection";
import type { Project } from "../../src/project/types";
import { operated, protectionLog } from "../support/benchLog";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";
import { inChunks, inOneGo, promptProjects, sampleProjects } from "../support/hashEngines";
import { projectHashes } from "../support/projectHashes";

const projects = sampleProjects();

function sample(file: string): Project {
  const project = projects.get(file);
  if (project === undefined) throw new Error(`no sample ${file}`);
  return project;
}

describe("ordinary use", () => {
  // 1.2 million samples: the hang guard of one test has to allow for a loaded machine
  it("trips and alarms nothing during its first minute of full carrier", {
    timeout: 120_000,
  }, () => {
    const project = sample("ordinary-use.json");
    // those that are off unless asked for must not trip either
    const monitors = project.monitors.map((m): MonitorDef => ({ ...m, role: "acting" }));
    const bench = benchOf({ ...project, monitors });
    bench.advanceTo(60e9);
    expect(operated(bench)).toEqual([]);
    expect(protectionLog(bench, "trip", "lockout", "alarm")).toEqual([]);
    expect(bench.events.filter((e) => e.kind === "milestone")).toEqual([]);
  });

  it("trips nothing on Morse at 30 words a minute, each element keyed with shaped edges", () => {
    const bench = benchOf({
      ...sample("ordinary-use.json"),
      scenario: [{ atS: 0, do: "key", text: "ALL WELL HERE", wordsPerMinute: 30 }],
    });
    bench.advanceTo(6e9);
    expect(operated(bench)).toEqual([]);
    const keyed = bench.events.filter((e) => e.kind === "sequence" && e.step === "driveOn");
    // dots and dashes, ITU-R M.1677-1: A 2, L 4, L 4, W 3, E 1, L 4, L 4, H 4, E 1, R 3, E 1
    expect(keyed.length).toBe(31);
    // 40 ms units; A is dot gap dash: the dash begins 2 units after the dot. The first dot waits 15 ms for the relays
    // and its drive comes then; after that the relays are held and drive follows the key at once
    const startsS = keyed.map((e) => e.atNs / 1e9);
    expectWithin(startsS[0] ?? 0, 0.015, 1e-9, "exact");
    expectWithin(startsS[1] ?? 0, 0.08, 1e-9, "exact");
    const received = bench.events.filter((e) => e.kind === "sequence" && e.step === "receive");
    // word gaps of 280 ms stay inside the hold of 300 ms: the relay opens once, after the text
    expect(received.length).toBe(1);
  });

  it("tuning up from 30 % off trips low gain in operate mode and nothing in tune mode", () => {
    const inOperate = benchOf(sample("tune-up-in-operate-mode.json"));
    inOperate.advanceTo(1e9);
    expect(operated(inOperate)).toEqual(["lowGain"]);
    const inTune = benchOf(sample("tune-up-in-tune-mode.json"));
    inTune.advanceTo(6e9);
    const tripped = protectionLog(inTune, "trip", "keyDownLimit");
    expect(tripped).toEqual([]);
  });
});

describe("the record", () => {
  it("is the same in one go and in pieces with snapshots between, for every sample project", async () => {
    const prompt = promptProjects();
    const whole = await projectHashes(prompt, inOneGo);
    const pieces = await projectHashes(prompt, inChunks(20_117));
    expect(pieces).toEqual(whole);
    expect(Object.keys(whole).length).toBe(projects.size);
    for (const hash of Object.values(whole)) expect(hash).toMatch(/^[0-9a-f]{16}$/);
  });
});
