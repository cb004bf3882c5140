/** A delay that is rounded up is told to whoever runs the project: in the result, and when a bench is opened. */
import { describe, expect, it } from "vitest";
import { simulationJson } from "../../src/formats/resultJson";
import { defaultProject } from "../../src/project/defaults";
import type { Project } from "../../src/project/types";
import { EngineHost } from "../../src/shells/bench/engineHost";
import type { FromEngine } from "../../src/shells/bench/protocol";
import { simulate } from "../../src/simulation/simulate";

/** 2.5 ms at a scan of 1 ms are three scans. */
const WORDS = /^Low gain: confirmation of 2\.50.ms is rounded up to 3\.00.ms$/;

function withDelay(delayS: number): Project {
  const project = { ...defaultProject([{ atS: 0, do: "key", down: true }]), endS: 0.001 };
  const monitors = project.monitors.map((m) => {
    if (m.id !== "lowGain") return m;
    const criteria = m.criteria.map((c) => ({
      ...c,
      timing: { kind: "definite", delayS } as const,
    }));
    return { ...m, criteria };
  });
  return { ...project, monitors };
}

describe("a delay that is no whole number of scans", () => {
  it("is in the result of a simulation, in words", () => {
    const run = simulate(withDelay(2.5e-3));
    if (!run.ok) throw new Error(run.problem);
    const { notices } = simulationJson(run.simulation);
    expect(notices).toHaveLength(1);
    expect(notices[0]).toMatch(WORDS);
  });

  it("is there too where a scenario has set it, once", () => {
    const run = simulate({
      ...withDelay(2e-3),
      scenario: [
        { atS: 0, do: "configureMonitor", monitor: "lowGain", change: { delayS: 2.5e-3 } },
      ],
    });
    if (!run.ok) throw new Error(run.problem);
    expect(run.simulation.notices).toHaveLength(1);
    expect(run.simulation.notices[0]).toMatch(WORDS);
  });

  it("comes with the opened bench; a delay of whole scans brings no word", () => {
    const said: FromEngine[] = [];
    const host = new EngineHost((message) => said.push(message));
    host.receive({ kind: "open", project: withDelay(2.5e-3), playToNs: 0 });
    host.receive({ kind: "open", project: withDelay(3e-3), playToNs: 0 });
    const notices = said.flatMap((m) => (m.kind === "opened" && m.ok ? [m.notices] : []));
    expect(notices[0]?.[0]).toMatch(WORDS);
    expect(notices[1]).toEqual([]);
  });
});
