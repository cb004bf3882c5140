import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import type { CoverageOutcome, CoverageSummary } from "../../../src/study/trials/coverage";
import { planTrial } from "../../../src/study/trials/planTrial";
import type { Plain, Trial } from "../../../src/study/trials/trial";

function planned(options: {
  readonly [name: string]: Plain;
}): Trial<CoverageOutcome, CoverageSummary> {
  const plan = planTrial({ kind: "coverage", project: defaultProject(), seed: 1, options });
  if (!plan.ok) throw new Error(plan.problem);
  return plan.trial as unknown as Trial<CoverageOutcome, CoverageSummary>;
}

const ONE = { bands: ["20 m"], drivesW: [62], swr: 1 };

describe("the coverage of one condition", () => {
  it("has a kind and a reason in every cell", () => {
    const trial = planned({ ...ONE, faults: ["insect", "sensorOpen"] });
    const cells = Array.from({ length: 4 }, (_, i) => trial.run(i));
    // an insect between plates at 389 V of RF leaves air enough: only the tuning capacitor strikes
    expect(cells.map((c) => c.kind)).toEqual(["covered", "noStrike", "noStrike", "latent"]);
    for (const cell of cells) expect(cell.reason).not.toBe("");
    expect(cells[0]?.outcome.firstTrip?.id).toBe("lowGain");
    const summary = trial.summarise([cells[0] ?? null, null]);
    expect(summary.done).toBe(1);
    expect(summary.rows.map((r) => [r.name, r.worstIndex])).toEqual([["Insect in the gap", 0]]);
  });
});
