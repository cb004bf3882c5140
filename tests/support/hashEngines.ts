/** Ways of playing a project that must not make a difference, and the sample projects to play. */
import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { readProject } from "../../src/formats/projectFile";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { benchOf } from "./cases";
import type { HashEngine } from "./projectHashes";
import { ROOT } from "./root";

/** Every file of public/projects by its name. */
export function sampleProjects(): ReadonlyMap<string, Project> {
  const folder = resolve(ROOT, "public/projects");
  return new Map(
    readdirSync(folder)
      .sort()
      .map((file) => {
        const read = readProject(readFileSync(resolve(folder, file), "utf8"));
        if (!read.ok) throw new Error(`${file} cannot be read: ${read.problems[0]?.message}`);
        return [file, read.project];
      }),
  );
}

/** What a person waits before a sample shows anything; after that first wait its second act comes at 60 ms. */
const WAIT_FROM_S = 0.4;

/**
 * The samples with their first long wait cut out, to whole milliseconds, so that the scan's phase stays: what happens at
 * 1.00037 s happens at 0.06037 s, after everything has settled.
 */
export function promptProjects(): ReadonlyMap<string, Project> {
  return new Map([...sampleProjects()].map(([file, project]) => [file, prompt(project)]));
}

function prompt(project: Project): Project {
  const first = project.scenario.find((e) => e.atS > WAIT_FROM_S);
  if (first === undefined) return project;
  const cutNs = Math.floor((first.atS - 0.06) * 1e3) * 1e6;
  const scenario = project.scenario.map(
    (e): ScenarioEntry =>
      e.atS > WAIT_FROM_S ? { ...e, atS: (Math.round(e.atS * 1e9) - cutNs) / 1e9 } : e,
  );
  return { ...project, scenario };
}

export const inOneGo: HashEngine = (project, untilS) => {
  const bench = benchOf(project);
  bench.advanceTo(Math.round(untilS * 1e9));
  return bench.hash;
};

/** In pieces of up to 40 ms, every tenth time by way of a snapshot. Pieces from a multiplicative generator, seed given. */
export function inChunks(seed: number): HashEngine {
  return (project, untilS) => {
    const bench = benchOf(project);
    const endNs = Math.round(untilS * 1e9);
    let state = seed;
    let reached = 0;
    for (let n = 1; reached < endNs; n++) {
      state = (state * 48271) % 2147483647; // Park and Miller's generator, multiplier 48271
      reached = Math.min(endNs, reached + (state % 40_000_000));
      if (n % 10 === 0) {
        const here = bench.snapshot();
        bench.advanceTo(bench.timeNs + 1_000_000);
        bench.restore(here);
      }
      bench.advanceTo(reached);
    }
    return bench.hash;
  };
}
