import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  dustyGapM,
  insectResidualGapM,
  recoveredFraction,
} from "../../../src/physics/airgap/gapState";
import { expectWithin } from "../../support/expectWithin";

describe("a narrowed gap", () => {
  it("keeps a tenth of its air under the worst insect, all of it without", () => {
    // estimate, stated in the module
    expectWithin(insectResidualGapM(1.5e-3, 1), 0.15e-3, 1e-12, "rounding");
    expectWithin(insectResidualGapM(1.5e-3, 0), 1.5e-3, 0, "exact");
    expectWithin(insectResidualGapM(1.5e-3, 7), 0.15e-3, 1e-12, "severity ends at 1; rounding");
  });

  it("loses less to dust than to an insect", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1, noNaN: true }), (severity) => {
        expect(dustyGapM(2e-3, severity)).toBeGreaterThan(insectResidualGapM(2e-3, severity));
      }),
      { seed: 2 },
    );
    expect(dustyGapM(2e-3, -1)).toBe(2e-3);
  });
});

describe("recovery after an arc", () => {
  it("has half its strength after 0.5 ms and all of it after 50 ms", () => {
    // common practice for low-current arcs in millimetre gaps: half in 0.1 to 1 ms; estimate
    expectWithin(recoveredFraction(0.5e-3), 0.5, 1e-12, "rounding");
    expectWithin(recoveredFraction(50e-3), 1, 0, "exact");
    expectWithin(recoveredFraction(0), 0, 0, "exact");
    // 1 - 0.5/e one time constant after the half
    expectWithin(recoveredFraction(1.9e-3), 1 - 0.5 / Math.E, 1e-12, "rounding");
  });

  it("never falls with time", () => {
    const time = fc.double({ min: 0, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(time, time, (a, b) => {
        expect(recoveredFraction(Math.max(a, b))).toBeGreaterThanOrEqual(
          recoveredFraction(Math.min(a, b)),
        );
      }),
      { seed: 8, numRuns: 500 },
    );
  });
});
