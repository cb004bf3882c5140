import { describe, expect, it } from "vitest";
import {
  impurities,
  inexactNumerics,
  PURE_LAYERS,
  reachedPackageFiles,
} from "./support/purityRules";
import { listFiles, readSources } from "./support/sourceTree";

const isPure = (path: string): boolean =>
  PURE_LAYERS.some((layer) => path.startsWith(`src/${layer}/`));

describe("the layers below the shells", () => {
  const texts = new Map([...readSources("src")].filter(([path]) => isPure(path)));

  it("depend on no clock, chance, locale, surroundings or inexact function", () => {
    expect([...texts].flatMap(([path, text]) => impurities(path, text))).toEqual([]);
  });

  it("were really read", () => {
    const onDisk = listFiles("src", /\.(ts|tsx|mts|cts|mjs|cjs|js|jsx)$/).filter(isPure);
    expect(texts.size).toBeGreaterThanOrEqual(0.9 * onDisk.length);
    expect(texts.size).toBeGreaterThan(0);
  });

  it("compute only with packages that keep to exact arithmetic", () => {
    // The readers of formats check text and shapes; the numbers pass through them unchanged.
    const reached = reachedPackageFiles(texts, (name) => !/^(zod|@humanwhocodes)/.test(name));
    expect([...reached].flatMap(([path, text]) => inexactNumerics(path, text))).toEqual([]);
    const names = [...reached.keys()].join("\n");
    for (const needed of ["math-base-special-exp/", "kernel-sin/", "pure-rand/lib/esm/"]) {
      expect(names).toContain(needed); // else nothing was followed and nothing proved
    }
  });
});

describe("the check of purity", () => {
  const flagged = (text: string): readonly string[] => impurities("a.ts", text);

  it("catches each forbidden thing where it stands", () => {
    for (const [text, what] of [
      ["const a = Math.exp(1);", "Math.exp"],
      ["const a = Math.random();", "Math.random"],
      ["const a = Math.hypot(3, 4);", "Math.hypot"],
      ["const { sin } = Math;", "Math passed on under another name"],
      ['const a = Math["cos"](1);', "Math passed on under another name"],
      ["const a = 2 ** 3;", "the power operator"],
      ["let a = 2; a **= 3;", "the power operator"],
      ["const a = new Date();", "Date"],
      ["const a = Date.now();", "Date"],
      ["const a = performance.now();", "performance"],
      ['const a = new Intl.NumberFormat("en");', "Intl"],
      ["const a = (1.5).toLocaleString();", "toLocaleString"],
      ['const a = "a".localeCompare("b");', "localeCompare"],
      ['const a = (1.5 as never)["toLocaleString"];', "toLocaleString"],
      ["setTimeout(() => {}, 1);", "setTimeout"],
      ['fetch("x");', "fetch"],
      ["const a = window;", "window"],
      ["const a = { document };", "document"],
      ['console.log("x");', "console"],
      ["const a = globalThis;", "globalThis"],
      ["const a = Promise.resolve(1);", "Promise"],
      ['const a = import("./b");', "import()"],
      ["const a = import.meta.url;", "import.meta"],
      ["const a = process.env;", "process"],
    ] as const) {
      expect(flagged(`// first line\n${text}`), text).toEqual([`a.ts:2: ${what}`]);
    }
    expect(flagged("async function a() { await 1; }")).toHaveLength(2);
  });

  it("lets exact functions, comments, texts and members of the same name pass", () => {
    expect(
      flagged(`
        // Math.exp and Date are not used
        const text = "Math.exp(2 ** 3) at Date.now()";
        const root = Math.sqrt(2) * Math.abs(-1) + Math.PI;
        interface Record { readonly window: number; readonly document: string }
        const row = { window: 3, process: 4 };
        const a = row.window + row.process;
      `),
    ).toEqual([]);
  });

  it("reads packages by the same numeric rule", () => {
    expect(inexactNumerics("p.js", "module.exports = Math.floor(Math.pow(2, 3));")).toEqual([
      "p.js:1: Math.pow",
    ]);
    expect(inexactNumerics("p.js", "var t = Date.now();")).toEqual(["p.js:1: Date"]);
    expect(inexactNumerics("p.js", "var f = Math.floor;")).toEqual([]);
  });
});
