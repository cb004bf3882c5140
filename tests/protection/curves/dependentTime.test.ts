import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  operateTimeS,
  resetTimeS,
  travelRatePerS,
} from "../../../src/protection/curves/dependentTime";
import { expectWithin } from "../../support/expectWithin";
import { MULTIPLES, OPERATE_S, RESET_S, RESET_SHARES } from "./publishedTimes";

const CURVES = ["iecA", "iecB", "iecC", "ieeeD", "ieeeE", "ieeeF"] as const;
const RESETTING = ["ieeeD", "ieeeE", "ieeeF"] as const;

describe("dependent-time curves of IEC 60255-151 and IEEE C37.112", () => {
  it.each(CURVES)("operate as printed, curve %s", (curve) => {
    const times = OPERATE_S[curve];
    times.forEach((seconds, i) => {
      const multiple = MULTIPLES[i] as number;
      expectWithin(
        operateTimeS(curve, multiple, 1),
        seconds,
        1e-4,
        "one unit in the last printed digit",
      );
      expectWithin(
        operateTimeS(curve, multiple, 0.3),
        0.3 * seconds,
        1e-4,
        "proportional to the time multiplier",
      );
    });
  });

  it.each(RESETTING)("reset from full travel as printed, curve %s", (curve) => {
    const times = RESET_S[curve];
    times.forEach((seconds, i) => {
      expectWithin(
        resetTimeS(curve, RESET_SHARES[i] as number, 1),
        seconds,
        1e-3,
        "allowed to 1e-3",
      );
    });
  });

  it("never operate at the pickup and never reset there", () => {
    for (const curve of CURVES) {
      expect(operateTimeS(curve, 1, 1)).toBe(Infinity);
      expect(resetTimeS(curve, 1, 1)).toBe(Infinity);
      expect(Math.abs(travelRatePerS(curve, 1, 1))).toBe(0);
    }
  });

  it("are held beyond 20 times the pickup", () => {
    for (const curve of CURVES) expect(operateTimeS(curve, 35, 1)).toBe(operateTimeS(curve, 20, 1));
  });

  it("reach full travel in the operate time, and undo it in the reset time", () => {
    for (const curve of CURVES) {
      expectWithin(
        travelRatePerS(curve, 3, 0.7) * operateTimeS(curve, 3, 0.7),
        1,
        1e-12,
        "rounding",
      );
      expectWithin(
        travelRatePerS(curve, 0.5, 0.7) * resetTimeS(curve, 0.5, 0.7),
        -1,
        1e-12,
        "rounding",
      );
    }
  });

  it("never take longer for more", () => {
    const multiple = fc.double({ min: 0, max: 30, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...CURVES), multiple, multiple, (curve, a, b) => {
        expect(travelRatePerS(curve, Math.max(a, b), 1)).toBeGreaterThanOrEqual(
          travelRatePerS(curve, Math.min(a, b), 1),
        );
      }),
      { seed: 31, numRuns: 300 },
    );
  });
});
