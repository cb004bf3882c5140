/** Runs cases of a planned trial on the pool to their end, or until somebody stops it; tells the progress to who watches. */
import type { Trial, TrialRequest } from "../../study/trials/trial";
import { type PoolProgress, TrialPool } from "../trials/pool";
import type { CaseResult } from "../trials/protocol";
import type { Surroundings } from "./engine";
import { complaint } from "./projectInput";
import type { TrialSurroundings } from "./trialSurroundings";

const TELL_EVERY_MS = 250;

const KEEP_FILE = "The program is at fault, not the file; keep the file and report it";

export interface TrialJob {
  /** Of the project, for messages. */
  readonly label: string;
  readonly request: TrialRequest;
  readonly trial: Trial;
  readonly indices: readonly number[];
  /** What was found before. */
  readonly known: readonly CaseResult[];
  readonly workers: number | null;
}

export type TrialEnd =
  | { readonly how: "done" }
  | { readonly how: "stopped"; readonly status: number }
  | { readonly how: "broken"; readonly words: string };

export interface TrialRunResult {
  readonly end: TrialEnd;
  readonly pool: TrialPool;
}

export function runTrial(job: TrialJob, around: TrialSurroundings): Promise<TrialRunResult> {
  const { request, trial, indices } = job;
  const means = { ...around.means, workers: job.workers ?? around.means.workers };
  let toldAtMs = Number.NEGATIVE_INFINITY;
  const tell = (progress: PoolProgress): void => {
    const nowMs = means.clock.nowMs();
    if (!around.isWatched || nowMs < toldAtMs + TELL_EVERY_MS) return;
    toldAtMs = nowMs;
    around.error(`\r${progressWords(progress)}\u001b[K`);
  };
  return new Promise((resolve) => {
    const end = (how: TrialEnd): void => {
      takeBack();
      if (around.isWatched) around.error("\r\u001b[K");
      tellFaults(job.label, how, pool, around);
      resolve({ end: how, pool });
    };
    const pool = new TrialPool(
      { request, count: trial.count, indices, labelOf: (index) => trial.labelOf(index) },
      means,
      {
        results: (_, progress) => tell(progress),
        done: () => end({ how: "done" }),
        broken: (words) => end({ how: "broken", words }),
      },
    );
    const takeBack = around.onStop((status) => {
      pool.cancel();
      end({ how: "stopped", status });
    });
    pool.take(job.known);
    pool.start();
  });
}

function tellFaults(label: string, end: TrialEnd, pool: TrialPool, around: Surroundings): void {
  if (end.how === "broken") around.error(complaint(label, "internalFault", end.words, KEEP_FILE));
  for (const failure of pool.failures) {
    const message = `the case "${failure.label}" failed twice: ${failure.words}`;
    around.error(complaint(label, "caseFailed", message, KEEP_FILE));
  }
}

function progressWords({ done, total, leftS }: PoolProgress): string {
  const left = leftS === null ? "" : `, ${durationWords(leftS)} left`;
  return `${done} of ${total}${left}`;
}

function durationWords(s: number): string {
  if (s < 100) return `${Math.ceil(s)} s`;
  return s < 6000 ? `${Math.ceil(s / 60)} min` : `${(s / 3600).toFixed(1)} h`;
}
