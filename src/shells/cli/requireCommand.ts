/**
 *   quietarc require PROJECT --margin 3 --nuisance-per-hour 0.1    whether a scheme does what is required of it
 *
 * Runs the coverage, and as much ordinary use as it takes to show the rate, and prints what fails. Cells that are limited by
 * design or accepted in the project do not fail; a band that cannot be run does, unless all of it is accepted or --accept-left-out
 * is said, and without that so do cases of ordinary use that cannot be run. Exit status 0 when all is met, 1 when something fails.
 */
import { poissonRate } from "../../study/statistics/poisson";
import type { CoverageSummary } from "../../study/trials/coverage";
import type { NuisanceSummary } from "../../study/trials/nuisanceSummary";
import { requirementFailures } from "../../study/trials/requirement";
import type { Plain, TrialKind, TrialRequest } from "../../study/trials/trial";
import { projectHash } from "../trials/resultLines";
import { DONE, FAILED, REFUSED } from "./exitStatus";
import { labelOf, projectFrom } from "./projectInput";
import { planned } from "./trialCommand";
import {
  kindOptions,
  needed,
  numberOf,
  oneFile,
  optionsPlace,
  refuse,
  refusing,
  seedOf,
  workersOf,
} from "./trialOptions";
import { runTrial, type TrialJob } from "./trialRun";
import type { TrialSurroundings } from "./trialSurroundings";
import { readWords } from "./words";

const USUAL_MARGIN = 3;
const WORDING = {
  command: "require",
  valued: ["margin", "nuisance-per-hour", "seed", "workers", "options"],
  flags: ["accept-left-out"],
};

type Members = { readonly [name: string]: Plain };

interface Task {
  readonly label: string;
  readonly margin: number;
  readonly perHour: number | null;
  readonly acceptsLeftOut: boolean;
  readonly seed: number;
  readonly project: TrialRequest["project"];
  readonly jobs: readonly TrialJob[];
}

export async function requireCommand(
  words: readonly string[],
  around: TrialSurroundings,
): Promise<number> {
  const task = refusing(() => taskOf(words, around));
  if (task === null) return REFUSED;
  const summaries: Plain[] = [];
  let hasFailed = false;
  for (const job of task.jobs) {
    const { end, pool } = await runTrial(job, around);
    if (end.how === "stopped") {
      around.error(`${task.label}: stopped: nothing is known yet of what is required.\n`);
      return end.status;
    }
    if (end.how === "broken") return FAILED;
    hasFailed ||= pool.failures.length > 0;
    summaries.push(job.trial.summarise(pool.outcomes));
  }
  const { value, isMet } = verdict(task, summaries);
  around.out(`${JSON.stringify(value, null, 2)}\n`);
  return isMet && !hasFailed ? DONE : FAILED;
}

function verdict(task: Task, summaries: readonly Plain[]) {
  // both trials are planned here, so their kinds are known
  const [coverage, nuisance] = summaries as unknown as [
    CoverageSummary,
    NuisanceSummary | undefined,
  ];
  const all = nuisance?.all ?? null;
  const figures =
    task.perHour === null
      ? null
      : {
          falseTripsPerHourUpper: all?.high ?? Number.POSITIVE_INFINITY,
          notRun: nuisance?.notRun ?? 0,
          problems: nuisance?.problems ?? [],
        };
  const { acceptsLeftOut } = task;
  const required = { margin: task.margin, nuisancePerHour: task.perHour ?? 0, acceptsLeftOut };
  const failures = requirementFailures(coverage, figures, required);
  const isMet = failures.length === 0;
  const value = {
    isMet,
    margin: task.margin,
    nuisancePerHour: task.perHour,
    seed: task.seed,
    projectHash: projectHash(task.project),
    failures,
    leftOut: coverage.leftOut,
    accepted: coverage.open.filter((cell) => cell.accepted !== null),
    coverage: { count: coverage.count, counts: coverage.counts },
    nuisance:
      nuisance === undefined
        ? null
        : {
            hours: nuisance.hours,
            notRun: nuisance.notRun,
            problems: nuisance.problems,
            falseTrips: all,
          },
  };
  return { value, isMet };
}

function taskOf(words: readonly string[], around: TrialSurroundings): Task {
  const { values, flags, files } = needed(readWords(words, WORDING, around));
  const path = oneFile("require", files, around);
  const label = labelOf(path);
  const margin = numberOf(values, "margin", { least: 0, most: 1e6 }, around) ?? USUAL_MARGIN;
  // a rate under the least would take years of ordinary use to show
  const perHour = numberOf(values, "nuisance-per-hour", { least: 1e-3, most: 1e6 }, around);
  const seed = seedOf(values, around);
  const workers = workersOf(values, around);
  const options = kindOptions(values, around) ?? {};
  const optionsAt = optionsPlace(values);
  const stray = Object.keys(options).find((name) => name !== "coverage" && name !== "nuisance");
  if (stray !== undefined) {
    const remedy = 'Write { "coverage": { ... }, "nuisance": { ... } }';
    refuse(around, "unknownKey", `"${stray}" is neither coverage nor nuisance`, remedy, optionsAt);
  }
  const said = (kind: TrialKind): Members => {
    const value = options[kind] ?? {};
    if (typeof value === "object" && !Array.isArray(value)) return value as Members;
    const remedy = 'Write { "name": value, ... }';
    return refuse(around, "wrongType", `"${kind}" is no object`, remedy, optionsAt);
  };
  const project = needed(projectFrom(path, around));
  const jobOf = (kind: TrialKind, own: Members): TrialJob => {
    const request: TrialRequest = { kind, project, seed, options: own };
    const trial = planned(request, { label, optionsAt }, around);
    const indices = Array.from({ length: trial.count }, (_, index) => index);
    return { label, request, trial, indices, known: [], workers };
  };
  const jobs = [jobOf("coverage", { ...said("coverage"), requiredMargin: margin })];
  if (perHour !== null) {
    const own = { hours: hoursFor(perHour), exceptions: false };
    jobs.push(jobOf("nuisance", { ...own, ...said("nuisance") }));
  }
  const acceptsLeftOut = flags.has("accept-left-out");
  return { label, margin, perHour, acceptsLeftOut, seed, project, jobs };
}

/** So much ordinary use that no false trip in it shows the rate: the upper end of the interval of none is not above it. */
function hoursFor(perHour: number): number {
  return Math.ceil(poissonRate(0, 1).high / perHour);
}
