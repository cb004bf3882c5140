/**
 * `npm run bench [engine] [ordinary] [tolerance] [coverage] [faults] [random] [trials] [page] [size]`: timings, each the median of five, with ratios measured in the same
 * run so that the machine's own speed falls out. All parts unless some are named; `page` and `size` build the page
 * first, into a folder of their own.
 *
 * Limits are the product's own and stand beside their figures: 1,000 times the speed of a full-waveform analysis, no
 * trip in ordinary use, 8 ms of main thread a frame and no task over 50 ms, 250 kB of compressed first load. A figure
 * past its limit is said again at the end and makes the exit status 1. Everything else is for comparison.
 */
import { spawnSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "vite";
import { bundleForNode } from "../../src/shells/node/bundle.mjs";
import { firstLoadKb } from "./firstLoad.mjs";
import { measurePage, pageProject } from "./pageBench.mjs";
import { measureRandom } from "./randomBench.mjs";
import { measureTrialPage } from "./trialPage.mjs";
import { trialsOnThreads, trialTimes } from "./trialTimes.mjs";

const root = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const REPEATS = Number(process.env.QUIETARC_BENCH_REPEATS ?? 5);
const FASTER_THAN_WAVEFORM = 1000;
const FIRST_LOAD_KB = 250;
const STUDY_UNITS = 10_000;
const STUDY_S = 10;
const SPEECH_HOUR_S = 10;
const COVERAGE_S = 30;
const TWO_WORKERS = 1.8;
const CANCEL_MS = 250;
const FRAME_MS = 8;
const TASK_MS = 50;
const WINDOWS = Number(process.env.QUIETARC_BENCH_WINDOWS ?? 3);
const page = resolve(root, "node_modules/.cache/quietarc/bench-page");
let isBuilt = false;
const broken = [];

const PARTS = {
  engine: benchEngine,
  ordinary: benchOrdinary,
  tolerance: benchTolerance,
  coverage: benchCoverage,
  faults: benchFaults,
  random: benchRandom,
  trials: benchTrials,
  page: benchPage,
  size: benchSize,
};
const named = process.argv.slice(2);
const unknown = named.filter((part) => !(part in PARTS));
if (unknown.length > 0) {
  console.error(`no part ${unknown.join(", ")}; there are ${Object.keys(PARTS).join(", ")}`);
  process.exit(2);
}
for (const [part, run] of Object.entries(PARTS)) {
  if (named.length > 0 && !named.includes(part)) continue;
  console.log(`\n${part}`);
  await run();
}
for (const limit of broken) console.log(`BROKEN  ${limit}`);
console.log(broken.length === 0 ? "\nall limits hold" : `\n${broken.length} limits broken`);
process.exitCode = broken.length === 0 ? 0 : 1;

/** Address of the engine, bundled anew. */
async function engineFile() {
  rmSync(resolve(root, "node_modules/.cache/quietarc/bench"), { recursive: true, force: true });
  const folder = await bundleForNode("bench", { main: "tests/bench/engineBench.ts" });
  return pathToFileURL(resolve(folder, "main.mjs")).href;
}

async function engine() {
  return import(await engineFile());
}

function sample(name) {
  return readFileSync(resolve(root, "public/projects", `${name}.json`), "utf8");
}

function say(what, value) {
  console.log(`  ${what.padEnd(58)} ${value}`);
}

/** A figure with its limit beside it; one that does not keep it breaks the run. */
function hold(what, value, limit, keeps) {
  say(what, `${value}  (limit: ${limit})${keeps ? "" : "  BROKEN"}`);
  if (!keeps) broken.push(`${what}: ${value}, limit ${limit}`);
}

async function seconds(work) {
  const startNs = process.hrtime.bigint();
  await work();
  return Number(process.hrtime.bigint() - startNs) / 1e9;
}

async function median(work, repeats = REPEATS) {
  const times = [];
  for (let k = 0; k < repeats; k++) times.push(await seconds(work));
  times.sort((a, b) => a - b);
  return times[Math.floor(times.length / 2)];
}

async function benchEngine() {
  const e = await engine();

  const transient = e.openLoadTransient();
  for (let k = 0; k < 300; k++) transient.run();
  const rounds = 100;
  const steps = transient.run();
  const spanS = (await median(() => repeat(rounds, transient.run))) / rounds;
  const kernelS = (await median(() => e.calibrationKernel(20_000))) / 20_000;
  say("load opens, 30 us, product's solver", `${us(spanS)}, ${steps} steps`);
  say(
    "one transient step",
    `${us(spanS / steps)}, ${ratio(spanS / steps / kernelS)} kernels of ${us(kernelS)}`,
  );

  const bench = e.settledBench(sample("ordinary-use"));
  const sampleS = (await median(() => bench.advanceTo(bench.timeNs + 250_000_000))) / 5000;
  say(
    "one settled sample of 50 us, whole chain",
    `${us(sampleS)}, ${ratio(sampleS / kernelS)} kernels`,
  );
  say("settled carrier, times real time", ratio(50e-6 / sampleS));

  const speechS = 60;
  const speech = e.quickSpeech(speechS);
  const trips = speech();
  const quickS = (await median(speech)) / (speechS / 50e-6);
  say(
    "one sample of speech over a map, monitors included",
    `${us(quickS)}, ${ratio(quickS / kernelS)} kernels`,
  );
  say(
    "an hour of speech at 50 us, one thread",
    `${(quickS * 72e6).toFixed(1)} s, ${trips} false trips in the first minute  (aimed at: ${SPEECH_HOUR_S} s)`,
  );

  const text = sample("skerry-light-insect");
  e.wholeSimulation(text);
  const wholeS = await median(() => e.wholeSimulation(text));
  say("3 s scenario with a twin of 10 s", `${wholeS.toFixed(2)} s`);
  say("memory in use after it", `${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`);

  const { Simulation } = await import("eecircuit-engine");
  const waveform = new Simulation();
  await waveform.start(); // not counted
  const analysis = async (title, afterS) => {
    waveform.setNetList(e.openLoadNetlist(title, afterS));
    const result = await waveform.runSim();
    if (!result.header.includes(`Title: ${title}\n`)) {
      throw new Error(`the waveform analysis failed: ${waveform.getError().join("; ")}`);
    }
  };
  // side by side, so that a busy machine slows both
  const ratios = [];
  let waveformS = 0;
  for (let k = 0; k < REPEATS; k++) {
    const beforeS = await seconds(() => analysis("settle only", 0));
    const bothS = await seconds(() => analysis("settle and open", e.SPAN_S));
    const oursS = (await seconds(() => repeat(rounds, transient.run))) / rounds;
    waveformS = bothS - beforeS;
    ratios.push(waveformS / oursS);
  }
  ratios.sort((x, y) => x - y);
  const faster = ratios[Math.floor(ratios.length / 2)];
  say("the same 30 us, full waveform (ngspice, WebAssembly)", `${waveformS.toFixed(2)} s`);
  hold(
    "times faster",
    ratio(faster),
    `at least ${ratio(FASTER_THAN_WAVEFORM)}`,
    faster >= FASTER_THAN_WAVEFORM,
  );
}

async function benchOrdinary() {
  const e = await engine();
  const text = sample("ordinary-use");
  let log = [];
  const wallS = await seconds(() => {
    log = e.wholeRun(text);
  });
  say(`ordinary use, ${e.projectOf(text).endS} s of simulated time`, `${wallS.toFixed(1)} s`);
  const tripped = log.filter((line) => !line.startsWith("alarm"));
  say("alarms", String(log.length - tripped.length));
  for (const line of log) console.log(`    ${line}`);
  const words = tripped.length === 0 ? "0" : `${tripped.length}: ${tripped.join("; ")}`;
  hold("trips and lockouts", words, "none", tripped.length === 0);
}

async function benchRandom() {
  const found = await measureRandom(await engineFile());
  const { words, amiss, instant, instants, window, windows } = found;
  say("random stations and faults", words);
  for (const line of amiss) console.log(`    ${line}`);
  hold("not finite, or another record", String(amiss.length), "none", amiss.length === 0);
  for (const [what, off] of [
    [`energy that is missing at ${instants} instants`, instant],
    [`and over ${windows} settled windows`, window],
  ])
    hold(what, off.toExponential(1), "1e-6 of what goes in", off <= 1e-6);
}

async function benchFaults() {
  const check = spawnSync(
    process.execPath,
    [resolve(root, "tests/bench/faultTable.mjs"), "check"],
    {
      encoding: "utf8",
    },
  );
  process.stdout.write(check.stdout);
  const words = check.status === 0 ? "as computed" : "not as computed";
  hold("the README's table of all faults", words, "as computed", check.status === 0);
}

async function benchTolerance() {
  const e = await engine();
  const text = sample("skerry-light-insect");
  // planned and, where this part runs by itself, compiled within the time
  let unit = () => {};
  const studyS = await seconds(() => {
    unit = e.toleranceStudy(text);
    repeat(STUDY_UNITS, unit);
  });
  const units = 400;
  e.calibrationKernel(20_000);
  const kernelS = (await median(() => e.calibrationKernel(20_000))) / 20_000;
  const unitS = (await median(() => repeat(units, unit))) / units;
  say(
    "one unit: settled, struck, cleared, onset twice",
    `${us(unitS)}, ${ratio(unitS / kernelS)} kernels of ${us(kernelS)}`,
  );
  say(
    `${STUDY_UNITS.toLocaleString("en-GB")} units on one core, planning included`,
    `${studyS.toFixed(1)} s  (aimed at: ${STUDY_S} s)`,
  );
}

/** Under every condition of ordinary use in turn, and every case a run of its own. */
function speechHour() {
  const options = { hours: 1, uses: ["speech"], exceptions: false };
  return { text: sample("skerry-light"), kind: "nuisance", options, workers: 2 };
}

async function benchTrials() {
  const times = await trialTimes(root, sample("skerry-light-insect"), REPEATS, await engineFile());
  say(`tolerance, ${times.runs} units, one worker`, `${times.oneS.toFixed(2)} s`);
  hold(
    "  the same, times as fast with two",
    ratio(times.ratio),
    `at least ${TWO_WORKERS}`,
    times.ratio >= TWO_WORKERS,
  );
  say("  at most, each alone on a core, by processor time", ratio(times.most));
  say("  the machine itself: two threads of kernels, times one", ratio(times.machineRatio));
  say(`  with ${times.studyRuns} units, once`, ratio(times.studyRatio));
  const hourS = await seconds(() => times.start(speechHour()).done);
  say(
    "an hour of speech as a nuisance trial, two workers, planning included",
    `${hourS.toFixed(1)} s  (aimed at: ${SPEECH_HOUR_S} s)`,
  );
  const each = times.cancelled.map(({ freeMs }) => freeMs.toFixed(0)).join(", ");
  hold(
    "cancelled, until the processor is free",
    `${each} ms`,
    `${CANCEL_MS} ms`,
    times.cancelled.every(({ freeMs }) => freeMs <= CANCEL_MS),
  );
  const later = times.cancelled.map(({ laterMs }) => laterMs.toFixed(0)).join(", ");
  say("  used in the rest of the second", `${later} ms`);

  await buildPage();
  for (const [kind, fields, watchedS] of [
    ["Coverage", [], 10],
    ["Back-up", [], 10],
    ["Tolerance", [["Units drawn", "30000"]], 6],
    ["Nuisance", [], 10],
    ["Window sweep", [], 10],
  ]) {
    const found = await measureTrialPage(page, kind, fields, watchedS);
    const { longestMs, longestClockMs, cancelMs, shown } = found;
    say(`${kind.toLowerCase()} from the page, cancelled after ${watchedS} s`, shown);
    hold(
      "  longest task of the main thread, processor time",
      `${longestMs.toFixed(1)} ms`,
      `${TASK_MS} ms`,
      longestMs <= TASK_MS,
    );
    say("  the same by the clock", `${longestClockMs.toFixed(1)} ms`);
    hold(
      "  cancelled, until no worker works",
      `${cancelMs.toFixed(0)} ms`,
      `${CANCEL_MS} ms`,
      cancelMs <= CANCEL_MS,
    );
  }
}

async function benchCoverage() {
  const e = await engine();
  e.calibrationKernel(20_000);
  const kernelS = (await median(() => e.calibrationKernel(20_000))) / 20_000;
  const table = e.coverageTable(sample("skerry-light"));
  const tableS = await seconds(() => {
    for (let index = 0; index < table.count; index++) table.run(index);
  });
  const cellS = tableS / table.count;
  say(
    "one cell: protected and left alone",
    `${us(cellS)}, ${ratio(cellS / kernelS)} kernels of ${us(kernelS)}`,
  );
  say(`${table.count} cells, 12 faults under 30 conditions, on one core`, `${tableS.toFixed(1)} s`);
  const start = await trialsOnThreads(root);
  const wish = { text: sample("skerry-light"), kind: "coverage", options: e.COVERAGE, workers: 2 };
  const twoS = await seconds(() => start(wish).done);
  say("  the same on two, planning included", `${twoS.toFixed(1)} s  (aimed at: ${COVERAGE_S} s)`);
}

async function benchPage() {
  await buildPage();
  const windows = await measurePage(page, pageProject(root), WINDOWS);
  const middle = (of) => {
    const sorted = windows.map(of).sort((a, b) => a - b);
    return sorted[Math.floor(sorted.length / 2)];
  };
  const ms = (of) => `${middle(of).toFixed(1)} ms`;
  const each = (of) => windows.map((w) => of(w).toFixed(1)).join(", ");
  say("windows of 10 s, arc burning, low gain in shadow", String(windows.length));
  const frameMs = (w) => w.frameMs;
  hold(
    "main thread a frame, 95 % of frames under, processor time",
    `${ms(frameMs)} of ${each(frameMs)}`,
    `${FRAME_MS} ms`,
    middle(frameMs) <= FRAME_MS,
  );
  say(
    "  the same by the clock",
    ms((w) => w.frameClockMs),
  );
  const longestMs = (w) => w.longestMs;
  // a limit on every task: the worst window counts, not the middle one
  hold(
    "longest task, processor time",
    `${Math.max(...windows.map(longestMs)).toFixed(1)} ms of ${each(longestMs)}`,
    `${TASK_MS} ms`,
    windows.every((w) => longestMs(w) <= TASK_MS),
  );
  say(
    "  the same by the clock",
    ms((w) => w.longestClockMs),
  );
  say("frames a second", (middle((w) => w.frames) / 10).toFixed(1));
  const pace = middle((w) => w.pace);
  const short = pace >= 0.95 ? "" : "  (the engine falls behind: other work on this machine?)";
  say("simulated seconds a second on screen", `${pace.toFixed(2)}${short}`);
  const amiss = [...new Set(windows.flatMap((w) => w.amiss))];
  hold(
    "what is watched",
    amiss.length === 0 ? "as it should be" : amiss.join("; "),
    "an arc burns, low gain in shadow, real time",
    amiss.length === 0,
  );
}

async function benchSize() {
  await buildPage();
  const kb = firstLoadKb(page);
  hold(
    "first load: page, script, style, engine, gzip",
    `${kb.toFixed(1)} kB`,
    `${FIRST_LOAD_KB} kB`,
    kb <= FIRST_LOAD_KB,
  );
}

/** What is measured is what the sources say now. */
async function buildPage() {
  if (isBuilt) return;
  await build({ root, logLevel: "warn", build: { outDir: page, emptyOutDir: true } });
  isBuilt = true;
}

function repeat(times, work) {
  for (let k = 0; k < times; k++) work();
}

function us(s) {
  return `${Number((s * 1e6).toPrecision(3))} us`;
}

function ratio(x) {
  return x >= 100 ? Math.round(x).toLocaleString("en-GB") : x.toPrecision(3);
}
