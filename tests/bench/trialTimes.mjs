/** Trials on the clock: one worker against two, and how soon a cancelled run leaves the processor alone. */
import { rmSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { Worker } from "node:worker_threads";
import { bundleForNode } from "../../src/shells/node/bundle.mjs";

/**
 * Of strike cases: so many that what each thread has to do before it is up to speed (plan the trial, compile what is hot:
 * some 2 s of processor time) is a small part.
 */
const RUNS = Number(process.env.QUIETARC_BENCH_RUNS ?? 50_000);
const STUDY_RUNS = 10_000;
/** In turn with one worker and with two: an even number, so that either is first as often. */
const TURNS = 4;
/** Quiet for so long: free. What the program does later is told apart. */
const QUIET_MS = 150;
/** In the middle of the run by then. */
const AFTER_MS = 200;
const WATCH_MS = 1000;
const STEP_MS = 5;

/** Answers what starts a trial on threads of its own. */
export async function trialsOnThreads(root) {
  rmSync(resolve(root, "node_modules/.cache/quietarc/bench-trials"), {
    recursive: true,
    force: true,
  });
  const folder = await bundleForNode("bench-trials", {
    main: "tests/bench/trialBench.ts",
    trialWorker: "src/shells/cli/trialWorker.ts",
  });
  const { startTrial } = await import(pathToFileURL(resolve(folder, "main.mjs")).href);
  return (wish) => startTrial({ ...wish, workerFile: resolve(folder, "trialWorker.mjs") });
}

/**
 * Tolerance of an arc on so many units: seconds with one worker and with two, over all turns, so that a machine whose
 * speed wanders from minute to minute slows both; how many times as fast two could be at most, each alone on a core, by the
 * processor time they take, and how many times as fast two threads are that only compute; with two, milliseconds from cancelling until the program left the processor alone, and
 * how much it used it within the second after that. `start` starts any other trial.
 */
export async function trialTimes(root, text, repeats, engineFile) {
  const start = await trialsOnThreads(root);
  const wish = { text, kind: "tolerance", runs: RUNS };
  // first, while the program has no outcomes of whole studies to clear away
  const cancelled = [];
  for (let k = 0; k < repeats; k++) cancelled.push(await untilFree(start({ ...wish, workers: 2 })));
  const once = async (workers, runs = RUNS) => {
    const startNs = process.hrtime.bigint();
    const before = process.cpuUsage();
    await start({ ...wish, runs, workers }).done;
    const { user, system } = process.cpuUsage(before);
    const clockS = Number(process.hrtime.bigint() - startNs) / 1e9;
    return { clockS, processorS: (user + system) / 1e6 };
  };
  // in turn, and the other way round every other time: a machine that grows slower or faster does so for both
  const ones = [];
  const twos = [];
  const kernels = { one: 0, two: 0 };
  for (let k = 0; k < TURNS; k++) {
    if (k % 2 === 0) ones.push(await once(1));
    kernels.one += await kernelS(engineFile, 1);
    kernels.two += await kernelS(engineFile, 2);
    twos.push(await once(2));
    kernels.two += await kernelS(engineFile, 2);
    kernels.one += await kernelS(engineFile, 1);
    if (k % 2 === 1) ones.push(await once(1));
  }
  // as many as a study usually has: what each thread does first weighs more
  const study = [await once(1, STUDY_RUNS), await once(2, STUDY_RUNS)];
  const total = (runs, of) => runs.reduce((sum, run) => sum + of(run), 0);
  return {
    start,
    runs: RUNS,
    machineRatio: kernels.one / kernels.two,
    studyRuns: STUDY_RUNS,
    studyRatio: study[0].clockS / study[1].clockS,
    oneS: total(ones, (r) => r.clockS) / TURNS,
    ratio: total(ones, (r) => r.clockS) / total(twos, (r) => r.clockS),
    most: (2 * total(ones, (r) => r.processorS)) / total(twos, (r) => r.processorS),
    cancelled,
  };
}

const KERNELS = 2_000_000;

/** Threads that do nothing but the calibration kernel, so many in all; answers seconds. */
async function kernelS(engineFile, threads) {
  const code = `
    const { parentPort, workerData } = require("node:worker_threads");
    import(workerData).then(({ calibrationKernel }) => {
      calibrationKernel(20_000);
      parentPort.postMessage("ready");
      parentPort.once("message", (times) => {
        calibrationKernel(times);
        parentPort.postMessage("done");
      });
    });`;
  const workers = Array.from(
    { length: threads },
    () => new Worker(code, { eval: true, workerData: engineFile }),
  );
  const heard = (worker) => new Promise((resolve) => worker.once("message", resolve));
  await Promise.all(workers.map(heard));
  const startNs = process.hrtime.bigint();
  const done = Promise.all(workers.map(heard));
  for (const worker of workers) worker.postMessage(KERNELS / threads);
  await done;
  const s = Number(process.hrtime.bigint() - startNs) / 1e9;
  await Promise.all(workers.map((worker) => worker.terminate()));
  return s;
}

async function untilFree({ pool }) {
  while (pool.progress.done === 0) await pause(STEP_MS);
  await pause(AFTER_MS);
  const startMs = performance.now();
  pool.cancel();
  let lastMs = performance.now();
  let laterMs = 0;
  let before = process.cpuUsage();
  while (performance.now() - startMs < WATCH_MS) {
    await pause(STEP_MS);
    const now = process.cpuUsage();
    const usedUs = now.user - before.user + now.system - before.system;
    before = now;
    // what the watching itself takes is less
    if (usedUs <= STEP_MS * 500) continue;
    if (performance.now() - lastMs < QUIET_MS) lastMs = performance.now();
    else laterMs += usedUs / 1000;
  }
  return { freeMs: lastMs - startMs, laterMs };
}

function pause(ms) {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
