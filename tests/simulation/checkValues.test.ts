import { describe, expect, it } from "vitest";
import { DEFAULT_STATION } from "../../src/project/defaults";
import type { Station } from "../../src/project/station";
import { operatingPoint, powerGainDb } from "../../src/simulation/operatingPoint";
import { expectWithin } from "../support/expectWithin";

function solved(station: Station) {
  const result = operatingPoint(station);
  if (!result.ok) throw new Error(result.kind);
  return result.point;
}

describe("power delivered by a tank whose plate swing an arc clamps", () => {
  it("falls with the square of the swing: 18.46 dB from 2094 V to 250 V", () => {
    // (250/2094)^2 = 0.01425, -18.46 dB: a linear network, circuit theory
    expectWithin(powerGainDb(250 * 250, 2094 * 2094), -18.46, 0.005, "printed to 0.01 dB");
    const before = solved(DEFAULT_STATION);
    for (const maintainingV of [150, 250, 400]) {
      const arc = { place: "tuningCapacitor", maintainingV } as const;
      const burning = solved({ ...DEFAULT_STATION, arc });
      const swing = burning.plateRfPeakV / before.plateRfPeakV;
      expectWithin(
        powerGainDb(burning.outputW, before.outputW),
        powerGainDb(swing * swing, 1),
        0.05,
        "0.05 dB asked; both figures are of the fundamental, the network is linear",
      );
    }
  });
});

describe("the legal limits of 47 CFR 97", () => {
  it("are 1500 W of output (97.313) and 15 dB of gain (97.317), which is 47.43 W of drive", () => {
    expectWithin(powerGainDb(1500, 47.43), 15, 0.001, "drive printed to 0.01 W");
    const point = solved(DEFAULT_STATION);
    expect(point.outputW).toBeLessThan(1500);
    expect(point.gainDb).toBeLessThan(15);
    // Drive is the exciter's available power, by definition, and the station's is 62 W.
    expectWithin(point.driveW, 62, 1e-9, "rounding");
  });
});
