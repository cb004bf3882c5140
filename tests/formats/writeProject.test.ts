import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { SCHEMA_AGREES } from "../../src/formats/schema/projectSchema";
import { KEY_ORDER, writeProject } from "../../src/formats/writeProject";
import { defaultProject } from "../../src/project/defaults";
import { arbitraryProject } from "../support/arbitraryProject";
import { fixedRuns } from "../support/properties";

describe("a project file that was written", () => {
  it("reads as the same project again", () => {
    fc.assert(
      fc.property(arbitraryProject, (project) => {
        const reading = readProject(writeProject(project));
        if (!reading.ok) throw new Error(JSON.stringify(reading.problems[0]));
        expect(reading.project).toEqual(project);
      }),
      fixedRuns(50),
    );
  });

  it("is the same text whatever order the members had", () => {
    const backwards = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(backwards);
      if (typeof value !== "object" || value === null) return value;
      const members = Object.entries(value).map(([name, member]) => [name, backwards(member)]);
      return Object.fromEntries(members.reverse());
    };
    fc.assert(
      fc.property(arbitraryProject, (project) => {
        expect(writeProject(backwards(project) as typeof project)).toBe(writeProject(project));
      }),
      fixedRuns(30),
    );
  });

  it("writes what is not finite as null, and refuses to read that back", () => {
    const project = { ...defaultProject(), endS: Number.POSITIVE_INFINITY };
    const text = writeProject(project);
    expect(text).toContain('"endS": null');
    const reading = readProject(text);
    expect(reading.ok).toBe(false);
    if (!reading.ok)
      expect(reading.problems[0]).toMatchObject({ code: "wrongType", place: "endS" });
  });

  it("keeps lines within a hundred columns where the values allow it", () => {
    const longest = Math.max(
      ...writeProject(defaultProject())
        .split("\n")
        .map((line) => line.length),
    );
    expect(longest).toBeLessThanOrEqual(100);
  });

  it("knows the place of every name a project has", () => {
    const names = new Set<string>();
    const collect = (value: unknown): void => {
      if (typeof value !== "object" || value === null) return;
      for (const [name, member] of Object.entries(value)) {
        if (!Array.isArray(value)) names.add(name);
        collect(member);
      }
    };
    for (const project of fc.sample(arbitraryProject, fixedRuns(30))) collect(project);
    expect([...names].filter((name) => !KEY_ORDER.includes(name))).toEqual([]);
    expect(new Set(KEY_ORDER).size).toBe(KEY_ORDER.length);
  });

  it("is checked by a schema that has the shape of the project types", () => {
    expect(SCHEMA_AGREES).toBe(true); // the compiler has the proof
  });
});
