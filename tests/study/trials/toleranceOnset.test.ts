import { describe, expect, it } from "vitest";
import { METALS } from "../../../src/physics/heat/metals";
import {
  advancePlateEdge,
  createPlateEdge,
  initPlateEdge,
  onsetFraction,
  PLATE_EDGE_STATE_LENGTH,
} from "../../../src/physics/heat/plateEdge";
import type { ErosionEdge } from "../../../src/project/station";
import { type ArcHeat, OnsetSolver } from "../../../src/study/trials/toleranceOnset";
import { expectWithin } from "../../support/expectWithin";

const NOMINAL: ErosionEdge = { spotAPerM2: 2e6, electrodeShare: 0.4 };
const EARLY: ErosionEdge = { spotAPerM2: 9e6, electrodeShare: 0.43 };
const START_K = 305;
const THICKNESS_M = 0.8e-3;

function steady(watts: number, peakA: number): ArcHeat {
  return { firstW: watts, lastW: watts, firstPeakA: peakA, lastPeakA: peakA, timeConstantS: 6e-3 };
}

function edgeOf(estimate: ErosionEdge, thicknessM = THICKNESS_M) {
  return createPlateEdge({ thicknessM, metal: METALS.alloy5052, startK: START_K, ...estimate });
}

/** The edge as the bench heats it, sample by sample. */
function benchOnsetS(estimate: ErosionEdge, thicknessM: number, heat: ArcHeat): number {
  const edge = edgeOf(estimate, thicknessM);
  const state = new Float64Array(PLATE_EDGE_STATE_LENGTH);
  initPlateEdge(edge, state, 0);
  const dtS = 50e-6;
  for (let k = 0; k < 20_000; k++) {
    const before = onsetFraction(edge, state, 0);
    advancePlateEdge(edge, state, 0, dtS, heat.lastW, heat.lastPeakA);
    const after = onsetFraction(edge, state, 0);
    if (after >= 1) return dtS * (k + (1 - before) / (after - before));
  }
  throw new Error("no onset within a second");
}

describe("the onset in long steps", () => {
  const solver = new OnsetSolver();
  const onsetS = (estimate: ErosionEdge, heat: ArcHeat, ratio = 1, by = solver): number =>
    by.onsetS(edgeOf(estimate), ratio, START_K, estimate, heat, 10) ?? Number.NaN;

  it("is the bench's own, at the tuning capacitor's powers and the loading capacitor's", () => {
    for (const [estimate, heat] of [
      [NOMINAL, steady(171, 1.4)],
      [EARLY, steady(171, 1.4)],
      [NOMINAL, steady(561, 7)],
      [EARLY, steady(561, 7)],
    ] as const) {
      const expected = benchOnsetS(estimate, THICKNESS_M, heat);
      const tolerance = 0.004 * expected + 25e-6;
      const reason = "0.4 % of second-order steps that grow by a quarter, half a sample";
      expectWithin(onsetS(estimate, heat), expected, tolerance, reason);
    }
  });

  it("takes a thinner plate as the bench does", () => {
    const heat = steady(171, 1.4);
    const expected = benchOnsetS(NOMINAL, 0.95 * THICKNESS_M, heat);
    expectWithin(onsetS(NOMINAL, heat, 0.95), expected, 0.004 * expected, "0.4 %, as above");
  });

  it("comes four times nearer with steps that grow half as fast", () => {
    const heat = steady(171, 1.4);
    const finest = onsetS(NOMINAL, heat, 1, new OnsetSolver(1.01));
    const coarse = Math.abs(onsetS(NOMINAL, heat, 1, new OnsetSolver(1.4)) - finest);
    const fine = Math.abs(onsetS(NOMINAL, heat, 1, new OnsetSolver(1.2)) - finest);
    expect(coarse / fine).toBeGreaterThan(2.5); // 4 by the order, less what the first step leaves
  });

  it("lies between those of its first and its last power", () => {
    const falling = { ...steady(200, 1.6), lastW: 150, lastPeakA: 1.3, timeConstantS: 0.05 };
    const s = onsetS(NOMINAL, falling);
    expect(s).toBeGreaterThan(onsetS(NOMINAL, steady(200, 1.6)));
    expect(s).toBeLessThan(onsetS(NOMINAL, steady(150, 1.3)));
  });

  it("is none where nothing melts in the time", () => {
    const { onsetS: onset } = OnsetSolver.prototype;
    const edge = edgeOf(NOMINAL);
    expect(onset.call(solver, edge, 1, START_K, NOMINAL, steady(171, 1.4), 0.01)).toBeNull();
    expect(onset.call(solver, edge, 1, START_K, NOMINAL, steady(5, 0.1), 10)).toBeNull();
  });
});
