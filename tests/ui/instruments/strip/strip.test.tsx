import { render, screen } from "@testing-library/react";
import fc from "fast-check";
import { createRef } from "react";
import { describe, expect, it } from "vitest";
import { StripChart } from "../../../../src/ui/instruments/strip/StripChart";
import type { StripHandle } from "../../../../src/ui/instruments/strip/stripView";
import { tracePath } from "../../../../src/ui/instruments/strip/tracePath";
import { STRIP, STRIP_FRAME } from "../support/demoPanel";

const BOX = { leftPx: 0, widthPx: 100, topPx: 0, heightPx: 100, minimum: 0, maximum: 1 };

/** Every y a path visits. */
function heights(d: string): readonly number[] {
  return [...d.matchAll(/[ML][\d.]+ ([\d.]+)|V([\d.]+)/g)].map((match) =>
    Number(match[1] ?? match[2]),
  );
}

describe("a trace", () => {
  it("never loses a peak, however narrow", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: 0, max: 1, noNaN: true }),
            fc.double({ min: 0, max: 1, noNaN: true }),
          ),
          { minLength: 2, maxLength: 60 },
        ),
        (pairs) => {
          const low = pairs.map(([a, b]) => Math.min(a, b));
          const high = pairs.map(([a, b]) => Math.max(a, b));
          const seen = heights(tracePath(low, high, pairs.length, BOX));
          // Heights are written at tenths of a pixel.
          expect(Math.min(...seen)).toBeLessThanOrEqual(100 - 100 * Math.max(...high) + 0.051);
          expect(Math.max(...seen)).toBeGreaterThanOrEqual(100 - 100 * Math.min(...low) - 0.051);
        },
      ),
      { seed: 31, numRuns: 60 },
    );
  });
  it("leaves gaps where nothing was recorded", () => {
    expect(tracePath([0, Number.NaN, 1], [0, Number.NaN, 1], 3, BOX)).toBe("M0 100M100 0");
  });
});

describe("the strip chart", () => {
  it("draws nothing until it is told to, and then only what it is told", () => {
    const handle = createRef<StripHandle>();
    const { container } = render(<StripChart view={STRIP} variant="wide" handle={handle} />);
    const traces = () =>
      [...container.querySelectorAll("g > path")].map((path) => path.getAttribute("d"));
    expect(traces()).toEqual([null, null, null, null, null]);
    handle.current?.draw(STRIP_FRAME, true);
    const drawn = traces();
    expect(drawn.every((d) => d?.startsWith("M"))).toBe(true);
    expect(traces()).toEqual(drawn);
    expect(screen.getByRole("img", { name: STRIP.summary })).toHaveTextContent("0.920");
  });
  it("draws again by itself after a new layout, at the same instant", () => {
    const handle = createRef<StripHandle>();
    const { container, rerender } = render(
      <StripChart view={STRIP} variant="wide" handle={handle} />,
    );
    handle.current?.draw(STRIP_FRAME, true);
    rerender(<StripChart view={{ ...STRIP, valueWord: "now" }} variant="wide" handle={handle} />);
    expect(container.querySelector("g > path")?.getAttribute("d")).toMatch(/^M/);
  });
});
