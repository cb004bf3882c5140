/** Trials on threads for the timing run, bundled for Node beside the thread's own module. */
import { readProject } from "../../src/formats/projectFile";
import { createThreadPort } from "../../src/shells/cli/threadPort";
import { TrialPool } from "../../src/shells/trials/pool";
import { WALL_CLOCK } from "../../src/shells/trials/protocol";
import { planTrial } from "../../src/study/trials/planTrial";
import type { TrialKind, TrialRequest } from "../../src/study/trials/trial";

interface Wish {
  readonly text: string;
  readonly kind: TrialKind;
  readonly runs?: number;
  readonly options?: NonNullable<TrialRequest["options"]>;
  readonly workers: number;
  readonly workerFile: string;
}

interface Running {
  readonly pool: TrialPool;
  /** Settled when all cases are done. */
  readonly done: Promise<void>;
  readonly summarise: () => unknown;
}

/** Starts a trial on threads. */
export function startTrial({ text, kind, runs, options, workers, workerFile }: Wish): Running {
  const reading = readProject(text);
  if (!reading.ok) throw new Error("the project cannot be read");
  const request: TrialRequest = {
    kind,
    project: reading.project,
    seed: 1,
    ...(runs === undefined ? {} : { runs }),
    ...(options === undefined ? {} : { options }),
  };
  const planned = planTrial(request);
  if (!planned.ok) throw new Error(planned.problem);
  const { trial } = planned;
  let end: { done: () => void; broken: (words: string) => void };
  const done = new Promise<void>((resolve, reject) => {
    end = { done: resolve, broken: (words) => reject(new Error(words)) };
  });
  const pool = new TrialPool(
    {
      request,
      count: trial.count,
      indices: Array.from({ length: trial.count }, (_, index) => index),
      labelOf: (index) => trial.labelOf(index),
    },
    { workers, startWorker: () => createThreadPort(workerFile), clock: WALL_CLOCK },
    { results: () => {}, done: () => end.done(), broken: (words) => end.broken(words) },
  );
  pool.start();
  return { pool, done, summarise: () => trial.summarise(pool.outcomes) };
}
