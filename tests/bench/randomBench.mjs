/**
 * One hundred random stations and fault orders of ten simulated seconds, each run twice: some 25 minutes of processor time, on
 * two threads where there are two cores. Each thread asks for the next number when it has done one, so neither waits for the
 * other; what is said goes by number, not by who was first.
 */
import { availableParallelism } from "node:os";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";

const THREADS = Number(process.env.QUIETARC_BENCH_RANDOM_WORKERS ?? 2);

/** @typedef {{ readonly index: number, readonly run?: import("../support/randomRuns").RandomRun, readonly amiss?: string }} Done */

/**
 * @param {string} engine address of the bundled engine, which has `randomRun`
 * @returns what the runs came to; `amiss` in words what was not finite or made another record
 */
export async function measureRandom(engine) {
  const count = Number(process.env.QUIETARC_BENCH_RANDOM ?? 100);
  const endS = Number(process.env.QUIETARC_BENCH_RANDOM_S ?? 10);
  const threads = Math.max(1, Math.min(THREADS, availableParallelism(), count));
  /** @type {Done[]} */
  const done = [];
  let next = 0;
  await Promise.all(
    Array.from({ length: threads }, () =>
      oneThread(engine, endS, () => (next < count ? next++ : -1), done),
    ),
  );
  done.sort((a, b) => a.index - b.index);
  const amiss = done.flatMap((d) =>
    d.amiss === undefined ? [] : [`number ${d.index}: ${d.amiss}`],
  );
  const runs = done.flatMap((d) => (d.run === undefined ? [] : [d.run]));
  const worst = (of) => Math.max(0, ...runs.map(of));
  const sum = (of) => runs.reduce((total, run) => total + of(run), 0);
  const tripped = runs.filter((r) => r.trips.length > 0).length;
  return {
    words: `${count} of ${endS} s on ${threads} threads, run twice; ${tripped} tripped`,
    amiss,
    instants: sum((r) => r.instants),
    instant: worst((r) => r.instant),
    windows: sum((r) => r.windows),
    window: worst((r) => r.window),
  };
}

/** A thread that is kept busy until there is no next number; ends badly if the thread does. */
function oneThread(engine, endS, take, done) {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL(import.meta.url), { workerData: { engine, endS } });
    const feed = () => worker.postMessage(take());
    worker.on("message", (message) => {
      done.push(message);
      feed();
    });
    worker.on("error", reject);
    worker.on("exit", (code) =>
      code === 0 ? resolve() : reject(new Error(`a thread ended with ${code}`)),
    );
    feed();
  });
}

if (!isMainThread) {
  const { randomRun } = await import(workerData.engine);
  parentPort.on("message", (index) => {
    if (index < 0) {
      parentPort.close();
      return;
    }
    parentPort.postMessage(runOne(randomRun, index));
  });
}

/** @returns {Done} */
function runOne(randomRun, index) {
  try {
    return { index, run: randomRun(index, workerData.endS) };
  } catch (problem) {
    return { index, amiss: problem instanceof Error ? problem.message : String(problem) };
  }
}
