import { describe, expect, it } from "vitest";
import {
  LINES,
  lineStyle,
  TEXTS,
  type TextRole,
  textStyle,
} from "../../../../src/ui/instruments/drawing/roles";
import type { TextShape } from "../../../../src/ui/instruments/drawing/shapes";
import { textWidthPx } from "../../../../src/ui/instruments/drawing/textWidth";
import { AXIS_TICKS, timeAt, xOf } from "../../../../src/ui/instruments/race/raceAxis";
import { layoutRace } from "../../../../src/ui/instruments/race/raceLayout";
import { planRace } from "../../../../src/ui/instruments/race/racePlan";
import { raceToSvg } from "../../../../src/ui/instruments/race/raceSvg";
import type { RaceView } from "../../../../src/ui/instruments/race/raceView";
import { metricsOf, type SheetVariant } from "../../../../src/ui/theme/metrics";
import { expectWithin } from "../../../support/expectWithin";
import { SIZE_NAMES } from "../../../support/sizeNames";
import {
  RACE_FORECAST,
  RACE_LATE,
  RACE_LIVE,
  RACE_THIN,
  RACE_UNCLEARED,
} from "../support/demoRace";
import { flat, textReading, texts, wordsOf } from "../support/shapes";

const AXIS = { leftPx: 100, rightPx: 800 };
const WIDE = { widthPx: 908, maxHeightPx: null, variant: "wide" } as const;

describe("the axis of the race", () => {
  it("gives equal ratios equal lengths", () => {
    // 7 decades over 700 px: 100 px a decade, whatever the decade.
    expectWithin(xOf(AXIS, 10e-3) - xOf(AXIS, 1e-3), 100, 1e-9, "rounding of a logarithm");
    expectWithin(xOf(AXIS, 5) - xOf(AXIS, 0.5), 100, 1e-9, "rounding of a logarithm");
  });
  it("runs from 1 microsecond to 10 seconds and holds what is outside at its ends", () => {
    expectWithin(xOf(AXIS, 1e-6), 100, 0, "the end itself");
    expectWithin(xOf(AXIS, 10), 800, 1e-9, "rounding of a logarithm");
    expectWithin(xOf(AXIS, 0), 100, 0, "held to the end");
    expectWithin(xOf(AXIS, 60), 800, 0, "held to the end");
  });
  it("is read back by its inverse", () => {
    expectWithin(timeAt(AXIS, xOf(AXIS, 4.3e-3)), 4.3e-3, 1e-15, "two roundings of a logarithm");
  });
  it("has a mark at every unit of every decade, 64 in all", () => {
    expect(AXIS_TICKS).toHaveLength(64); // 9 a decade, 7 decades, and the end
    expect(AXIS_TICKS[9]).toEqual({ atS: 1e-5, rank: "decade" });
  });
});

describe("the margin in the race", () => {
  it("is written as a ratio and as time, with the early edge beside it", () => {
    const { drawing } = layoutRace(RACE_LIVE, WIDE);
    textReading(drawing, "51×");
    textReading(drawing, "margin 217 ms"); // 221 - 4.3
    textReading(drawing, "early edge 6.0×");
    textReading(drawing, "4.30 ms");
  });
  it("in a forecast says that nothing has struck", () => {
    const { drawing } = layoutRace(RACE_FORECAST, WIDE);
    textReading(drawing, "margin if struck 217 ms");
    textReading(drawing, "would clear at");
    textReading(drawing, "forecast: nothing here has happened");
  });
  it("below one is said as how many times too late", () => {
    const { drawing } = layoutRace(RACE_LATE, WIDE);
    textReading(drawing, "1.8× too late, 1.90 ms"); // 1 / 0.56; 4.3 - 2.4
  });
  it("is called thin while it is less than the margin required", () => {
    const { drawing } = layoutRace(RACE_THIN, WIDE);
    textReading(drawing, "thin margin 4.70 ms"); // 2.1 of 3 required; 9 - 4.3
    expect(flat(drawing).some((shape) => "role" in shape && shape.role === "thinGround")).toBe(
      true,
    );
  });
  it("is replaced by words when nothing clears: not operated is a result", () => {
    textReading(layoutRace(RACE_UNCLEARED, WIDE).drawing, "no monitor clears this fault");
  });
  it("says by how much a person is late", () => {
    const { drawing } = layoutRace(RACE_LIVE, { ...WIDE, widthPx: 1400 });
    textReading(drawing, "11× too late"); // 1 / 0.0884
    textReading(drawing, "2 to 3 s");
  });
});

