/**
 * The commands of the command line.
 *
 *   quietarc operating-point FILE    settled state of the station
 *   quietarc simulate FILE           the scenario from start to end
 *   quietarc diagnose FILE           the same, and likely causes of its trips
 *   quietarc faults FILE             every fault of the list: what catches it, in what time, and what nothing catches
 *
 * One JSON object on standard output, everything else on standard error. Exit status 0: done; 1: the solver did not
 * converge, or a fault of the program; 2: bad input.
 */
import { fieldTable } from "../../formats/fieldTable";
import type { Project } from "../../project/types";
import type { Engine, Shortfall, Surroundings } from "./engine";
import { DONE, FAILED, REFUSED } from "./exitStatus";
import { labelOf, projectFrom } from "./projectInput";
import { TRIAL_COMMANDS } from "./trialCommands";

export const USAGE = `usage: quietarc COMMAND FILE [OPTIONS]

  operating-point FILE   solve the settled state of the station at full drive
  simulate FILE          play the scenario from start to end
  diagnose FILE          play the scenario, and rank likely causes of each trip
  faults FILE            place every fault in turn, and say what catches it; minutes
  trial FILE             run a trial: --kind coverage, backup, tolerance, nuisance or
                         window; --runs N cases of tolerance or nuisance, --seed S,
                         --options JSON or a file with it, --workers W (as many as
                         cores), --part K/N the K-th of N shares, --out FILE results
                         as JSON Lines (replaces earlier results, refuses a file that
                         holds anything else), --resume goes on with a FILE that was
                         stopped
  merge FILE...          join the shares of one run into --out FILE
  require FILE           whether every fault is ended with --margin M (3), and false trips
                         stay under --nuisance-per-hour R; prints what fails. A band
                         or use that cannot be run fails too, but for --accept-left-out
  fields                 print the table of the project file's fields
  help                   print this text

FILE is a project file; - reads standard input. The result is one JSON object on
standard output, values in SI units; problems go to standard error.
Exit status: 0 done; 1 no convergence, a requirement that is not met, a failed case or
an internal fault; 2 bad input.
`;

type Command = (project: Project, engine: Engine, label: string) => CommandResult;
type CommandResult =
  | { readonly ok: true; readonly value: object; readonly notices: readonly string[] }
  | { readonly ok: false; readonly status: number; readonly complaint: string };

const COMMANDS: Readonly<Record<string, Command>> = {
  "operating-point": solvePoint,
  simulate,
  diagnose,
  faults,
};

/** Runs one command; returns the exit status. Never throws. */
export function runCommand(words: readonly string[], engine: Engine, around: Surroundings): number {
  const [name, ...rest] = words;
  if (name === undefined) {
    around.error(USAGE);
    return REFUSED;
  }
  if (name === "help" || name === "--help" || name === "-h") {
    around.out(USAGE);
    return DONE;
  }
  const refuse = (complaint: string): number => {
    around.error(`${complaint}\n`);
    return REFUSED;
  };
  if (name === "fields") {
    const surplus = rest[0];
    if (surplus !== undefined) {
      return refuse(
        `quietarc: surplusWord: "${surplus}" follows fields, which reads no file. Leave it out.`,
      );
    }
    around.out(fieldTable());
    return DONE;
  }
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (command === undefined) {
    const known = [...Object.keys(COMMANDS), ...TRIAL_COMMANDS, "fields"].join(", ");
    if (name.startsWith("-")) {
      return refuse(
        `quietarc: unknownOption: "${name}" is no option. Begin with one of ${known}; "quietarc help" explains them.`,
      );
    }
    return refuse(
      `quietarc: unknownCommand: there is no command "${name}". Use one of ${known}; "quietarc help" explains them.`,
    );
  }
  if (rest.includes("--help") || rest.includes("-h")) {
    around.out(USAGE);
    return DONE;
  }
  const option = rest.find((word) => word.startsWith("-") && word !== "-");
  if (option !== undefined) {
    return refuse(
      `quietarc: unknownOption: "${option}" is no option of ${name}. Give a file alone.`,
    );
  }
  const [path, surplus] = rest;
  if (path === undefined) {
    return refuse(
      `quietarc: missingFile: ${name} needs a project file. Give its path, or - for standard input.`,
    );
  }
  if (surplus !== undefined) {
    return refuse(
      `quietarc: surplusWord: "${surplus}" follows the file. Give one file; quote a path that holds spaces.`,
    );
  }
  return runOn(path, command, engine, around);
}

function runOn(path: string, command: Command, engine: Engine, around: Surroundings): number {
  const label = labelOf(path);
  const project = projectFrom(path, around);
  if (project === null) return REFUSED;
  try {
    const result = command(project, engine, label);
    if (!result.ok) {
      around.error(`${result.complaint}\n`);
      return result.status;
    }
    for (const words of result.notices) around.error(`${label}: notice: ${words}.\n`);
    // What is not finite has no word in JSON and is written as null.
    around.out(`${JSON.stringify(result.value, null, 2)}\n`);
    return DONE;
  } catch (problem) {
    const message = problem instanceof Error ? problem.message : String(problem);
    around.error(
      `${label}: internalFault: ${message}. The program is at fault, not the file; keep the file and report it.\n`,
    );
    return FAILED;
  }
}

function solvePoint(project: Project, engine: Engine, label: string): CommandResult {
  const solved = engine.operatingPoint(project.station);
  return solved.ok ? { ok: true, value: solved.point, notices: [] } : explain(solved, label);
}

function explain(shortfall: Shortfall, label: string): CommandResult {
  if (shortfall.kind === "design") {
    const { problem } = shortfall;
    const complaint = `${label}: cannotDesign: ${problem}. Change the station, or give its tank as "explicitPi".`;
    return { ok: false, status: REFUSED, complaint };
  }
  return {
    ok: false,
    status: FAILED,
    complaint: `${label}: noConvergence: no settled state was found; the residual stayed at ${shortfall.residual}. Check values that are far from usual.`,
  };
}

function nothingToPlay(label: string): CommandResult {
  return {
    ok: false,
    status: REFUSED,
    complaint: `${label}: noScenario: the project has no scenario to play. Add at least { "atS": 0, "do": "key", "down": true }.`,
  };
}

function simulate(project: Project, engine: Engine, label: string): CommandResult {
  if (project.scenario.length === 0) return nothingToPlay(label);
  const run = engine.runScenario(project);
  return run.ok ? { ok: true, value: run.result, notices: run.notices } : explain(run, label);
}

function diagnose(project: Project, engine: Engine, label: string): CommandResult {
  if (project.scenario.length === 0) return nothingToPlay(label);
  const run = engine.diagnose(project);
  return run.ok ? { ok: true, value: run.result, notices: [] } : explain(run, label);
}

/** The scenario plays no part in it. */
function faults(project: Project, engine: Engine, label: string): CommandResult {
  const table = engine.faults(project);
  return table.ok ? { ok: true, value: table.result, notices: [] } : explain(table, label);
}
