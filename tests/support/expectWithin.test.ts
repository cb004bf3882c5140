import { describe, expect, it } from "vitest";
import { expectWithin } from "./expectWithin";

describe("expectWithin", () => {
  it("passes on and inside the tolerance, on either side", () => {
    expectWithin(1.5, 1, 0.5, "edge, exactly representable");
    expectWithin(0.5, 1, 0.5, "edge, exactly representable");
    expectWithin(1, 1, 0, "equal numbers need no room");
  });

  it("fails outside the tolerance and says why that tolerance", () => {
    expect(() => expectWithin(1.51, 1, 0.5, "printed digit")).toThrow("printed digit");
    expect(() => expectWithin(0.49, 1, 0.5, "printed digit")).toThrow("expected 0.49");
  });

  it("fails on a value that is not a number or not finite", () => {
    expect(() => expectWithin(Number.NaN, 1, 0.5, "any")).toThrow("NaN");
    expect(() => expectWithin(Number.POSITIVE_INFINITY, 1, 0.5, "any")).toThrow("Infinity");
  });

  it("refuses a tolerance that is no finite non-negative number, and an empty reason", () => {
    for (const tolerance of [Number.NaN, Number.POSITIVE_INFINITY, -1])
      expect(() => expectWithin(1, 1, tolerance, "any")).toThrow("invalid tolerance");
    expect(() => expectWithin(1, 1, 0.1, "  ")).toThrow("needs a reason");
    expect(() => expectWithin(1, Number.NaN, 0.1, "any")).toThrow("invalid expected value");
  });
});
