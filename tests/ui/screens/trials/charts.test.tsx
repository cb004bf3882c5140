/** Charts of the trials: what stands where and how high, and nothing of an earlier summary is left. */
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

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function boxesOf(root: ParentNode, selector: string): readonly Box[] {
  return [...root.querySelectorAll(selector)].map((e) => {
    const of = (name: string) => Number(e.getAttribute(name));
    return { x: of("x"), y: of("y"), width: of("width"), height: of("height") };
  });
}

function placed(
  root: ParentNode,
  selector: string,
): readonly { words: string; x: number; y: number }[] {
  return [...root.querySelectorAll(selector)].map((e) => ({
    words: e.textContent ?? "",
    x: Number(e.getAttribute("x")),
    y: Number(e.getAttribute("y")),
  }));
}

/** Beside each other from left to right on one floor, none over another. */
function expectOnOneFloor(boxes: readonly Box[], floorPx: number): void {
  boxes.forEach((box, i) => {
    expectWithin(box.y + box.height, floorPx, 1e-9, "every bar stands on the floor");
    const next = boxes[i + 1];
    if (next !== undefined) expect(next.x).toBeGreaterThan(box.x + box.width - 1e-9);
  });
}

const BARS = "rect[fill='var(--guard)']";

describe("histogram", () => {
  it("has bars as high as their counts, side by side, each bin with its words", () => {
    const edges = [1, 2, 4, 8, 16];
    const { container } = render(<SpreadCharts summary={spreadSummary([3, 12, 0, 6], edges)} />);
    const bars = boxesOf(container, BARS);
    expectOnOneFloor(bars, 144);
    const [a, b, c, d] = bars.map((bar) => bar.height);
    expectWithin((b ?? 0) / (a ?? 0), 4, 1e-9, "twelve beside three");
    expectWithin((b ?? 0) / (d ?? 0), 2, 1e-9, "twelve beside six");
    expect(c).toBe(0);
    const tips = [...container.querySelectorAll("rect[fill='transparent'] title")];
    expect(tips.map((t) => t.textContent)).toEqual([
      "1.0× to 2.0×: 3 units",
      "2.0× to 4.0×: 12 units",
      "4.0× to 8.0×: 0 units",
      "8.0× to 16×: 6 units",
    ]);
  });

  it("has the height of a count where the scale says it", () => {
    const { container } = render(<SpreadCharts summary={spreadSummary([10, 20], [1, 2, 4])} />);
    const ticks = placed(container, "svg text[text-anchor='end']");
    const twenty = ticks.find((t) => t.words === "20");
    const top = boxesOf(container, BARS)[1]?.y ?? Number.NaN;
    // words of a scale stand with their middle at its line, 4 px over their foot
    expectWithin(top, (twenty?.y ?? 0) - 4, 1e-9, "the bar ends at its figure's line");
  });

  it("leaves figures under the bins out where they would touch", () => {
    const counts = Array.from({ length: 30 }, (_, i) => i);
    const edges = Array.from({ length: 31 }, (_, i) => 100 + i);
    const { container } = render(<SpreadCharts summary={spreadSummary(counts, edges)} />);
    const names = placed(container, "svg text[text-anchor='middle']");
    expect(names.length).toBeGreaterThan(3);
    names.slice(1).forEach((name, i) => {
      // four letters of some 6 px, half of each on its side
      expect(name.x - (names[i]?.x ?? 0)).toBeGreaterThan(24);
    });
  });

  it("leaves nothing of the first unit, whose bin has no width, when more are known", () => {
    const { container, rerender } = render(<SpreadCharts summary={spreadSummary([1], [5, 5])} />);
    const words = () => placed(container, "svg text").map((t) => t.words);
    expect(words()).toContain("5.0×");
    rerender(<SpreadCharts summary={spreadSummary([2, 5, 1], [1, 10, 100, 1000])} />);
    expect(words()).not.toContain("5.0×");
    expect(boxesOf(container, BARS)).toHaveLength(3);
  });

  it("counts in whole units, and an endless range has a scale all the same", () => {
    expect(niceScale(0, 2, 1).ticks).toEqual([0, 1, 2]);
    expect(niceScale(0, 60, 1).ticks).toEqual([0, 20, 40, 60]);
    // without a least step the scale is divided as finely as it needs
    expect(niceScale(0, 2).ticks).toEqual([0, 0.5, 1, 1.5, 2]);
    expect(niceScale(0, Infinity).ticks).toEqual([0, 1]);
  });
});

function point(
  x: number,
  y: number,
  perHour: number | null,
  operateMedianS: number | null = null,
): WindowPoint {
  const falseTrips =
    perHour === null ? null : { count: 1, perHour, low: perHour / 4, high: 4 * perHour };
  const faults = operateMedianS === null ? [] : [{ operateMedianS, operate95S: operateMedianS }];
  return { x, y, faults, falseTrips, onFront: false } as unknown as WindowPoint;
}

