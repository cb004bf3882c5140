/** Commands that would change nothing say so. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { runCommand } from "../../src/simulation/commands";
import { initialLogic, type Logic } from "../../src/simulation/logic";

const PROJECT = defaultProject();
const START = initialLogic(PROJECT, { swr: 1, phaseRad: 0 });
const INSECT = { fault: "insect", part: "tuningCapacitor" } as const;

function place(logic: Logic, severity: number) {
  return runCommand(PROJECT, logic, { do: "placeFault", ...INSECT, severity }, 1e6);
}

describe("a command that would change nothing", () => {
  it("is refused where the fault is there already, and taken where its severity differs", () => {
    const first = place(START, 0.8);
    expect(first.refused).toBe("");
    const again = place(first.logic, 0.8);
    expect(again.refused).toContain("there already");
    expect(again.logic).toBe(first.logic);
    expect(place(first.logic, 0.9).refused).toBe("");
  });

  it("is refused for an insect while the arc in its gap still burns", () => {
    const burning = { ...START, arcSinceNs: [5e5, -1, -1, -1] };
    expect(place(burning, 0.8).refused).toContain("an arc burns");
  });

  it("is refused where the fault to remove is not there", () => {
    const gone = runCommand(PROJECT, START, { do: "removeFault", ...INSECT }, 1e6);
    expect(gone.refused).toContain("not there");
    const there = place(START, 0.8).logic;
    expect(runCommand(PROJECT, there, { do: "removeFault", ...INSECT }, 2e6).refused).toBe("");
  });
});
