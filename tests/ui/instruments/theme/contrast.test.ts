import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  LINES,
  type LineRole,
  lineStyle,
  TEXTS,
  type TextRole,
  textStyle,
} from "../../../../src/ui/instruments/drawing/roles";
import { metricsOf } from "../../../../src/ui/theme/metrics";
import { expectWithin } from "../../../support/expectWithin";

const CSS = readFileSync("src/ui/theme/tokens.css", "utf8").replace(/\/\*[\s\S]*?\*\//g, "");

function block(selector: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const rule of CSS.matchAll(/([^{}]+)\{([^{}]*)\}/g)) {
    const selectors = (rule[1] ?? "").split(",").map((part) => part.trim());
    if (!selectors.includes(selector)) continue;
    for (const entry of (rule[2] ?? "").matchAll(/--([\w-]+):\s*([^;]+);/g))
      found.set(entry[1] ?? "", (entry[2] ?? "").trim());
  }
  return found;
}

const THEMES = {
  light: block('[data-theme="light"]'),
  dark: block('[data-theme="dark"]'),
  projector: block('[data-theme="projector"]'),
};

/** Relative luminance of an sRGB colour. WCAG 2.2, definition "relative luminance". */
function luminance(hex: string): number {
  const match = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  if (match === null) throw new Error(`not a colour: ${hex}`);
  const [r, g, b] = match.slice(1).map((part) => {
    const c = Number.parseInt(part, 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function ratio(theme: ReadonlyMap<string, string>, front: string, back: string): number {
  const a = luminance(theme.get(front) ?? "");
  const b = luminance(theme.get(back) ?? "");
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

// Pairs in use. 4.5 for text (WCAG 1.4.3), 3 for marks and the edges of controls (1.4.11).
const PAIRS: readonly (readonly [string, string, number])[] = [
  ["ink", "sheet", 4.5],
  ["ink", "paper", 4.5],
  ["ink", "ahead", 4.5],
  ["ink-2", "sheet", 4.5],
  ["ink-2", "paper", 4.5],
  ["ink-2", "ahead", 4.5],
  ["ink-3", "sheet", 3],
  ["edge", "sheet", 3],
  ["edge", "paper", 3],
  ["guard", "sheet", 4.5],
  ["guard", "guard-soft", 3],
  ["heat", "sheet", 4.5],
  ["heat", "ahead", 4.5],
  ["heat", "heat-soft", 3],
  ["on-burnt", "burnt", 4.5],
  ["sheet", "heat", 4.5],
  ["arc", "sheet", 4.5],
  ["arc", "arc-soft", 4.5],
  ["st-danger", "sheet", 4.5],
  ["on-danger", "st-danger", 4.5],
  ["on-caution", "st-caution", 4.5],
  ["st-normal", "sheet", 4.5],
  ["on-normal", "st-normal", 4.5],
  ["st-must", "sheet", 4.5],
  ["on-must", "st-must", 4.5],
  ["ink", "guard-soft", 4.5],
  ["ink", "heat-soft", 4.5],
  ["ink", "arc-soft", 4.5],
  ["ink", "iso-1", 4.5],
  ["ink", "iso-2", 4.5],
  ["focus", "sheet", 3],
];

describe("contrast of the colours in use", () => {
  it("agrees with the definition: black on white is 21 to 1", () => {
    // WCAG 2.2, definition "contrast ratio": the largest possible ratio is 21.
    expectWithin(
      ratio(
        new Map([
          ["a", "#000000"],
          ["b", "#ffffff"],
        ]),
        "a",
        "b",
      ),
      21,
      1e-9,
      "rounding of doubles",
    );
  });
  for (const [name, theme] of Object.entries(THEMES)) {
    it.each(PAIRS)(`in the ${name} theme: %s on %s is at least %d to 1`, (front, back, needed) => {
      expect(ratio(theme, front, back)).toBeGreaterThanOrEqual(needed);
    });
  }
  it("every colour a drawing asks for exists in every theme", () => {
    const used = new Set<string>();
    for (const role of Object.keys(LINES) as LineRole[]) {
      const { fill, stroke } = lineStyle(role);
      if (fill !== undefined) used.add(fill);
      if (stroke !== undefined) used.add(stroke);
    }
    for (const role of Object.keys(TEXTS) as TextRole[]) used.add(textStyle(role).fill);
    for (const [name, theme] of Object.entries(THEMES))
      expect(
        [...used].filter((token) => !theme.has(token)),
        name,
      ).toEqual([]);
  });
  it("a calm screen has neither red nor yellow: those two are state colours only", () => {
    const coloured = (Object.keys(LINES) as LineRole[]).filter((role) =>
      ["st-danger", "st-caution"].includes(lineStyle(role).fill ?? lineStyle(role).stroke ?? ""),
    );
    expect(coloured.sort()).toEqual(["caution", "danger", "dangerTick", "needleDanger"]);
  });
});

describe("sizes", () => {
  const screen = block(":root");
  const projector = THEMES.projector;
  const names = {
    "fs-note": "notePx",
    "fs-label": "labelPx",
    "fs-body": "bodyPx",
    "fs-head": "headPx",
    "fs-value": "valuePx",
    "fs-big": "bigPx",
    "fs-margin": "marginPx",
    target: "targetPx",
  } as const;
  it("a layout computes with are those of the style sheet", () => {
    for (const [token, key] of Object.entries(names)) {
      expect(`${metricsOf("wide")[key]}px`, token).toBe(screen.get(token));
      expect(`${metricsOf("projector")[key]}px`, token).toBe(projector.get(token));
    }
  });
  it("are never under 11 px, 14 px for the projector, and readings there at least 24 px", () => {
    expect(metricsOf("wide").notePx).toBeGreaterThanOrEqual(11);
    expect(metricsOf("projector").notePx).toBeGreaterThanOrEqual(14);
    expect(metricsOf("projector").valuePx).toBeGreaterThanOrEqual(24);
    expect(metricsOf("wide").targetPx).toBeGreaterThanOrEqual(24);
  });
});
