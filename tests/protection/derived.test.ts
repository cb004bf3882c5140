import { describe, expect, it } from "vitest";
import {
  createReader,
  efficiency,
  forwardGainDb,
  gridPlateRatio,
  inputReflectedRatio,
  VSWR_CAP,
  vswr,
} from "../../src/protection/derived";
import { SENSOR_NAMES } from "../../src/protection/sensing/sensing";
import { expectWithin } from "../support/expectWithin";

const row = Float64Array.from([62, 1, 1453, 40, 0.82, 0.065, 3020, 2420, 340, 0]);
const read = (quantity: Parameters<typeof createReader>[0], expectedDb = 13.7) =>
  createReader(
    quantity,
    (sensor) => SENSOR_NAMES.indexOf(sensor),
    () => expectedDb,
  )(row);

describe("quantities worked out from readings", () => {
  it("forward gain is the ratio of two couplers in dB", () => {
    // log10 1453 = 3.1622656, log10 62 = 1.7923917 (seven-figure table): 13.698739 dB
    expectWithin(forwardGainDb(62, 1453), 13.698739, 1e-6, "last figure of the table");
    expectWithin(read("forwardGainDb"), 13.698739, 1e-6, "digits written down");
  });

  it("gain deviation is negative where gain is missing", () => {
    expectWithin(
      read("gainDeviationDb", 15.5),
      -1.801261,
      1e-6,
      "13.698739 - 15.5; last figure of the table",
    );
  });

  it("no drive gives no gain reading, and a dead output gives a very low one", () => {
    expect(forwardGainDb(0, 1453)).toBeNaN();
    expect(forwardGainDb(Number.NaN, 1453)).toBeNaN();
    expect(forwardGainDb(62, 0)).toBeLessThan(-20);
  });

  it("VSWR of a quarter of the power coming back is 3", () => {
    expectWithin(vswr(400, 100), 3, 1e-12, "|gamma| = 1/2 gives (1 + 1/2)/(1 - 1/2)");
    expect(vswr(400, 0)).toBe(1);
  });

  it("VSWR is capped in total reflection and has no reading without forward power", () => {
    expect(vswr(400, 400)).toBe(VSWR_CAP);
    expect(vswr(400, 500)).toBe(VSWR_CAP);
    expect(vswr(1, 1)).toBeNaN();
  });

  it("net output, plate dissipation and efficiency balance the plate input", () => {
    // 1453 - 40 = 1413 W; 3020 V 0.82 A = 2476.4 W; 2476.4 - 1413 = 1063.4 W; 1413/2476.4 = 0.570586
    expectWithin(read("netOutputW"), 1413, 1e-9, "exact sum");
    expectWithin(read("plateDissipationW"), 1063.4, 1e-9, "exact sum");
    expectWithin(read("efficiency"), 0.570586, 1e-6, "digits written down");
    expect(efficiency(0, 0)).toBeNaN();
  });

  it("two shares are plain ratios, and no reading under their floors", () => {
    // 0.065/0.82 = 0.0792683; 1/62 = 0.0161290
    expectWithin(read("gridPlateRatio"), 0.0792683, 1e-7, "digits written down");
    expectWithin(read("inputReflectedRatio"), 0.016129, 1e-6, "digits written down");
    expect(gridPlateRatio(0.05, 0.07)).toBeNaN();
    expect(inputReflectedRatio(1.9, 1)).toBeNaN();
  });
});
