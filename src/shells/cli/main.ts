/** Command line entry: ties the commands to the simulation, the file system and the process. */
import { readFileSync } from "node:fs";
import { simulationJson } from "../../formats/resultJson";
import { operatingPoint } from "../../simulation/operatingPoint";
import { simulate } from "../../simulation/simulate";
import { runCommand } from "./commands";
import type { Engine, Surroundings } from "./engine";

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file",
  EISDIR: "this is a folder, not a file",
  EACCES: "this file may not be read",
  ENOTDIR: "a part of the path is a file, not a folder",
};

const around: Surroundings = {
  read: (path) => {
    try {
      return { ok: true, bytes: readFileSync(path === "-" ? 0 : path) };
    } catch (problem) {
      const code = (problem as NodeJS.ErrnoException).code ?? "unknown";
      return { ok: false, reason: REASONS[code] ?? `it cannot be read (${code})` };
    }
  },
  out: (text) => process.stdout.write(text),
  error: (text) => process.stderr.write(text),
};

const engine: Engine = {
  operatingPoint,
  runScenario: (project) => {
    const run = simulate(project);
    if (!run.ok) return { ok: false, kind: "design", problem: run.problem };
    return { ok: true, result: simulationJson(run.simulation) };
  },
};

// Whoever reads our output may stop early, as `head` does; that is no fault.
process.stdout.on("error", () => process.exit());

process.exitCode = runCommand(process.argv.slice(2), engine, around);
