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
import { SIZE_NAMES } from "../../../support/sizeNames";
import { listFiles } from "../../../support/sourceTree";

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

/**
 * Relative luminance of an sRGB colour. WCAG 2.2, definition "relative luminance". Where a projector in a bright room
 * leaves a part of the range, what is left lies round the middle.
 */
function luminance(hex: string, left = 1): number {
  const match = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  if (match === null) throw new Error(`not a colour: ${hex}`);
  const [r, g, b] = match.slice(1).map((part) => {
    const c = 0.5 + (Number.parseInt(part, 16) / 255 - 0.5) * left;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function ratio(theme: ReadonlyMap<string, string>, front: string, back: string, left = 1): number {
  const a = luminance(theme.get(front) ?? "", left);
  const b = luminance(theme.get(back) ?? "", left);
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

/** What a role is drawn on where that is not the sheet. */
const GROUNDS: Partial<Readonly<Record<LineRole, string>>> = {
  dangerCut: "st-danger",
  mustCut: "st-must",
  normalTick: "st-normal",
  notch: "guard",
};

/** Grounds, washes and hairlines that mean nothing alone: a line, an edge or a word beside each says the same. */
const SILENT = new Set<LineRole>([
  "hair",
  "ground",
  "flowGhost", // where power flowed before: a note says so in words
  "arcHalo",
  "arcWash",
  "aheadGround",
  "marginGround",
  "onsetBand",
  "iso0",
]);

describe("lines, marks and edges", () => {
  const roles = (Object.keys(LINES) as LineRole[]).filter((role) => !SILENT.has(role));
  for (const [name, theme] of Object.entries(THEMES)) {
    it.each(roles)(
      `in the ${name} theme: %s stands out by 3 to 1 from what it is drawn on`,
      (role) => {
        const { stroke, fill } = lineStyle(role);
        const front = stroke ?? fill;
        if (front === undefined) return expect(lineStyle(role).hatch).toBeDefined();
        // WCAG 2.2, 1.4.11
        expect(ratio(theme, front, GROUNDS[role] ?? "sheet")).toBeGreaterThanOrEqual(3);
      },
    );
  }
  it.each(Object.entries(THEMES))(
    "in the %s theme: focus ring, slider thumb and its track too",
    (_, theme) => {
      for (const ground of ["sheet", "paper"]) {
        expect(ratio(theme, "focus", ground)).toBeGreaterThanOrEqual(3);
        expect(ratio(theme, "ink", ground)).toBeGreaterThanOrEqual(3); // thumb, and the track up to it
        expect(ratio(theme, "edge", ground)).toBeGreaterThanOrEqual(3); // the rest of the track
      }
    },
  );
});

describe("a projector in a bright room, that leaves a third of the contrast", () => {
  const LEFT = 1 / 3;
  const tokens = THEMES.projector;
  it("leaves 3.2 to 1 between black and white", () => {
    // by hand: 85/255 and 170/255 have luminances 0.0908 and 0.4020
    const extremes = new Map(Object.entries({ a: "#000000", b: "#ffffff" }));
    expectWithin(ratio(extremes, "a", "b", LEFT), 0.452 / 0.1408, 2e-3, "four figures by hand");
  });
  // 3 to 1: least for ordinary sight by ISO 9241-3, as WCAG 2.2 quotes it (Understanding 1.4.3). Below it, our proposal.
  it("keeps every reading at 3 to 1, every label at 2.5", () => {
    const readings = (["value", "big", "margin", "body", "labelStrong"] as const).map(textStyle);
    for (const { fill } of readings)
      expect(ratio(tokens, fill, "sheet", LEFT)).toBeGreaterThanOrEqual(3);
    for (const role of ["note", "label", "labelSoft", "unit", "noteArc", "headArc"] as const)
      expect(ratio(tokens, textStyle(role).fill, "sheet", LEFT), role).toBeGreaterThanOrEqual(2.5);
  });
  it("keeps needles, limits, marks and the ways of protection and damage at 2 to 1, in lines of 3 px for traces", () => {
    for (const token of ["ink", "ink-3", "edge", "guard", "heat", "arc", "st-danger", "st-must"])
      expect(ratio(tokens, token, "sheet", LEFT), token).toBeGreaterThanOrEqual(2);
    expect(lineStyle("trace").width).toBe("lw-mid");
    expect(Number.parseFloat(tokens.get("lw-mid") ?? "")).toBeGreaterThanOrEqual(3);
  });
});

describe("what blinks", () => {
  const SHEETS = listFiles("src/ui", /\.css$/).map((path) =>
    readFileSync(path, "utf8").replace(/\/\*[\s\S]*?\*\//g, ""),
  );
  const all = (pattern: RegExp): string[] =>
    SHEETS.flatMap((css) => [...css.matchAll(pattern)].map((m) => (m[1] ?? "").trim()));
  it("is one animation alone, of a mark that has not been acknowledged, and no picture moves by itself", () => {
    expect(all(/@keyframes\s+([\w-]+)/g)).toEqual(["blink"]);
    const used = all(/[{;\s]animation(?:-name)?:\s*([^;}]+)/g).filter((value) => value !== "none");
    expect(used).toEqual(["blink var(--flash-period) steps(1) infinite"]);
  });
  it("goes 84 to 120 times a minute: under three flashes a second, and by the normal rate of IEC 60073", () => {
    const periods = all(/--flash-period:\s*([^;]+)/g).filter((value) => value !== "0ms");
    expect(periods.length).toBeGreaterThan(0);
    for (const period of periods) {
      const perSecond = 1000 / Number.parseFloat(period);
      expect(perSecond).toBeGreaterThanOrEqual(84 / 60); // IEC 60073:2002, normal rate 84 to 168 a minute (secondary source)
      expect(perSecond).toBeLessThanOrEqual(2); // under the 3 of WCAG 2.2, 2.3.1
    }
    // once on and once off in a period
    const steps = all(/@keyframes blink\s*\{((?:[^{}]*\{[^{}]*\})*)/g).join("");
    expect(steps.match(/opacity/g)).toHaveLength(2);
  });
});

describe("sizes", () => {
  const screen = block(":root");
  const projector = THEMES.projector;
  const names = {
    ...SIZE_NAMES,
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
