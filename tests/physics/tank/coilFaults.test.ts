import { describe, expect, it } from "vitest";
import { shortedTurnOhm } from "../../../src/physics/tank/coilFaults";
import { expectWithin } from "../../support/expectWithin";

describe("a shorted turn of a coil", () => {
  it("brings in the resistance of a coupled circuit of Q 30", () => {
    // Zr = (wM)^2/(Rt + jwLt), worked out directly: wL 40 ohm, wLt 2 ohm, Rt = 2/30 ohm, wM 2.83 ohm
    const wM = Math.sqrt(0.1 * 40 * 2);
    const rt = 2 / 30;
    const brought = (wM * wM * rt) / (rt * rt + 2 * 2);
    expectWithin(shortedTurnOhm(0.1, 40), brought, 0.002 * brought, "1/Qt^2 is 0.0011");
  });

  it("brings in none where no inductance is lost", () => {
    expect(shortedTurnOhm(0, 40)).toBe(0);
  });
});
