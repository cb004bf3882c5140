/** Short runs for the engine: the demonstrations, pulled together in time. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { readProject } from "../../../src/formats/projectFile";
import type { ScenarioEntry } from "../../../src/project/scenario";
import type { Project } from "../../../src/project/types";
import { FRAME, FRAME_LENGTH } from "../../../src/shells/bench/frameLayout";
import { createLiveEngine, type LiveEngine } from "../../../src/shells/bench/liveEngine";
import { createBench } from "../../../src/simulation/bench";
import { ROOT } from "../../support/root";

export const MS = 1_000_000;
/** Where `early` puts what the demonstrations do at 1.00037 s. */
export const STRIKE_NS = 60_370_000;

/** A project of public/projects as it stands. */
export function sample(name: string): Project {
  const reading = readProject(readFileSync(join(ROOT, "public/projects", `${name}.json`), "utf8"));
  if (!reading.ok) throw new Error(reading.problems[0]?.message);
  return reading.project;
}

/** The same with everything after 0.9 s 0.94 s sooner. */
export function early(name: string): Project {
  const project = sample(name);
  const scenario = project.scenario.map(
    (e): ScenarioEntry => (e.atS > 0.9 ? { ...e, atS: Math.round((e.atS - 0.94) * 1e9) / 1e9 } : e),
  );
  return { ...project, scenario };
}

export function engineOf(project: Project): LiveEngine {
  const created = createLiveEngine(project);
  if (!created.ok) throw new Error(created.problem);
  return created.engine;
}

/** Hash of a scenario made in one go. */
export function hashAt(project: Project, ns: number): string {
  const created = createBench(project);
  if (!created.ok) throw new Error(created.problem);
  created.bench.advanceTo(ns);
  return created.bench.hash;
}

/** Live frames every `everyNs` up to `ns`; the last one is answered. */
export function play(engine: LiveEngine, ns: number, everyNs = 16_670_000): Float64Array {
  const frame = new Float64Array(FRAME_LENGTH);
  for (let at = engine.liveNs; at < ns; at += everyNs) engine.ask(at, "live", 1e9, frame);
  engine.ask(ns, "live", 1e9, frame);
  return frame;
}

/** A frame looked back at, asked for until it is exact. */
export function lookBack(engine: LiveEngine, ns: number, samplesEach = 1e9): Float64Array {
  const frame = new Float64Array(FRAME_LENGTH);
  for (let n = 0; n < 10_000; n++) {
    engine.ask(ns, "back", samplesEach, frame);
    if (frame[FRAME.exact] === 1) return frame;
  }
  throw new Error(`never exact at ${ns} ns`);
}

/** The part of a frame that belongs to the instant: from the knobs on. */
export function pictureOf(frame: Float64Array): readonly number[] {
  return [...frame.subarray(FRAME.controls)];
}