describe("what has not happened", () => {
  const FILLED = ["caution", "danger", "must", "normal", "guardFill", "heatFill", "bridged"];
  it("is never drawn solid: a forecast has no filled state shape and no filled damage", () => {
    const filled = flat(layoutRace(RACE_FORECAST, WIDE).drawing).filter(
      (shape) => "role" in shape && FILLED.includes(shape.role),
    );
    expect(filled).toEqual([]);
  });
  it("is hollow in a live race too: the late operate of the run left alone is a dashed square", () => {
    const roles = flat(layoutRace(RACE_LIVE, WIDE).drawing).map((shape) =>
      "role" in shape ? shape.role : "",
    );
    expect(roles.filter((role) => role === "danger").length).toBe(2); // the operate square and the trip octagon of the column at the right
    expect(roles).toContain("hollow");
  });
});

describe("words on what has burnt", () => {
  const meltBurntTo = (endS: number): TextShape => {
    const burning = [1e-6, endS].map((atS) => ({ atS, fraction: 1 }));
    const damage = RACE_LIVE.damage.map((lane) => ({ ...lane, burning }));
    return textReading(layoutRace({ ...RACE_LIVE, damage }, WIDE).drawing, "melt");
  };

  it("have the colour for it and no ground of their own", () => {
    const melt = meltBurntTo(8);
    expect(melt).toMatchObject({ role: "onHeat" });
    expect(melt.halo).toBeUndefined();
    expect(textReading(layoutRace(RACE_LIVE, WIDE).drawing, "melt").halo).toBeDefined();
  });
  it("keep their ground where the burn ends inside the word, at either end of it", () => {
    const { axis } = planRace(RACE_LIVE, WIDE);
    const { x } = meltBurntTo(8);
    const halfPx = textWidthPx("melt", metricsOf("wide").notePx, 640) / 2;
    for (const share of [-0.9, 0.1, 0.9]) {
      const melt = meltBurntTo(timeAt(axis, x + share * halfPx));
      expect(melt, `${share} of half the word`).toMatchObject({ role: "noteStrong" });
      expect(melt.halo).toBeDefined();
    }
    expect(meltBurntTo(timeAt(axis, x + 1.1 * halfPx))).toMatchObject({ role: "onHeat" });
  });
});

describe("lanes of the race", () => {
  it("say in the lane why they did not pick up", () => {
    const { drawing } = layoutRace(RACE_LIVE, WIDE);
    for (const lane of RACE_LIVE.monitors.filter((candidate) => candidate.pickup === null))
      textReading(drawing, lane.why.replaceAll("\u00a0", " "));
  });
  it("fold into one line, counted and named, when there is too little room", () => {
    const plan = planRace(RACE_LIVE, { ...WIDE, maxHeightPx: 300 });
    expect(plan.heightPx).toBeLessThanOrEqual(300);
    expect(plan.foldedWord).toMatch(/^\d+ more: .*no pickup/);
    expect(plan.monitors[0]?.lane.key).toBe("lowGain");
  });
  it("keep the one that clears, whatever the room", () => {
    expect(
      planRace(RACE_LIVE, { ...WIDE, maxHeightPx: 50 }).monitors.map(({ lane }) => lane.key),
    ).toEqual(["lowGain"]);
  });
});

/** Size of a role on a sheet. */
function sizePx(role: TextRole, variant: SheetVariant): number {
  const sizes = metricsOf(variant);
  return sizes[SIZE_NAMES[textStyle(role).size]];
}

/** Where a text begins, and its estimated width. */
function spanOf(text: TextShape, variant: SheetVariant): { left: number; width: number } {
  const width = textWidthPx(wordsOf(text), sizePx(text.role, variant));
  const back = text.anchor === "end" ? width : text.anchor === "middle" ? width / 2 : 0;
  return { left: text.x - back, width };
}

