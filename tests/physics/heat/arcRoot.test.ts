import { describe, expect, it } from "vitest";
import { spotRadiusM } from "../../../src/physics/heat/arcRoot";
import { expectWithin } from "../../support/expectWithin";

describe("root of the arc on the metal", () => {
  it("widens with the root of the current", () => {
    // 1.4 A over 2 A/mm2: 0.7 mm2, radius sqrt(0.7/pi) mm = 0.47203 mm
    expectWithin(spotRadiusM(1.4, 2e6), 0.47203e-3, 1e-8, "one unit in the last printed digit");
    expectWithin(spotRadiusM(5.6, 2e6) / spotRadiusM(1.4, 2e6), 2, 1e-12, "rounding");
    expect(spotRadiusM(-1, 2e6)).toBe(0);
  });
});
