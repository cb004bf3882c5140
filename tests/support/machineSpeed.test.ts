import { describe, expect, it } from "vitest";
import { budgetVerdict } from "./machineSpeed.mjs";

/** A quiet run of the machine the budget was set on: a probe takes 1 s there. */
const quiet = { budgetS: 240, tookS: 200, probesS: [1, 1, 1], busyAtStart: false, stolenShare: 0 };

describe("the budget of a run of all checks", () => {
  it("is kept by a run within it, and broken by a longer one on a free machine", () => {
    expect(budgetVerdict(quiet).failed).toBe(false);
    expect(budgetVerdict({ ...quiet, tookS: 239.9 }).failed).toBe(false);
    const over = budgetVerdict({ ...quiet, tookS: 240.1 });
    expect(over.failed).toBe(true);
    expect(over.words).toContain("over budget");
  });

  it("grows with the slowest probe, and shrinks with none", () => {
    // half as fast for a while: twice the time
    const slow = { ...quiet, probesS: [1, 2, 1.5] };
    expect(budgetVerdict({ ...slow, tookS: 470 }).failed).toBe(false);
    expect(budgetVerdict({ ...slow, tookS: 490 }).failed).toBe(true);
    expect(budgetVerdict({ ...quiet, probesS: [0.5, 0.5, 0.5], tookS: 230 }).failed).toBe(false);
  });

  it("has no verdict where others were at work or the host took time away, and says so", () => {
    for (const change of [{ busyAtStart: true }, { stolenShare: 0.1 }]) {
      const verdict = budgetVerdict({ ...quiet, tookS: 900, ...change });
      expect(verdict.failed).toBe(false);
      expect(verdict.words).toMatch(/over budget.*others/);
    }
  });
});
