/** A bead at work on the bench: dust in the gap takes nothing from what it has to cross. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { createBench } from "../../src/simulation/bench";

describe("a bead at an arc that dust has struck and nobody ends", () => {
  it("melts the edge and is far from across the clean gap where it would have crossed the dusty one", () => {
    const created = createBench(
      defaultProject([
        { atS: 0, do: "key", down: true },
        { atS: 0.01, do: "placeFault", fault: "dust", part: "tuningCapacitor", severity: 1 },
      ]),
      { protection: "inhibited" },
    );
    if (!created.ok) throw new Error(created.problem);
    const { bench } = created;
    // with the air that is left as the way across, the early edge was there 36 ms after the strike
    bench.advanceTo(90e6);
    expect(bench.events.some((e) => e.kind === "faultZero" && e.atNs < 30e6)).toBe(true);
    const marks = bench.events.flatMap((e) =>
      e.kind === "milestone" && e.edge === "early" ? [e.milestone] : [],
    );
    expect(marks).toContain("meltOnset");
    expect(marks).not.toContain("bridged");
  });
});
