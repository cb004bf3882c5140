/** Charts of the trials: what stands as high as what, and nothing of an earlier summary is left. */
import { render } from "@testing-library/react";
import { describe, expect, it } from "vitest";
import type { Spread, ToleranceSummary } from "../../../../src/study/trials/toleranceSummary";
import type { WindowPoint, WindowSummary } from "../../../../src/study/trials/windowSummary";
import { niceScale } from "../../../../src/ui/instruments/niceScale";
import { SpreadCharts } from "../../../../src/ui/screens/trials/SpreadCharts";
import { WindowCharts } from "../../../../src/ui/screens/trials/WindowCharts";
import { expectWithin } from "../../../support/expectWithin";

const NONE: Spread = { units: 0, percentiles: [], histogram: null, endless: 0 };

function spreadSummary(counts: readonly number[], edges: readonly number[]): ToleranceSummary {
  const units = counts.reduce((sum, n) => sum + n, 0);
  const margin = { ...NONE, units, histogram: { counts, edges } };
  return { margin, marginEarly: NONE, operateS: NONE } as unknown as ToleranceSummary;
}

function attributes(root: ParentNode, selector: string, name: string): readonly number[] {
  return [...root.querySelectorAll(selector)].map((e) => Number(e.getAttribute(name)));
}

function wordsOf(root: ParentNode): readonly (string | null)[] {
  return [...root.querySelectorAll("svg text")].map((t) => t.textContent);
}

describe("histogram", () => {
  it("has bars as high as their counts, each with its bin in words", () => {
    const { container } = render(
      <SpreadCharts summary={spreadSummary([3, 12, 0, 6], [1, 2, 4, 8, 16])} />,
    );
    const [a = 0, b = 0, c, d = 0] = attributes(container, "rect", "height");
    expectWithin(b / a, 4, 1e-9, "twelve beside three");
    expectWithin(b / d, 2, 1e-9, "twelve beside six");
    expect(c).toBe(0);
    const tips = [...container.querySelectorAll("rect title")].map((t) => t.textContent);
    expect(tips[1]).toBe("2.0× to 4.0×: 12 units");
  });

  it("leaves nothing of the first unit, whose bin has no width, when more are known", () => {
    const { container, rerender } = render(<SpreadCharts summary={spreadSummary([1], [5, 5])} />);
    expect(wordsOf(container)).toContain("5.0×");
    const edges = [1, 10, 100, 1000];
    rerender(<SpreadCharts summary={spreadSummary([2, 5, 1], edges)} />);
    expect(wordsOf(container)).not.toContain("5.0×");
    expect(attributes(container, "rect", "x")).toHaveLength(3);
  });

  it("counts in whole units", () => {
    expect(niceScale(0, 2, 1).ticks).toEqual([0, 1, 2]);
    expect(niceScale(0, 60, 1).ticks).toEqual([0, 20, 40, 60]);
    // without a least step the scale is divided as finely as it needs
    expect(niceScale(0, 2).ticks).toEqual([0, 0.5, 1, 1.5, 2]);
  });
});

function point(x: number, y: number, perHour: number | null): WindowPoint {
  const falseTrips =
    perHour === null ? null : { count: 1, perHour, low: perHour / 4, high: 4 * perHour };
  return { x, y, faults: [], falseTrips, onFront: false };
}

function sweep(points: readonly WindowPoint[]): WindowSummary {
  const values = (of: "x" | "y") => [...new Set(points.map((p) => p[of]))];
  return {
    x: { path: "monitors.lowGain.pickup", values: values("x") },
    y: { path: "monitors.lowGain.smoothingS", values: values("y") },
    points,
  } as unknown as WindowSummary;
}

describe("bars of a sweep", () => {
  it("stand in tenfold steps, those without a trip on the floor, and unknown ones not at all", () => {
    const { container } = render(
      <WindowCharts
        summary={sweep([
          point(1, 0, 1),
          point(2, 0, 10),
          point(3, 0, 100),
          point(4, 0, 0),
          point(5, 0, null),
        ])}
      />,
    );
    const [trips] = container.querySelectorAll(".window-charts figure");
    if (trips === undefined) throw new Error("no chart");
    const [one = 0, ten = 0, hundred = 0, none = 0, ...more] = attributes(trips, "rect", "height");
    expect(more).toHaveLength(0);
    expectWithin(hundred - ten, ten - one, 1e-9, "a step for each tenfold");
    expect(none).toBeLessThan(one / 5);
    expect(none).toBeGreaterThan(0);
    expect(trips.querySelectorAll("path[stroke='var(--heat)']")).toHaveLength(4);
    expect(wordsOf(trips).slice(0, 8)).toEqual(expect.arrayContaining(["1.0", "10", "100", "0"]));
  });

  it("stay inside the chart with their whiskers and figures", () => {
    const { container } = render(
      <WindowCharts summary={sweep([point(1, 0, 5000), point(2, 0, 0)])} />,
    );
    const ys = [...container.querySelectorAll(".window-charts path, .window-charts text")].flatMap(
      (e) => [...(e.getAttribute("d") ?? "").matchAll(/V(-?[\d.]+)/g)].map((m) => Number(m[1])),
    );
    expect(Math.min(...ys)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...ys)).toBeLessThanOrEqual(250);
    for (const y of attributes(container, ".window-charts text[y]", "y"))
      expect(y).toBeGreaterThan(8);
  });

  it("have their figures upright and inside the chart where the bars are narrow", () => {
    const five = [1, 2, 3, 4, 5];
    const points = five.flatMap((y) => five.map((x) => point(x, y, 21_000)));
    const { container } = render(<WindowCharts summary={sweep(points)} />);
    const [trips] = container.querySelectorAll(".window-charts figure");
    const figures = [...(trips?.querySelectorAll("text[transform]") ?? [])];
    expect(figures.map((t) => t.textContent)).toEqual(
      Array.from({ length: 25 }, () => "21\u202f000"),
    );
    for (const figure of figures) {
      const place = /^translate\(([\d.]+) ([\d.]+)\) rotate\(-90\)$/.exec(
        figure.getAttribute("transform") ?? "",
      );
      // six letters of some 6 px from there upwards
      expect(Number(place?.[2])).toBeGreaterThan(36);
    }
  });
});
