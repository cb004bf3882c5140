import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { writeProject } from "../../src/formats/writeProject";
import { defaultProject } from "../../src/project/defaults";
import { keyText } from "../../src/project/morse";
import type { Project } from "../../src/project/types";
import { DEMONSTRATIONS } from "../support/demonstrations";
import { expectWithin } from "../support/expectWithin";
import { ROOT } from "../support/root";

const FOLDER = resolve(ROOT, "public/projects");
const names = Object.keys(DEMONSTRATIONS);

function textOf(name: string): string {
  return readFileSync(resolve(FOLDER, `${name}.json`), "utf8");
}

function projectOf(name: string): Project {
  const reading = readProject(textOf(name));
  if (!reading.ok) throw new Error(`${name}: ${reading.problems[0]?.message}`);
  return reading.project;
}

if (process.env.QUIETARC_WRITE_SAMPLES === "1") {
  for (const [name, project] of Object.entries(DEMONSTRATIONS)) {
    writeFileSync(resolve(FOLDER, `${name}.json`), writeProject(project));
  }
}

describe("the sample projects", () => {
  it.each(names)("%s stands in its file as it is written down", (name) => {
    const project = DEMONSTRATIONS[name];
    expect(project).toBeDefined();
    if (project) expect(textOf(name)).toBe(writeProject(project));
  });

  it("are all of them read without a problem or a notice", () => {
    const files = readdirSync(FOLDER).map((file) => file.replace(/\.json$/, ""));
    expect(files.sort()).toEqual([...names].sort());
    for (const name of files) {
      const reading = readProject(textOf(name));
      expect(reading, name).toMatchObject({ ok: true, notices: [] });
    }
  });

  it("open with the demonstration station, whose every value the first one spells out", () => {
    const { notes, ...written } = projectOf("skerry-light");
    const { notes: _, ...usual } = defaultProject([{ atS: 0, do: "key", down: true }]);
    expect(written).toEqual(usual);
    expect(notes).not.toBe("");
    for (const name of names) expect(projectOf(name).station, name).toEqual(usual.station);
  });

  it("strike the insect off the scan edge, at 1.00037 s, and run to 3 s", () => {
    const { scenario, endS, station } = projectOf("skerry-light-insect");
    expect(endS).toBe(3);
    expect(station.exciter.availableW).toBe(62); // full drive of the demonstration station
    expect(scenario).toEqual([
      { atS: 0, do: "key", down: true },
      {
        atS: 1.00037,
        do: "placeFault",
        fault: "insect",
        part: "tuningCapacitor",
        severity: 1,
      },
    ]);
  });
});

describe("ordinary use", () => {
  const { scenario, endS } = projectOf("ordinary-use");
  const sent = scenario.flatMap((entry) => (entry.do === "key" && "text" in entry ? [entry] : []));
  const held = scenario.flatMap((entry) => (entry.do === "key" && "down" in entry ? [entry] : []));

  it("holds four minutes of Morse at 12, 20 and 30 words a minute", () => {
    expect(sent.map((entry) => entry.wordsPerMinute)).toEqual([12, 20, 30]);
    let totalS = 0;
    for (const entry of sent) {
      const keyed = keyText(entry.text, entry.wordsPerMinute);
      if (!keyed.ok) throw new Error(keyed.problems.join());
      totalS += keyed.elements.reduce((sum, element) => sum + element.downS + element.upS, 0);
    }
    expectWithin(totalS, 240, 20, "whole words only: three texts, each up to a long word short");
  });

  it("opens the key as often as it closes it, and never plays two keys at once", () => {
    expect(held.map((entry) => entry.down)).toEqual(held.map((_, index) => index % 2 === 0));
    expect(held.length).toBe(2 * (1 + 1 + 1 + 8 + 1)); // carrier, steps, corrections, tune mode, VSWR
    expect(endS).toBeGreaterThan(held.at(-1)?.atS ?? 0);
    for (const entry of sent) {
      const before = held.filter((other) => other.atS <= entry.atS);
      expect(before.length % 2).toBe(0);
    }
  });

  it("keeps each key-down in tune mode within its 15 s and its 20 W", () => {
    const fromS = scenario.find((entry) => entry.do === "mode" && entry.mode === "tune")?.atS ?? 0;
    const toS = scenario.find((entry) => entry.do === "mode" && entry.mode === "operate")?.atS ?? 0;
    const inside = held.filter((entry) => entry.atS >= fromS && entry.atS <= toS);
    expect(inside.length).toBe(16); // eight key-downs
    for (let k = 0; k < inside.length; k += 2) {
      const lastsS = (inside[k + 1]?.atS ?? 0) - (inside[k]?.atS ?? 0);
      expect(lastsS).toBeLessThanOrEqual(15);
    }
    const drives = scenario.flatMap((entry) =>
      entry.do === "set" && entry.control === "driveW" && entry.atS >= fromS && entry.atS < toS
        ? [entry.value]
        : [],
    );
    expect(drives).toEqual([20]);
  });

  it("turns the knobs at full drive by 4 % at most, in tune mode by 30 %, and leaves them where they were", () => {
    for (const control of ["tuningRatio", "loadingRatio"] as const) {
      const values = scenario.flatMap((entry) =>
        entry.do === "set" && entry.control === control ? [entry.value] : [],
      );
      expect(Math.max(...values)).toBe(1.3);
      expect(Math.min(...values)).toBe(0.7);
      expect(values.at(-1)).toBe(1);
      const corrections = values.slice(0, 64); // four legs of sixteen steps of 0.25 %
      expect(Math.max(...corrections)).toBe(1.04);
      expect(Math.min(...corrections)).toBe(0.96);
      expect(corrections.at(-1)).toBe(1);
    }
  });

  it("stays 15 s at each of eight phases of VSWR 1.5", () => {
    const phases = scenario.flatMap((entry) =>
      entry.do === "set" && entry.control === "loadPhaseRad" ? [entry] : [],
    );
    expect(phases.length).toBe(8);
    phases.forEach((entry, k) => {
      expectWithin(entry.value, (k * Math.PI) / 4, 1e-6, "written to six decimals");
      if (k > 0) expectWithin(entry.atS - (phases[k - 1]?.atS ?? 0), 15, 1e-6, "rounding of times");
    });
  });
});
