import { describe, expect, it } from "vitest";
import {
  confirmationScans,
  definiteOperateTimeS,
} from "../../../src/protection/curves/definiteTime";

describe("definite time", () => {
  it("takes the same time however far past the pickup, and never at it", () => {
    expect(definiteOperateTimeS(1.01, 0.05)).toBe(0.05);
    expect(definiteOperateTimeS(30, 0.05)).toBe(0.05);
    expect(definiteOperateTimeS(1, 0.05)).toBe(Infinity);
  });

  it("counts two more scans for 2 ms at a scan of 1 ms", () => {
    expect(confirmationScans(2e-3, 1e-3)).toBe(2);
    expect(confirmationScans(0, 1e-3)).toBe(0);
  });

  it("rounds a broken delay up to whole scans, but not a whole one that binary fractions blur", () => {
    expect(confirmationScans(2.1e-3, 1e-3)).toBe(3);
    expect(confirmationScans(0.3, 0.1)).toBe(3); // 0.3/0.1 is 2.9999999999999996 in binary
    expect(confirmationScans(0.2e-3, 50e-6)).toBe(4);
  });
});
