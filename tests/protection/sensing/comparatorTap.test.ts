import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { advanceTap, TAP_STATE_LENGTH } from "../../../src/protection/sensing/comparatorTap";
import { expectWithin } from "../../support/expectWithin";

const TAP = { timeConstantS: 20e-6, fullScaleA: 10 };

describe("the comparator's crossing", () => {
  it("comes T ln((I - y0)/(I - pickup)) after a step of current", () => {
    const state = new Float64Array(TAP_STATE_LENGTH);
    // 20 us ln(10/8) = 4462.87 ns by hand; the first whole ns past it
    expect(advanceTap(state, 0, TAP, 50_000, 10, 10, 2, 1.9)).toBe(4463);
    // 10 (1 - e^-2.5) = 9.17915
    expectWithin(state[0] as number, 9.17915, 1e-5, "digits written down");
  });

  it("needs about a tenth of a microsecond in a plate supply short", () => {
    const state = new Float64Array(TAP_STATE_LENGTH);
    state[0] = 0.83;
    // 20 us ln((204 - 0.83)/(204 - 2)) = 115.5 ns by hand
    expect(advanceTap(state, 0, TAP, 50_000, 204, 204, 2, 1.9)).toBe(116);
    expect(state[0]).toBe(10); // the clamp
  });

  it("does not come at 1.99 A, however long", () => {
    const state = new Float64Array(TAP_STATE_LENGTH);
    for (let i = 0; i < 100; i++)
      expect(advanceTap(state, 0, TAP, 50_000, 1.99, 1.99, 2, 1.9)).toBe(-1);
  });

  it("comes once, and again only after the current fell below its drop-off", () => {
    const state = new Float64Array(TAP_STATE_LENGTH);
    const at = (i0A: number, i1A: number) => advanceTap(state, 0, TAP, 50_000, i0A, i1A, 2, 1.9);
    expect(at(3, 3)).toBeGreaterThan(0);
    expect(at(3, 3)).toBe(-1);
    expect(at(1.95, 1.95)).toBe(-1); // 1.95 A + (2.97 - 1.95) e^-2.5 = 2.03 A: still over
    expect(at(1.95, 1.95)).toBe(-1);
    expect(at(3, 3)).toBe(-1); // never was below 1.9 A
    expect(at(1, 1)).toBe(-1);
    expect(at(3, 3)).toBeGreaterThan(0);
  });

  it("is found when the current rises and is gone again inside one segment", () => {
    const state = new Float64Array(TAP_STATE_LENGTH);
    // From 8 A down to -8 A in 50 us: the filter's summit is over 2 A, its end far below.
    const crossing = advanceTap(state, 0, TAP, 50_000, 8, -8, 2, 1.9);
    expect(state[0]).toBeLessThan(1.9);
    // y(t) = 8 - 3.2e5 (t - T) - 14.4 e^(-t/T) = 2 at t = 6.94 us: 8 + 6.4 - 2.2208 - 10.178 = 2.001 by hand
    expectWithin(crossing, 6940, 10, "the hand value has three digits");
    expect(advanceTap(state, 0, TAP, 50_000, 8, 8, 2, 1.9)).toBeGreaterThan(0); // it had re-armed
  });

  it("does not depend on where a segment is cut", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 6, noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        fc.integer({ min: 1, max: 49_999 }),
        (i0A, i1A, cutNs) => {
          const whole = new Float64Array(TAP_STATE_LENGTH);
          const cut = new Float64Array(TAP_STATE_LENGTH);
          const middleA = i0A + ((i1A - i0A) * cutNs) / 50_000;
          const one = advanceTap(whole, 0, TAP, 50_000, i0A, i1A, 2, 1.9);
          const first = advanceTap(cut, 0, TAP, cutNs, i0A, middleA, 2, 1.9);
          const second = advanceTap(cut, 0, TAP, 50_000 - cutNs, middleA, i1A, 2, 1.9);
          const two = first >= 0 ? first : second >= 0 ? cutNs + second : -1;
          if (one < 0 || two < 0) {
            // A crossing that only grazes the pickup may be lost to rounding to whole nanoseconds.
            if (one !== two) expectWithin(whole[0] as number, 2, 0.2, "a graze");
          } else expectWithin(two, one, 1, "rounding to whole nanoseconds");
        },
      ),
      { seed: 20, numRuns: 60 },
    );
  });
});
