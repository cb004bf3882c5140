/** What a coordination sheet draws and says, from a sheet made by hand. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../../src/project/defaults";
import type {
  CoordinationSheet,
  MonitorPoint,
  StressPoint,
} from "../../../../src/study/coordination/coordinate";
import { DEFAULT_REQUIREMENT, schemeMargin } from "../../../../src/study/coordination/margins";
import type { StressFacts } from "../../../../src/study/coordination/stressed";
import { isLettered } from "../../../../src/ui/screens/coordination/DamageLabels";
import {
  freeBox,
  letterPlaces,
  placesAlong,
} from "../../../../src/ui/screens/coordination/letterPlaces";
import {
  FIRST_S,
  LAST_S,
  nearestPoint,
  sheetCurves,
} from "../../../../src/ui/screens/coordination/sheetData";
import { strokeOf } from "../../../../src/ui/screens/coordination/strokes";
import { operateWords, pointSentence } from "../../../../src/ui/screens/coordination/words";
import { expectWithin } from "../../../support/expectWithin";

const { monitors } = defaultProject();
const FACTS = { arcW: 166, arcPeakA: 1.33 } as StressFacts;
const SILENT: MonitorPoint = {
  pickupS: null,
  earliestS: null,
  latestS: null,
  criterion: -1,
  clearS: null,
};

function clears(s: number): MonitorPoint {
  const clearS = { shortest: 0.8 * s, nominal: s, longest: 1.2 * s };
  return { pickupS: s / 2, earliestS: 0.7 * s, latestS: 0.9 * s, criterion: 0, clearS };
}

function point(x: number, ms: readonly MonitorPoint[], meltS: number | null): StressPoint {
  const early = meltS === null ? null : meltS / 10;
  return {
    x,
    facts: FACTS,
    monitors: ms,
    damage: [
      { part: "tuningCapacitor", milestone: "onset", nominalS: meltS, earlyS: early, lateS: null },
    ],
  };
}

const sheet: CoordinationSheet = {
  stress: "arcAtTuningCapacitor",
  axis: [50, 1000],
  points: [
    point(100, [SILENT, SILENT], 4),
    point(200, [clears(0.01), SILENT], 0.1),
    point(400, [clears(0.01), SILENT], 0.001),
    { x: 800, facts: null, monitors: [], damage: [] },
  ],
};
const curves = sheetCurves(sheet, [true, true]);

describe("a sheet as curves and regions", () => {
  it("lets a trip curve rise where its monitor ceases to operate, and draws none of who is silent", () => {
    expect(curves.monitors.map((m) => m.index)).toEqual([0]);
    const [run] = curves.clearing;
    expect(run?.map((p) => p.x)).toEqual([200, 200, 400]);
    expect(run?.[0]?.s).toBe(LAST_S);
    expect(run?.[1]?.s).toBe(0.01);
  });

  it("shades the margin from clearing up to damage, and the late part from where they cross", () => {
    const [margin] = curves.margin;
    expect(margin?.lower.map((p) => p.s)).toEqual([0.01, 0.01]);
    expect(margin?.upper.map((p) => p.s)).toEqual([0.1, 0.01]);
    expect(curves.late).toHaveLength(2);
    // nobody clears at 100 V; 0.1 s and 1 ms lie as far from 10 ms: half way between 200 and 400 on the logarithmic axis
    expect(curves.late[0]?.upper[0]?.s).toBe(LAST_S);
    expectWithin(curves.late[1]?.lower[0]?.x ?? 0, 200 * Math.SQRT2, 1e-9, "rounding");
    expectWithin(curves.late[1]?.lower[0]?.s ?? 0, 0.01, 1e-12, "rounding");
  });

  it("opens an onset band upwards where the late estimate does not come, and keeps all on the axis", () => {
    expect(curves.onsetBand[0]?.upper.every((p) => p.s === LAST_S)).toBe(true);
    const all = [...curves.margin, ...curves.late, ...curves.hurt, ...curves.onsetBand];
    for (const { lower, upper } of all) {
      for (const { s } of [...lower, ...upper]) {
        expect(s).toBeGreaterThanOrEqual(FIRST_S);
        expect(s).toBeLessThanOrEqual(LAST_S);
      }
    }
  });

  it("leaves out who is not chosen, and then nothing is in time", () => {
    const none = sheetCurves(sheet, [false, false]);
    expect(none.monitors).toEqual([]);
    expect(none.margin).toEqual([]);
    expect(none.late[0]?.lower).toHaveLength(3);
  });

  it("reads the nearest point by ratio", () => {
    expect(nearestPoint(sheet.points, 140)).toBe(0);
    expect(nearestPoint(sheet.points, 142)).toBe(1);
    expect(nearestPoint([], 142)).toBe(-1);
  });
});

type Px = { readonly x: number; readonly y: number };

/** From a place to the nearest piece of a run of places. */
function fromRun(p: Px, run: readonly Px[]): number {
  const pieces = run.map((a, k) => {
    const b = run[k + 1] ?? a;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const along = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1);
    const t = Math.min(Math.max(along, 0), 1);
    return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
  });
  return Math.min(...pieces);
}

