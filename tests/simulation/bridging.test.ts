/** What lies in a gap narrows what it withstands; a bead of metal has the clean gap to cross. */
import { describe, expect, it } from "vitest";
import { CLOCK_COUNT } from "../../src/physics/heat/clocks";
import { ARC_COUNT } from "../../src/physics/stage/layout";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { Damage } from "../../src/simulation/damage";
import { residualGapM } from "../../src/simulation/gaps";
import { initialLogic } from "../../src/simulation/logic";
import { EDGES_AT } from "../../src/simulation/worldLayout";
import { expectWithin } from "../support/expectWithin";

const PLACE = "tuningCapacitor";

/** Instants in ms at which 1 kW at the tuning capacitor has bridged these gaps, nominal edge. */
function bridgedMs(gapM: number): number {
  const damage = new Damage(DEFAULT_STATION, 1e-3);
  const f = new Float64Array(EDGES_AT + 4000);
  damage.init(f);
  const arcJ = new Float64Array(ARC_COUNT);
  const peakA = new Float64Array(ARC_COUNT);
  arcJ[0] = 1; // 1 kW over a millisecond
  peakA[0] = 10;
  const gapsM = new Float64Array(ARC_COUNT).fill(gapM);
  let atNs = Number.NaN;
  for (let ms = 1; ms <= 400 && Number.isNaN(atNs); ms++)
    damage.advance(
      f,
      ms * 1e6,
      1e-3,
      arcJ,
      peakA,
      new Float64Array(CLOCK_COUNT),
      1,
      gapsM,
      [false, false, false, false],
      [],
      (part, mark, edge, ns) => {
        if (part === PLACE && mark === "bridged" && edge === "nominal") atNs = ns;
      },
    );
  return atNs / 1e6;
}

describe("a gap with something in it", () => {
  it("has the air an insect leaves of it: a tenth at full severity", () => {
    const project = defaultProject();
    const logic = initialLogic(project, { swr: 1, phaseRad: 0 });
    const clean = residualGapM(project.station, logic, PLACE, 0);
    const insect = {
      ...logic,
      faults: [
        {
          fault: "insect",
          part: PLACE,
          severity: 1,
          onset: { kind: "sudden" },
          seed: 1,
          placedNs: 0,
          began: false,
        } as const,
      ],
    };
    // the insect reaches across 0.9 of the gap: model note of gapState
    expectWithin(residualGapM(project.station, insect, PLACE, 0) / clean, 0.1, 1e-12, "rounding");
    expect(residualGapM(project.station, insect, "loadingCapacitor", 0)).toBeGreaterThan(0);
  });

  it("is bridged sooner the less air is left", () => {
    expect(bridgedMs(0.2e-3)).toBeLessThan(bridgedMs(0.8e-3));
  });
});
