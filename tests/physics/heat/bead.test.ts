import { describe, expect, it } from "vitest";
import { beadBridges, beadDiameterM } from "../../../src/physics/heat/bead";
import { METALS } from "../../../src/physics/heat/metals";
import { expectWithin } from "../../support/expectWithin";

describe("bead of molten metal", () => {
  it("is a sphere of the liquid's density", () => {
    // 2377.2 kg/m3 (Assael et al. 2006, from memory): a 1 mm sphere weighs pi/6 x 2377.2e-9 kg = 1.24470 mg
    expectWithin(
      beadDiameterM(METALS.aluminium, 1.2447e-6),
      1e-3,
      1e-8,
      "mass printed to five digits",
    );
  });

  it("bridges a gap no wider than itself, and nothing when there is no melt", () => {
    expect(beadBridges(METALS.aluminium, 1.25e-6, 1e-3)).toBe(true);
    expect(beadBridges(METALS.aluminium, 1.2e-6, 1e-3)).toBe(false);
    expect(beadBridges(METALS.aluminium, 0, 0)).toBe(false);
  });
});
