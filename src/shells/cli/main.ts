/** Command line entry: ties the commands to the simulation, the file system, threads and the process. */
import { availableParallelism } from "node:os";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { diagnosisJson } from "../../formats/diagnosisJson";
import { pointJson, simulationJson } from "../../formats/resultJson";
import { createBench } from "../../simulation/bench";
import { operatingPoint } from "../../simulation/operatingPoint";
import { simulate } from "../../simulation/simulate";
import { FAULT_CASES, faultTable } from "../../study/faultTable";
import { signatureLibrary } from "../../study/signatures";
import { planTrial } from "../../study/trials/planTrial";
import { WALL_CLOCK } from "../trials/protocol";
import { runCommand } from "./commands";
import type { Engine, Surroundings } from "./engine";
import { openOutputFile } from "./outputFile";
import { readBounded } from "./readBounded";
import { createThreadPort } from "./threadPort";
import { runTrialCommand, TRIAL_COMMANDS } from "./trialCommands";
import type { TrialSurroundings } from "./trialSurroundings";

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

/** It lies beside this module once both are bundled. */
const WORKER = resolve(dirname(fileURLToPath(import.meta.url)), "trialWorker.mjs");

const aroundTrials: TrialSurroundings = {
  ...around,
  openOutput: openOutputFile,
  plan: planTrial,
  means: {
    workers: availableParallelism(),
    startWorker: () => createThreadPort(WORKER),
    clock: WALL_CLOCK,
  },
  isWatched: process.stderr.isTTY === true,
  onStop: (stop) => {
    const signals = [
      ["SIGINT", () => stop(130)],
      ["SIGTERM", () => stop(143)],
    ] as const;
    for (const [signal, work] of signals) process.once(signal, work);
    return () => {
      for (const [signal, work] of signals) process.off(signal, work);
    };
  },
};

// Whoever reads our output may stop early, as `head` does; that is no fault.
process.stdout.on("error", () => process.exit());

const words = process.argv.slice(2);
const [name = "", ...rest] = words;
const isHelp = rest.includes("--help") || rest.includes("-h");
process.exitCode =
  TRIAL_COMMANDS.includes(name) && !isHelp
    ? await runTrialCommand(name, rest, aroundTrials)
    : runCommand(isHelp ? ["help"] : words, engine, around);
