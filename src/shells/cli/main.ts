/** Command line entry: ties the commands to the simulation, the file system and the process. */
import { diagnosisJson } from "../../formats/diagnosisJson";
import { pointJson, simulationJson } from "../../formats/resultJson";
import { createBench } from "../../simulation/bench";
import { operatingPoint } from "../../simulation/operatingPoint";
import { simulate } from "../../simulation/simulate";
import { FAULT_CASES, faultTable } from "../../study/faultTable";
import { signatureLibrary } from "../../study/signatures";
import { runCommand } from "./commands";
import type { Engine, Surroundings } from "./engine";
import { readBounded } from "./readBounded";

const around: Surroundings = {
  read: readBounded,
  out: (text) => process.stdout.write(text),
  error: (text) => process.stderr.write(text),
};

const engine: Engine = {
  operatingPoint: (station) => {
    const solved = operatingPoint(station);
    return solved.ok ? { ok: true, point: pointJson(solved.point) } : solved;
  },
  diagnose: (project) => {
    const created = createBench(project);
    if (!created.ok) return { ok: false, kind: "design", problem: created.problem };
    const { bench } = created;
    bench.advanceTo(Math.round(project.endS * 1e9));
    const made = signatureLibrary(project);
    if (!made.ok) return { ok: false, kind: "design", problem: made.problem };
    return { ok: true, result: diagnosisJson(made.library, project, bench.logic.memory) };
  },
  faults: (project) => {
    const table = faultTable(project);
    if (!table.ok) return { ok: false, kind: "design", problem: table.problem };
    return { ok: true, result: { faults: FAULT_CASES.map(table.row) } };
  },
  runScenario: (project) => {
    const run = simulate(project);
    if (!run.ok) return { ok: false, kind: "design", problem: run.problem };
    const { notices } = run.simulation;
    return { ok: true, result: simulationJson(run.simulation), notices };
  },
};

// Whoever reads our output may stop early, as `head` does; that is no fault.
process.stdout.on("error", () => process.exit());

process.exitCode = runCommand(process.argv.slice(2), engine, around);