function sweep(points: readonly WindowPoint[]): WindowSummary {
  const values = (of: "x" | "y") => [...new Set(points.map((p) => p[of]))];
  return {
    x: { path: "lowGain.confirmation", values: values("x") },
    y: { path: "lowGain.smoothing", values: values("y") },
    points,
  } as unknown as WindowSummary;
}

/** The two charts of a sweep. */
function chartsOf(points: readonly WindowPoint[]) {
  const { container, rerender } = render(<WindowCharts summary={sweep(points)} />);
  const [trips, times] = container.querySelectorAll(".window-charts figure");
  if (trips === undefined || times === undefined) throw new Error("no charts");
  const show = (next: readonly WindowPoint[]) => rerender(<WindowCharts summary={sweep(next)} />);
  return { container, trips, times, show };
}

/** Figures over the bars, from left to right. */
function figuresOf(chart: ParentNode) {
  return placed(chart, "text[font-weight='640']");
}

const FLOOR_PX = 206;

describe("bars of a sweep", () => {
  it("stand in tenfold steps, those without a trip on the floor, and unknown ones not at all", () => {
    const rates = [1, 10, 100, 0, null];
    const { trips } = chartsOf(rates.map((rate, i) => point(i / 1000, 0, rate)));
    const bars = boxesOf(trips, "rect");
    expect(bars).toHaveLength(4);
    expectOnOneFloor(bars, FLOOR_PX);
    const [one = 0, ten = 0, hundred = 0, none = 0] = bars.map((bar) => bar.height);
    expectWithin(hundred - ten, ten - one, 1e-9, "a step for each tenfold");
    expect(none).toBeLessThan(one / 5);
    expect(none).toBeGreaterThan(0);
    expect(figuresOf(trips).map((f) => f.words)).toEqual(["1.0", "10", "100", "0"]);
  });

  it("show each pair of settings its own rate and time, the second setting by its fill", () => {
    const { trips, times } = chartsOf([
      point(0, 0, 100, 0.001),
      point(0.002, 0, 10, 0.003),
      point(0, 0.001, 20, 0.002),
      point(0.002, 0.001, 2, 0.004),
    ]);
    expect(figuresOf(trips).map((f) => f.words)).toEqual(["100", "20", "10", "2.0"]);
    expect(figuresOf(times).map((f) => f.words)).toEqual(["1.0", "2.0", "3.0", "4.0"]);
    const bars = boxesOf(times, "rect");
    expectOnOneFloor(bars, FLOOR_PX);
    for (const [i, bar] of bars.entries())
      expectWithin(bar.height, (i + 1) * (bars[0]?.height ?? 0), 1e-9, "times on an even scale");
    const fills = [...times.querySelectorAll("rect")].map((r) => r.getAttribute("fill"));
    expect(fills).toEqual(["var(--ink)", "var(--guard-soft)", "var(--ink)", "var(--guard-soft)"]);
  });

  it("have whiskers over their interval and figures over those", () => {
    const { trips } = chartsOf([point(0, 0, 100), point(0.001, 0, 400), point(0.002, 0, 25)]);
    const bars = boxesOf(trips, "rect");
    const [hundred, highOfIt, lowOfIt] = bars.map((bar) => bar.y);
    const [whisker] = trips.querySelectorAll("path[stroke='var(--heat)']");
    const [, fromX, fromY, toY] =
      /^M([\d.]+) ([\d.]+)V([\d.]+)/.exec(whisker?.getAttribute("d") ?? "") ?? [];
    expectWithin(Number(fromY), lowOfIt ?? 0, 1e-6, "a quarter of a hundred");
    expectWithin(Number(toY), highOfIt ?? 0, 1e-6, "four times a hundred");
    const first = bars[0];
    expectWithin(Number(fromX), (first?.x ?? 0) + (first?.width ?? 0) / 2, 1e-6, "in its middle");
    expect(figuresOf(trips)[0]?.y).toBeLessThan(Number(toY));
    expect(Number(toY)).toBeLessThan(hundred ?? 0);
    // the highest figure, over the highest whisker, is still in the picture
    expect(Math.min(...figuresOf(trips).map((f) => f.y))).toBeGreaterThan(10);
  });

  it("have their figures upright and inside the chart where the bars are narrow", () => {
    const five = [1, 2, 3, 4, 5];
    const { trips } = chartsOf(five.flatMap((y) => five.map((x) => point(x, y, 21_000))));
    const figures = [...trips.querySelectorAll("text[transform]")];
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

  it("keep apart values whose words are the same, and leave names out where they would touch", () => {
    const { trips, show } = chartsOf([point(0.001, 0, 1), point(0.0010004, 0, 2)]);
    show([point(0.002, 0, 3)]);
    expect(figuresOf(trips).map((f) => f.words)).toEqual(["3.0"]);
    show(Array.from({ length: 25 }, (_, i) => point((1 + i) / 1000, 0, 1)));
    const names = placed(trips, "text[text-anchor='middle']").filter((t) => t.words.endsWith("ms"));
    expect(names.length).toBeGreaterThan(3);
    names.slice(1).forEach((name, i) => {
      expect(name.x - (names[i]?.x ?? 0)).toBeGreaterThan(45);
    });
  });
});
