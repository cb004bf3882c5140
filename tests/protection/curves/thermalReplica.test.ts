import { describe, expect, it } from "vitest";
import {
  stepThermalImage,
  thermalOperateTimeS,
} from "../../../src/protection/curves/thermalReplica";
import { expectWithin } from "../../support/expectWithin";
import { THERMAL_10_S } from "./publishedTimes";

describe("thermal replica of IEC 60255-149", () => {
  it.each(THERMAL_10_S)(
    "operates as printed at %d times the operating current",
    (current, coldS, hotS) => {
      expectWithin(
        thermalOperateTimeS(10, current * current, 0),
        coldS,
        1e-4,
        "one unit in the last printed digit",
      );
      expectWithin(
        thermalOperateTimeS(10, current * current, 0.64),
        hotS,
        1e-4,
        "one unit in the last printed digit",
      );
    },
  );

  it("never operates at its operating level, and at once when already there", () => {
    expect(thermalOperateTimeS(10, 1, 0)).toBe(Infinity);
    expect(thermalOperateTimeS(10, 0.2, 1)).toBe(0);
  });

  it("stepped, operates when the closed form says, one step more or less", () => {
    let image = 0;
    let steps = 0;
    while (image < 1) {
      image = stepThermalImage(image, 4, 10, 1e-3);
      steps++;
    }
    expectWithin(
      steps * 1e-3,
      2.8768,
      2e-3,
      "implicit Euler lags by half a step per step of slope, and rounding up to a step",
    );
  });

  it("stepped, settles at the heating whatever the step", () => {
    let image = 0;
    for (let i = 0; i < 200; i++) image = stepThermalImage(image, 0.7, 10, 5);
    expectWithin(image, 0.7, 1e-12, "rounding");
  });
});
