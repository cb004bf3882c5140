/** Trials on the clock: one worker against two, and how soon a cancelled run leaves the processor alone. */
import { rmSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { bundleForNode } from "../../src/shells/node/bundle.mjs";

/** Of strike cases; long enough that starting the threads is a small part. */
const RUNS = Number(process.env.QUIETARC_BENCH_RUNS ?? 2000);
/** In the middle of the run by then. */
const AFTER_MS = 200;
const WATCH_MS = 1000;
const STEP_MS = 5;

async function trialsOnThreads(root) {
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
 * Tolerance of an arc on so many units: seconds with one worker and with two, alternately, so that a busy machine slows
 * both; and with two, milliseconds from cancelling to the last 5 ms in which the program used the processor.
 */
export async function trialTimes(root, text, repeats) {
  const start = await trialsOnThreads(root);
  const wish = { text, kind: "tolerance", runs: RUNS };
  const once = async (workers) => {
    const startNs = process.hrtime.bigint();
    await start({ ...wish, workers }).done;
    return Number(process.hrtime.bigint() - startNs) / 1e9;
  };
  const oneS = [];
  const twoS = [];
  for (let k = 0; k < repeats; k++) {
    oneS.push(await once(1));
    twoS.push(await once(2));
  }
  const ratios = oneS.map((s, k) => s / twoS[k]);
  const cancelMs = [];
  for (let k = 0; k < repeats; k++) cancelMs.push(await untilFree(start({ ...wish, workers: 2 })));
  return { runs: RUNS, oneS: median(oneS), twoS: median(twoS), ratio: median(ratios), cancelMs };
}

async function untilFree({ pool }) {
  while (pool.progress.done === 0) await pause(STEP_MS);
  await pause(AFTER_MS);
  const startMs = performance.now();
  pool.cancel();
  let lastMs = performance.now();
  let before = process.cpuUsage();
  while (performance.now() - startMs < WATCH_MS) {
    await pause(STEP_MS);
    const now = process.cpuUsage();
    const usedUs = now.user - before.user + now.system - before.system;
    // what the watching itself takes is less
    if (usedUs > STEP_MS * 500) lastMs = performance.now();
    before = now;
  }
  return lastMs - startMs;
}

function pause(ms) {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

function median(values) {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
}
