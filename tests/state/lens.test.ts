import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { BenchEvent } from "../../src/simulation/benchEvent";
import { landmarksOf, lensEvents } from "../../src/state/landmarks";
import { advanceLens, lensRate } from "../../src/state/lens";
import { PACES, paceText } from "../../src/state/pace";
import { expectWithin } from "../support/expectWithin";
import { fixedRuns } from "../support/properties";

const instant = fc.integer({ min: 0, max: 2_000_000_000 });

describe("the pace", () => {
  it("goes down in decades from real time to a millionth", () => {
    expect(PACES[0]).toBe(1);
    PACES.slice(1).forEach((pace, i) => {
      const above = PACES[i] as number;
      expectWithin(pace * 10, above, 1e-12 * above, "decades; last bit of a product");
    });
    expect(PACES.at(-1)).toBe(1e-6);
  });

  it("is said as time on screen", () => {
    expect(paceText(2e-5)).toBe("1\u00a0s on screen = 20.0\u00a0µs");
  });
});

describe("the time lens", () => {
  it("runs at the pace where nothing is near", () => {
    expect(lensRate(5e9, 0.1, { lastNs: null, nextNs: null })).toBe(0.1);
    // ten seconds after the fault the race's axis ends: 10 s a decade / 2.3 s is faster than real time
    expect(lensRate(1e10, 1, { lastNs: 0, nextNs: null })).toBe(1);
  });

  it("multiplies the time since the fault by ten in 2.3 s of screen time", () => {
    const near = { lastNs: 1000, nextNs: null };
    for (const sinceNs of [1e5, 1e6, 1e7]) {
      const after = advanceLens(1000 + sinceNs, 2300, 1, near) - 1000;
      expectWithin(
        after / sinceNs,
        10,
        0.1,
        "steps of 1 ms and the axis' start at 1 us, 1 % at 100 us",
      );
    }
  });

  it("never goes back, never passes an event unseen, never outruns the pace", () => {
    fc.assert(
      fc.property(instant, instant, instant, fc.integer({ min: 1, max: 100 }), (a, b, c, ms) => {
        const [lastNs, play, nextNs] = [a, b, c].sort((x, y) => x - y) as [number, number, number];
        const to = advanceLens(play, ms, 1, { lastNs, nextNs });
        expect(to).toBeGreaterThanOrEqual(play);
        expect(to - play).toBeLessThanOrEqual(ms * 1e6 * (1 + 1e-12));
        if (play < nextNs) expect(to).toBeLessThanOrEqual(nextNs);
      }),
      fixedRuns(50),
    );
  });
});

const placed = (atNs: number, fault: "insect" | "relayStuck"): BenchEvent => ({
  kind: "command",
  atNs,
  command: {
    do: "placeFault",
    fault,
    part: fault === "insect" ? "tuningCapacitor" : "protection",
    severity: 1,
  },
  refused: "",
});
const zero = (atNs: number): BenchEvent => ({
  kind: "faultZero",
  atNs,
  fault: "insect",
  part: "tuningCapacitor",
  struck: "tuningCapacitor",
});

describe("what the lens slows for", () => {
  it("is the last fault that struck, and the next one known from record or plan", () => {
    const events = [placed(1000, "insect"), zero(1200), zero(9_000_000)];
    expect(lensEvents(events, 5_000_000, null)).toEqual({ lastNs: 1200, nextNs: 9_000_000 });
    expect(lensEvents(events, 5_000_000, 7_000_000)).toEqual({ lastNs: 1200, nextNs: 7_000_000 });
  });

  it("is a placed fault for as long as it may still strike, and never one that waits for its call", () => {
    expect(lensEvents([placed(1000, "insect")], 2000, null).lastNs).toBe(1000);
    expect(lensEvents([placed(1000, "insect")], 2_000_000, null).lastNs).toBeNull();
    expect(lensEvents([placed(1000, "relayStuck")], 2000, null).lastNs).toBeNull();
  });
});

describe("landmarks", () => {
  it("are in order of time and name each instant once", () => {
    expect(landmarksOf([zero(500), placed(100, "insect"), placed(500, "insect")])).toEqual([
      100, 500,
    ]);
  });

  it("leave out the early and late estimates of melting", () => {
    const melt = (edge: "nominal" | "early" | "late", atNs: number): BenchEvent => ({
      kind: "milestone",
      atNs,
      part: "tuningCapacitor",
      milestone: "meltOnset",
      edge,
    });
    expect(landmarksOf([melt("early", 1), melt("nominal", 2), melt("late", 3)])).toEqual([2]);
  });
});