describe("letters on damage curves", () => {
  const plot = { x: 50, y: 10, width: 300, height: 280 };
  const figure = { x: 180, y: 60, width: 90, height: 28 };
  // five curves that fall side by side, two of them in the same pixels for half their way, and single places in two corners
  const fall = (shift: number, bend: number) => [
    [
      { x: 60 + shift, y: 12 },
      { x: 200, y: 80 + bend },
      { x: 350, y: 110 + 2 * bend },
    ],
  ];
  const corners = [[[{ x: 50, y: 10 }]], [[{ x: 350, y: 290 }]]];
  const curves = [fall(0, 0), fall(3, 4), fall(6, 8), fall(30, 0), ...corners, []];
  const radius = 8;
  const places = letterPlaces(placesAlong(curves, radius, plot), radius, [figure]);

  it("stand apart from each other and from words, inside the sheet, each on its own curve", () => {
    const there = places.flatMap((p) => (p === null ? [] : [p]));
    expect(there).toHaveLength(6);
    for (const [k, { x, y }] of there.entries()) {
      const run = curves[k]?.[0] ?? [];
      // a letter in a corner of the plot is moved inside, a radius both ways
      const fromCurve = k >= 4 ? radius * Math.SQRT2 : 0;
      expectWithin(fromRun({ x, y }, run), fromCurve, 1e-9, `rounding, letter ${k}`);
      expect(x).toBeGreaterThanOrEqual(plot.x + radius);
      expect(x).toBeLessThanOrEqual(plot.x + plot.width - radius);
      expect(y).toBeGreaterThanOrEqual(plot.y + radius);
      expect(y).toBeLessThanOrEqual(plot.y + plot.height - radius);
      const isOnFigure =
        x > figure.x - radius && x < figure.x + 98 && y > figure.y - radius && y < figure.y + 36;
      expect(isOnFigure, `letter ${k} on the figure`).toBe(false);
      for (const other of there.slice(k + 1))
        expect(Math.hypot(other.x - x, other.y - y)).toBeGreaterThanOrEqual(2 * radius);
    }
    expect(places[6]).toBeNull();
  });

  it("stand for names on a narrow sheet and for many curves, not where names have room", () => {
    const [one] = sheetCurves(sheet, [true, true]).damage;
    if (one === undefined) throw new Error("there is a damage curve");
    expect(isLettered([one, one], 366, 11)).toBe(true);
    expect(isLettered([one, one], 1012, 11)).toBe(false);
    expect(isLettered([one, one, one, one, one], 1012, 11)).toBe(true);
    expect(isLettered([one], 366, 14)).toBe(true);
  });
});

describe("the words of a point", () => {
  const sentence = (k: number, chosen = [true, true]): string => {
    const at = sheet.points[k] as StressPoint;
    const margin = schemeMargin(at, chosen, DEFAULT_REQUIREMENT);
    return pointSentence(sheet.stress, at, margin, monitors, DEFAULT_REQUIREMENT);
  };

  it("say who clears when, what is hurt when, the margin, and what is required", () => {
    expect(sentence(1)).toBe(
      "200\u00a0V: Low gain clears in 10.0\u00a0ms, tuning capacitor begins to melt after 100\u00a0ms: margin 10×; early estimate 0.83×. Required: 3.0× and 5.0×, so it is covered.",
    );
    expect(sentence(2)).toContain("margin 10× too late");
  });

  it("say that nobody clears, and that a stress cannot occur, never nothing", () => {
    expect(sentence(0)).toContain("no chosen monitor ends it: not covered");
    expect(sentence(1, [false, true])).toContain("not covered");
    expect(sentence(3)).toContain("the arc goes out");
  });

  it("give an operate time once where its bounds read alike, and say when there is none", () => {
    expect(operateWords(null, null)).toBe("does not operate");
    expect(operateWords(3.15e-3, 4.1e-3)).toBe("3.15 to 4.10\u00a0ms");
    expect(operateWords(2.0001, 2.0002)).toBe("2.00\u00a0s");
    expect(operateWords(0.9e-3, 1.1e-3)).toBe("900\u00a0µs to 1.10\u00a0ms");
  });
});

it("no two of the default monitors share dash and mark", () => {
  const strokes = monitors.map((_, k) => JSON.stringify(strokeOf(k)));
  expect(new Set(strokes).size).toBe(monitors.length);
});

describe("words on the sheet", () => {
  const at = (x: number, y: number) => ({ x, y, width: 40, height: 20 });
  it("stand at the first place that is clear, or where they cover least", () => {
    const names = [at(0, 0), at(100, 0)];
    expect(freeBox([at(30, 0), at(50, 0), at(200, 0)], names)).toEqual(at(50, 0));
    // side by side without air is not clear
    expect(freeBox([at(41, 0), at(0, 60)], names)).toEqual(at(0, 60));
    expect(freeBox([at(10, 0), at(30, 15), at(90, 5)], names)).toEqual(at(30, 15));
    expect(freeBox([], names)).toBeNull();
  });
});
