/**
 *   quietarc trial PROJECT --kind KIND    runs a trial, or a share of one
 *
 * Results go to a file as JSON Lines, one object that sums them up to standard output. Stopped by a signal, it keeps what
 * it has; with --resume it goes on from there.
 */
import type { Trial, TrialRequest } from "../../study/trials/trial";
import type { TrialPool } from "../trials/pool";
import type { CaseResult } from "../trials/protocol";
import { type Header, headerLine, indicesOf, readResult } from "../trials/resultLines";
import { DONE, FAILED, REFUSED } from "./exitStatus";
import { labelOf, projectFrom, readText } from "./projectInput";
import {
  MAX_RESULT_BYTES,
  openOutput,
  put,
  resultText,
  summaryText,
  tellReplaced,
} from "./resultFile";
import {
  kindOf,
  kindOptions,
  needed,
  oneFile,
  optionsPlace,
  refuse,
  refusing,
  seedOf,
  shareOf,
  wholeOf,
  workersOf,
} from "./trialOptions";
import { runTrial } from "./trialRun";
import type { Output, TrialSurroundings } from "./trialSurroundings";
import { readWords } from "./words";

const MOST_RUNS = 10_000_000;
const WORDING = {
  command: "trial",
  valued: ["kind", "runs", "seed", "workers", "out", "part", "options"],
  flags: ["resume"],
};

interface Task {
  readonly label: string;
  readonly header: Header;
  readonly trial: Trial;
  readonly workers: number | null;
  readonly out: {
    readonly path: string;
    readonly output: Output;
    readonly isResumed: boolean;
  } | null;
  /** What an earlier run has found. */
  readonly known: readonly CaseResult[];
}

export async function trialCommand(
  words: readonly string[],
  around: TrialSurroundings,
): Promise<number> {
  const task = refusing(() => taskOf(words, around));
  if (task === null) return REFUSED;
  const { header, trial, label, out, known, workers } = task;
  const { request, count, share } = header;
  const indices = indicesOf(share, count);
  const { end, pool } = await runTrial({ label, request, trial, indices, known, workers }, around);
  const results = resultsOf(pool, indices);
  if (out !== null) {
    if (results.length === 0 && end.how !== "done") out.output.discard();
    else if (!put(out.output, out.path, resultText(header, trial, results), around)) return FAILED;
    else if (!out.isResumed) tellReplaced(out.output, out.path, around);
  }
  if (end.how === "stopped") {
    const kept = out === null ? "" : "; the same words with --resume go on from there";
    around.error(
      `${label}: stopped: partial, ${results.length} of ${indices.length} cases${kept}.\n`,
    );
    return end.status;
  }
  around.out(summaryText(header, trial, results));
  return end.how === "broken" || pool.failures.length > 0 ? FAILED : DONE;
}

function taskOf(words: readonly string[], around: TrialSurroundings): Task {
  const { values, flags, files } = needed(readWords(words, WORDING, around));
  const path = oneFile("trial", files, around);
  const kind = kindOf(values, around);
  const runs = wholeOf(values, "runs", { least: 1, most: MOST_RUNS }, around);
  const seed = seedOf(values, around);
  const workers = workersOf(values, around);
  const share = shareOf(values, around);
  const outPath = values.get("out") ?? null;
  const isResumed = flags.has("resume");
  if (isResumed && outPath === null) {
    refuse(around, "missingOption", "--resume needs --out", "Name the file to go on with");
  }
  const options = kindOptions(values, around);
  const label = labelOf(path);
  const request: TrialRequest = {
    kind,
    project: needed(projectFrom(path, around)),
    seed,
    ...(runs === null ? {} : { runs }),
    ...(options === undefined ? {} : { options }),
  };
  const trial = planned(request, { label, optionsAt: optionsPlace(values) }, around);
  const header: Header = { request, count: trial.count, share };
  if (outPath === null) return { label, header, trial, workers, out: null, known: [] };
  const known = isResumed ? knownIn(outPath, header, around) : [];
  const output = needed(openOutput(outPath, around));
  return { label, header, trial, workers, out: { path: outPath, output, isResumed }, known };
}

/** Where a project and its options stand, for messages. */
interface Places {
  readonly label: string;
  readonly optionsAt: string;
}

export function planned(
  request: TrialRequest,
  { label, optionsAt }: Places,
  around: TrialSurroundings,
): Trial {
  const plan = around.plan(request);
  if (plan.ok) return plan.trial;
  const message = plan.problem.replace(/\.$/, "");
  if (plan.at === "runs") {
    const { runsThatFit: fits } = plan;
    const remedy =
      fits === undefined
        ? "Leave --runs out"
        : `Write a number from ${fits.least} to ${MOST_RUNS}, for figures worth reading some ${fits.worthReading}, or ${fits.orElse}`;
    return refuse(around, "badRuns", message, remedy, "--runs");
  }
  // options that were left out may not fit the project: then it is the project that says too little
  if (plan.at === "options" && request.options !== undefined)
    return refuse(around, "badOptions", message, "Change that option", optionsAt);
  return refuse(around, "cannotPlan", message, "Change the project or the options", label);
}

/** Outcomes of an earlier run of the same words that was stopped; what had failed is tried again. */
function knownIn(path: string, header: Header, around: TrialSurroundings): readonly CaseResult[] {
  const text = needed(readText(path, MAX_RESULT_BYTES, around));
  const [first, ...lines] = text.split("\n");
  if (first !== headerLine(header)) {
    const message = "the file holds results of another run";
    refuse(around, "otherRun", message, "Repeat the words of that run, or name another file", path);
  }
  const isMine = new Set(indicesOf(header.share, header.count));
  const known = new Map<number, CaseResult>();
  for (const line of lines) {
    const result = readResult(line);
    if (result === null || !("outcome" in result) || !isMine.has(result.index)) continue;
    known.set(result.index, result);
  }
  return [...known.values()];
}

/** What is known, in the order of the cases. */
function resultsOf(pool: TrialPool, indices: readonly number[]): readonly CaseResult[] {
  const failures = new Map(pool.failures.map(({ index, words }) => [index, words]));
  return indices.flatMap((index): CaseResult[] => {
    const outcome = pool.outcomes[index] ?? null;
    const failure = failures.get(index);
    if (failure !== undefined) return [{ index, failure }];
    return outcome === null ? [] : [{ index, outcome }];
  });
}
