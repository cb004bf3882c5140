import { describe, expect, it } from "vitest";
import { checkLayers } from "./support/layerRules";
import { listFiles, readSources } from "./support/sourceTree";

const problemsOf = (files: Readonly<Record<string, string>>): readonly string[] =>
  checkLayers(new Map(Object.entries(files))).problems;

describe("the layers of the sources", () => {
  const texts = readSources("src");
  const report = checkLayers(texts);

  it("import only downwards, meet where they may, and form no cycle", () => {
    expect(report.problems).toEqual([]);
  });

  it("were really read: nine tenths of the files and of the import lines on disk", () => {
    const onDisk = listFiles("src", /\.(ts|tsx|mts|cts|mjs|cjs|js|jsx)$/).length;
    expect(report.filesSeen).toBeGreaterThanOrEqual(0.9 * onDisk);
    expect(onDisk).toBeGreaterThan(0);
    // Counted another way: lines that end an import or export with a module name.
    const lines = [...texts.values()]
      .join("\n")
      .match(/^(import ["'].*|import .* from .*|export .* from .*|\} from .*)["'];$/gm);
    expect(report.importsSeen).toBeGreaterThanOrEqual(0.9 * (lines?.length ?? 0));
    expect(report.importsSeen).toBeGreaterThan(0);
  });
});

describe("the check of the layers", () => {
  it("catches an import of a higher layer, also of a type and of a worker", () => {
    const upper = { "src/simulation/world.ts": "export type World = number;" };
    for (const line of [
      'import { x } from "../simulation/world";',
      'import type { World } from "../simulation/world";',
      'export * from "../simulation/world";',
      'const later = import("../simulation/world");',
      'type T = import("../simulation/world").World;',
      'const url = new URL("../simulation/world.ts", import.meta.url);',
    ]) {
      expect(problemsOf({ ...upper, "src/math/root.ts": line })).toEqual([
        "src/math/root.ts: math may not import src/simulation/world.ts, which is higher",
      ]);
    }
  });

  it("lets a layer import itself and lower ones, and the page start import the top", () => {
    expect(
      problemsOf({
        "src/math/a.ts": 'import { b } from "./b";',
        "src/math/b.ts": 'import { c } from "../units/c";',
        "src/units/c.ts": "export const c = 1;",
        "src/ui/App.tsx": 'import { useState } from "react"; import { a } from "../math/a";',
        "src/main.tsx": 'import { App } from "./ui/App"; import "./ui/theme/tokens.css";',
      }),
    ).toEqual([]);
  });

  it("catches phenomena of physics that meet outside the stage", () => {
    const arc = { "src/physics/arc/arc.ts": "export const a = 1;" };
    const line = 'import { a } from "../arc/arc";';
    expect(problemsOf({ ...arc, "src/physics/heat/melt.ts": line })).toEqual([
      "src/physics/heat/melt.ts: heat may not import src/physics/arc/arc.ts; phenomena meet in physics/stage or in simulation",
    ]);
    expect(problemsOf({ ...arc, "src/physics/stage/solve.ts": line })).toEqual([]);
  });

  it("catches packages where none belong", () => {
    expect(problemsOf({ "src/physics/arc/arc.ts": 'import { z } from "zod";' })).toEqual([
      "src/physics/arc/arc.ts: physics may not import the package zod",
    ]);
    expect(problemsOf({ "src/ui/App.tsx": 'import { join } from "node:path";' })).toHaveLength(1);
    expect(problemsOf({ "src/math/x.ts": 'import e from "@stdlib/a-b";' })).toEqual([]);
  });

  it("catches cycles, folders that are no layer and names that lead nowhere", () => {
    const cycle = problemsOf({
      "src/math/a.ts": 'import { b } from "./b";',
      "src/math/b.ts": 'import { c } from "./c";',
      "src/math/c.ts": 'import { a } from "./a";',
    });
    expect(cycle).toEqual([
      "import cycle: src/math/a.ts -> src/math/b.ts -> src/math/c.ts -> src/math/a.ts",
    ]);
    expect(problemsOf({ "src/helpers/a.ts": "" })).toEqual([
      'src/helpers/a.ts: "helpers" is no layer',
    ]);
    expect(problemsOf({ "src/math/a.ts": 'import { x } from "./gone";' })).toEqual([
      "src/math/a.ts: ./gone names no source file",
    ]);
  });
});