/** Words that a straight line drawn after them crosses, or a line before them where they have no ground of their own. */
function struckWords(view: RaceView, box: { widthPx: number; variant: SheetVariant }): string[] {
  const shapes = layoutRace(view, { ...box, maxHeightPx: null }).drawing;
  return shapes.flatMap((text, at) => {
    if (text.kind !== "text") return [];
    const { left, width } = spanOf(text, box.variant);
    const top = text.y - 0.5 * sizePx(text.role, box.variant);
    return shapes.flatMap((shape, order) => {
      const ends = shape.kind === "path" ? /^M(\S+) (\S+)L(\S+) (\S+)$/.exec(shape.d) : null;
      if (ends === null || (order < at && text.halo !== undefined && ends[2] !== ends[4]))
        return [];
      const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = ends.slice(1).map(Number);
      const isPast =
        Math.max(x1, x2) < left + 3 ||
        Math.min(x1, x2) > left + width * 0.95 - 3 ||
        Math.max(y1, y2) < top ||
        Math.min(y1, y2) > text.y - 2;
      const role = shape.kind === "path" ? shape.role : "";
      // words on a filled area have its paint between them and the grid
      if (role === "hair" && text.role.startsWith("on")) return [];
      return isPast ? [] : [`${role} through "${wordsOf(text)}"`];
    });
  });
}

const BOXES: readonly { readonly widthPx: number; readonly variant: SheetVariant }[] = [
  { widthPx: 908, variant: "wide" },
  { widthPx: 1400, variant: "wide" },
  { widthPx: 780, variant: "compact" },
  { widthPx: 580, variant: "compact" },
  { widthPx: 1000, variant: "projector" },
  { widthPx: 366, variant: "phone" },
  { widthPx: 296, variant: "phone" },
];
const VIEWS = {
  live: RACE_LIVE,
  forecast: RACE_FORECAST,
  late: RACE_LATE,
  thin: RACE_THIN,
  uncleared: RACE_UNCLEARED,
};

describe.each(BOXES)("a race laid out for $widthPx px, $variant", (box) => {
  it.each(Object.entries(VIEWS))("stays inside its box: %s", (_name, view) => {
    const { drawing, heightPx } = layoutRace(view, { ...box, maxHeightPx: null });
    for (const text of texts(drawing)) {
      const { left, width } = spanOf(text, box.variant);
      expect(left, wordsOf(text)).toBeGreaterThanOrEqual(-6);
      // The estimate of a width is on the wide side by some 5 %.
      expect(left + width * 0.95, wordsOf(text)).toBeLessThanOrEqual(box.widthPx + 6);
      expect(text.y, wordsOf(text)).toBeLessThanOrEqual(heightPx + 4);
    }
  });
});

describe("words of the race", () => {
  it.each(Object.entries(VIEWS))("are struck through by no mark: %s", (_name, view) => {
    const thermal = view.monitors.map((lane, i) =>
      i === 1
        ? {
            ...lane,
            pickup: { atS: 9.6e-3, happened: false },
            why: "timing, thermal replica, 15.0\u00a0s",
          }
        : lane,
    );
    for (const box of BOXES)
      expect(struckWords({ ...view, monitors: thermal }, box), `${box.widthPx} px`).toEqual([]);
  });
});

describe("the race as a picture file", () => {
  const palette = {
    colour: (token: string) => `#${token.length.toString(16).padStart(6, "a")}`,
    weightPx: () => 1,
    sizePx: () => 12,
  };
  it("stands alone: no variable, no class, no reference outside itself", () => {
    const svg = raceToSvg(RACE_LIVE, WIDE, palette);
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expect(svg).not.toMatch(/var\(|class=|href=|<image|<style/);
    for (const [, id] of svg.matchAll(/url\(#([\w-]+)\)/g)) expect(svg).toContain(`id="${id}"`);
  });
  it("carries text as text, the summary, and nothing unescaped", () => {
    const svg = raceToSvg({ ...RACE_LIVE, title: "A < B & C" }, WIDE, palette);
    expect(svg).toContain("<title>A &lt; B &amp; C</title>");
    expect(svg).toContain("51×");
    const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
    expect(parsed.querySelector("parsererror")).toBeNull();
    expect(parsed.querySelector("desc")?.textContent).toBe(RACE_LIVE.summary);
  });
  it("is the same, byte for byte, for the same run", () => {
    expect(raceToSvg(RACE_LIVE, WIDE, palette)).toBe(
      raceToSvg(structuredClone(RACE_LIVE), WIDE, palette),
    );
  });
});

describe("roles", () => {
  it("every line has a fill or a stroke, every text a size", () => {
    for (const role of Object.keys(LINES) as (keyof typeof LINES)[]) {
      const style = lineStyle(role);
      expect(style.fill ?? style.hatch ?? style.stroke, role).toBeDefined();
    }
    for (const role of Object.keys(TEXTS) as TextRole[])
      expect(textStyle(role).size).toMatch(/^fs-/);
  });
});
