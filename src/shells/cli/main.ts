/** Command line entry: ties the commands to the simulation, the file system and the process. */
import { pointJson, simulationJson } from "../../formats/resultJson";
import { operatingPoint } from "../../simulation/operatingPoint";
import { simulate } from "../../simulation/simulate";
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
