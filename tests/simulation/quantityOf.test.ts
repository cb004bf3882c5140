/** What a perfect sensor would have read, by the protection's own definitions. */
import { describe, expect, it } from "vitest";
import { CH, CHANNEL_COUNT } from "../../src/simulation/channels";
import { quantityOf } from "../../src/simulation/quantityOf";
import { expectWithin } from "../support/expectWithin";

describe("a quantity at a point of a track", () => {
  const row = new Float64Array(CHANNEL_COUNT);
  row[CH.driveW] = 50;
  row[CH.forwardW] = 500;

  it("is the distance from the expected gain where a deviation is asked for", () => {
    // 500 W from 50 W is 10 dB; 12.5 dB expected leave 2.5 dB missing
    const deviationDb = quantityOf("gainDeviationDb", row, 0, () => 12.5);
    expectWithin(deviationDb ?? Number.NaN, -2.5, 1e-9, "rounding");
    const gainDb = quantityOf("forwardGainDb", row, 0);
    expectWithin(gainDb ?? Number.NaN, 10, 1e-9, "rounding");
  });

  it("is no reading without a table of expected gain, or under the floors", () => {
    expect(quantityOf("gainDeviationDb", row, 0)).toBeNull();
    const still = new Float64Array(CHANNEL_COUNT);
    expect(quantityOf("forwardGainDb", still, 0)).toBeNull();
    expect(quantityOf("efficiency", still, 0)).toBeNull();
  });
});
