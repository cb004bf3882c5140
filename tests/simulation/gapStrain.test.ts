/** How near a gap is to its strike, as the bench shows it: dust that gathers is seen coming. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { type Bench, createBench } from "../../src/simulation/bench";
import { gapStrains } from "../../src/simulation/gapStrain";
import { expectWithin } from "../support/expectWithin";

const MS = 1e6;

function strainAt(bench: Bench, ms: number): number {
  bench.advanceTo(ms * MS);
  const out = new Float64Array(4);
  gapStrains(bench.project, bench.logic, ms * MS, bench.buffer, out);
  return out[0] as number;
}

describe("the strain of a gap", () => {
  it("rises as dust gathers, and reaches 1 where the gap strikes", () => {
    const made = createBench(
      defaultProject([
        { atS: 0, do: "key", down: true },
        {
          atS: 0.06,
          do: "placeFault",
          fault: "dust",
          part: "tuningCapacitor",
          severity: 0.95,
          onset: { kind: "growing", overS: 0.1 },
        },
      ]),
      { protection: "inhibited" },
    );
    if (!made.ok) throw new Error(made.problem);
    const { bench } = made;
    // 2.42 kV of the 5.39 kV that 1.5 mm stand at 0.85 of form B: 0.448
    expectWithin(strainAt(bench, 60), 0.448, 0.005, "30 m of altitude and the humidity, 0.4 %");
    let last = 0;
    for (const ms of [70, 90, 110, 130, 140]) {
      const strain = strainAt(bench, ms);
      expect(strain).toBeGreaterThan(last);
      expect(strain).toBeLessThan(1);
      last = strain;
    }
    expect(last).toBeGreaterThan(0.9);
    expect(strainAt(bench, 160)).toBe(0); // struck: an arc has no strength to use up
    expect(bench.events.some((e) => e.kind === "strike")).toBe(true);
  });
});
