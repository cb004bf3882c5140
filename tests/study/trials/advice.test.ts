/** Advice from sweeps whose figures are set by hand: what is chosen, what is said not to be reached, and that nothing is changed. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import { type AdviceInput, advise } from "../../../src/study/trials/advice";
import type { WindowPoint, WindowSummary } from "../../../src/study/trials/windowSummary";
import { expectWithin } from "../../support/expectWithin";

interface Row {
  readonly x: number;
  readonly y: number;
  readonly clearingS: number;
  readonly margin: number | null;
  readonly marginEarly: number | null;
  readonly perHour: number;
  readonly missed?: number;
}

function sweep(rows: readonly Row[], high = 0.05): WindowSummary {
  const points = rows.map(
    (r): WindowPoint => ({
      x: r.x,
      y: r.y,
      onFront: false,
      falseTrips: { count: 0, perHour: r.perHour, low: 0, high: Math.max(high, r.perHour) },
      faults: [
        {
          fault: "arc@loadingCapacitor",
          signal: "carrier",
          runs: 4,
          missed: r.missed ?? 0,
          operateMedianS: r.clearingS,
          operate95S: r.clearingS,
          clearing95S: r.clearingS,
          margin: r.margin,
          marginEarly: r.marginEarly,
        },
      ],
    }),
  );
  return {
    x: { path: "lowGain.pickup", values: [-2, -3] },
    y: { path: "lowGain.confirmation", values: [0, 2e-3] },
    hours: 100,
    faultRuns: 4,
    notRun: 0,
    problem: "",
    points,
    front: [],
    contour: { operateS: [], margin: [], falseTripsPerHour: [] },
  };
}

const FAST = { x: -2, y: 0, clearingS: 1e-3, margin: 16, marginEarly: 2.6, perHour: 4 };
const SLOW = { x: -2, y: 2e-3, clearingS: 3e-3, margin: 5.3, marginEarly: 0.9, perHour: 0 };
const SLOWER = { x: -3, y: 2e-3, clearingS: 4e-3, margin: 4, marginEarly: 0.65, perHour: 0 };
const MISSES = { ...SLOWER, x: -9, missed: 1, perHour: 0 };

function given(more: Partial<AdviceInput>): AdviceInput {
  return {
    project: defaultProject([]),
    coverage: null,
    sweeps: [sweep([FAST, SLOW, SLOWER, MISSES])],
    requiredMargin: 3,
    acceptedPerHour: 0.1,
    edge: "nominal",
    ...more,
  };
}

const proposed = (input: AdviceInput): readonly number[] =>
  advise(input).proposals.map((p) => p.proposed);

describe("advice", () => {
  it("takes the most patient point that keeps the margin and the accepted rate", () => {
    const advice = advise(given({}));
    expect(advice.proposals).toEqual([
      { path: "lowGain.pickup", now: -2, proposed: -3 },
      { path: "lowGain.confirmation", now: 2e-3, proposed: 2e-3 },
    ]);
    expect(advice.optimised).toEqual([
      expect.stringMatching(
        /let the monitor wait as long as it may: \d points? keeps? a margin of 3\.0× by the nominal/,
      ),
    ]);
    // chosen by the nominal onset: what the early edge leaves is said
    expect(advice.unreached).toEqual([
      expect.stringMatching(
        /^arc@loadingCapacitor on a carrier is left a margin of 0\.\d+× by the early edge/,
      ),
      "no coverage has been run, so faults beyond the sweep are not judged",
    ]);
    expect(proposed(given({ requiredMargin: 5 }))).toEqual([-2, 2e-3]);
    expect(proposed(given({ acceptedPerHour: 5, requiredMargin: 10 }))).toEqual([-2, 0]);
  });

  it("says what margin is not reached, and with which fault", () => {
    const advice = advise(given({ edge: "early" }));
    expect(advice.proposals.map((p) => p.proposed)).toEqual([-2, 2e-3]);
    expect(advice.unreached[0]).toMatch(
      /not reached within.*the best point has 0\.9.*, with arc@loadingCapacitor/,
    );
  });

  it("says what rate is not reached, and what the hours do not prove", () => {
    const loud = sweep([FAST, { ...SLOW, perHour: 1 }]);
    expect(advise(given({ sweeps: [loud] })).unreached[0]).toMatch(
      /no point .* 0\.1 .*: the best one has 1\.0 an hour/,
    );
    const close = sweep([FAST, { ...SLOW, perHour: 0.1026 }]);
    expect(advise(given({ sweeps: [close] })).unreached[0]).toMatch(/has 0\.103 an hour/);
    // what the hours do not prove is a figure of its own, said once
    const short = advise(given({ sweeps: [sweep([SLOW], 3.689)] }));
    expect(short.unproved).toHaveLength(1);
    expect(short.unreached.join()).not.toMatch(/proved|an hour/);
  });

  it("says how much use would prove a rate, and nothing where it is proved", () => {
    expect(advise(given({})).unproved).toEqual([]);
    const short = given({ sweeps: [sweep([SLOW], 3.689)] });
    const [rate] = advise(short).unproved;
    expect(rate).toMatchObject({ hours: 100, count: 0, perHour: 0, high: 3.689 });
    // the exact upper end at 95 % of nothing counted: -ln(0.025) = 3.68888
    expectWithin(rate?.provedByHours ?? 0, 36.8888, 1e-4, "one unit in the last printed digit");
    expect(advise({ ...short, acceptedPerHour: 0 }).unproved[0]?.provedByHours).toBeNull();
    const [loud] = advise(given({ sweeps: [sweep([FAST])] })).unproved;
    expect(loud).toMatchObject({ perHour: 4 });
  });

  it("proposes nothing for a monitor that is off, and changes nothing by itself", () => {
    const input = given({});
    const before = JSON.stringify(input.project);
    expect(advise(input).application.changes.length).toBe(2);
    expect(JSON.stringify(input.project)).toBe(before);
    const { project } = input;
    const monitors = project.monitors.map((m) =>
      m.id === "lowGain" ? { ...m, role: "off" as const } : m,
    );
    const off = advise(given({ project: { ...project, monitors } }));
    expect(off.proposals).toEqual([]);
    expect(off.unreached[0]).toMatch(/off/);
  });
});
