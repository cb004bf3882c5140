/** Verdicts on a sheet made by hand: every figure can be checked by eye. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type {
  CoordinationSheet,
  MonitorPoint,
  StressPoint,
} from "../../src/study/coordination/coordinate";
import type { DamageTime } from "../../src/study/coordination/damageTime";
import {
  crossings,
  DEFAULT_REQUIREMENT,
  monitorMargin,
  operatesFrom,
  schemeMargin,
  worstPoint,
} from "../../src/study/coordination/margins";
import { judgedRange } from "../../src/study/coordination/stress";
import type { StressFacts } from "../../src/study/coordination/stressed";
import { expectWithin } from "../support/expectWithin";

const FACTS: StressFacts = {
  driveW: 62,
  plateCurrentA: 0.9,
  gridCurrentA: 0.05,
  plateV: 3000,
  forwardW: 20,
  reflectedW: 1,
  plateDissipationW: 2600,
  arcW: 170,
  arcPeakA: 1.3,
  phaseRad: null,
};

const SILENT: MonitorPoint = {
  pickupS: null,
  earliestS: null,
  latestS: null,
  criterion: -1,
  clearS: null,
};

function clears(nominal: number): MonitorPoint {
  return {
    pickupS: 1e-3,
    earliestS: 0.7 * nominal,
    latestS: 0.9 * nominal,
    criterion: 0,
    clearS: { shortest: 0.8 * nominal, nominal, longest: 1.25 * nominal },
  };
}

function melts(nominalS: number | null, halfS: number | null = null): readonly DamageTime[] {
  const early = nominalS === null ? null : nominalS / 10;
  const late = nominalS === null ? null : nominalS * 10;
  const part = "tuningCapacitor";
  return [
    { part, milestone: "onset", nominalS, earlyS: early, lateS: late },
    { part, milestone: "halfMilligram", nominalS: halfS, earlyS: halfS, lateS: halfS },
  ];
}

function point(
  x: number,
  monitors: readonly MonitorPoint[],
  damage: readonly DamageTime[],
): StressPoint {
  return { x, facts: FACTS, monitors, damage };
}

const ALL = [true, true];

describe("the margin of a stress", () => {
  it("is first damage over first clearing, early estimate over longest clearing", () => {
    const here = point(250, [clears(2), clears(0.004)], melts(0.2, 0.5));
    const margin = schemeMargin(here, ALL, DEFAULT_REQUIREMENT);
    expect(margin.first).toBe(1);
    expectWithin(margin.margin ?? 0, 50, 1e-9, "0.2 / 0.004");
    expectWithin(margin.marginEarly ?? 0, 4, 1e-9, "0.02 / 0.005");
    expectWithin(margin.marginHalfMilligram ?? 0, 125, 1e-9, "0.5 / 0.004");
    expect(margin.verdict).toBe("covered");
    expect(monitorMargin(here, 0, DEFAULT_REQUIREMENT).verdict).toBe("late");
  });

  it("needs three against the onset and five against half a milligram, unless asked for more", () => {
    const monitors = [clears(0.01)];
    const verdict = (onsetS: number, halfS: number, more = DEFAULT_REQUIREMENT) =>
      schemeMargin(point(1, monitors, melts(onsetS, halfS)), ALL, more).verdict;
    expect(verdict(0.031, 0.06)).toBe("covered");
    expect(verdict(0.029, 0.06)).toBe("thin");
    expect(verdict(0.031, 0.049)).toBe("thin");
    expect(verdict(0.009, 0.06)).toBe("late");
    expect(verdict(0.031, 0.06, { onset: 4, halfMilligram: 5 })).toBe("thin");
  });

  it("counts only who is chosen; nobody is not covered, and no damage needs nobody", () => {
    const here = point(250, [clears(2), clears(0.004)], melts(0.2));
    expect(schemeMargin(here, [true, false], DEFAULT_REQUIREMENT).first).toBe(0);
    expect(schemeMargin(here, [false, false], DEFAULT_REQUIREMENT)).toMatchObject({
      verdict: "notCovered",
      first: -1,
      margin: null,
    });
    const mild = point(1, [SILENT, SILENT], melts(null));
    expect(schemeMargin(mild, ALL, DEFAULT_REQUIREMENT).verdict).toBe("noDamage");
    const impossible = { x: 1, facts: null, monitors: [], damage: [] };
    expect(schemeMargin(impossible, ALL, DEFAULT_REQUIREMENT).verdict).toBe("noStress");
  });
});

describe("where a worst case is looked for", () => {
  it("is the usual range of an arc's voltage, widened to the part's own", () => {
    const { station } = defaultProject();
    // 150 to 400 V: common practice, no source
    expect(judgedRange("arcAtLoadingCapacitor", station)).toEqual([150, 400]);
    const low = { ...station.loadingCapacitor, maintainingV: 90 };
    const other = { ...station, loadingCapacitor: low };
    expect(judgedRange("arcAtLoadingCapacitor", other)).toEqual([90, 400]);
    expect(judgedRange("arcBeyondCoupler", other)).toEqual([150, 400]);
  });
});

describe("a whole sheet", () => {
  const sheet: CoordinationSheet = {
    stress: "arcAtTuningCapacitor",
    axis: [50, 1000],
    points: [
      point(100, [SILENT, SILENT], melts(0.9)),
      point(200, [clears(0.01), SILENT], melts(0.04)),
      point(300, [clears(0.01), SILENT], melts(0.012)),
      point(400, [clears(0.01), clears(0.03)], melts(0.008)),
    ],
  };

  it("finds its worst point, uncovered before late", () => {
    expect(worstPoint(sheet, [100, 400], ALL, DEFAULT_REQUIREMENT)).toBe(0);
    expect(worstPoint(sheet, [200, 400], ALL, DEFAULT_REQUIREMENT)).toBe(3);
    expect(worstPoint(sheet, [200, 300], ALL, DEFAULT_REQUIREMENT)).toBe(2);
    expect(worstPoint(sheet, [500, 600], ALL, DEFAULT_REQUIREMENT)).toBe(-1);
  });

  it("says from where on a monitor operates; a short is mild where its resistance is high", () => {
    expect(operatesFrom(sheet, 0)).toBe(200);
    expect(operatesFrom(sheet, 1)).toBe(400);
    expect(operatesFrom({ ...sheet, stress: "supplyShort" }, 0)).toBe(400);
    expect(operatesFrom(sheet, 2)).toBeNull();
  });

  it("marks where clearing takes as long as damage", () => {
    const [one, ...more] = crossings(sheet, ALL, DEFAULT_REQUIREMENT);
    expect(more).toEqual([]);
    // margins 1.2 and 0.8: half way
    expectWithin(one?.x ?? 0, 350, 1e-9, "half way between 300 and 400");
    expectWithin(one?.s ?? 0, 0.01, 1e-12, "clearing is level there");
  });
});
