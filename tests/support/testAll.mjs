/**
 * `npm test`: every check of the project, each stage timed, one summary line `N passed, N failed` at the end.
 *
 * Static checks run beside unit, reference, property and component tests; the built page is tested after them, two
 * pages at a time. Each static check counts as one test, and so does the time the run took: over its budget it has
 * failed, where the machine could have kept it (machineSpeed.mjs). A skipped test counts as failed: nothing here may be
 * skipped. The whole run is stopped, and failed, after 1500 s. Fetching a browser on a fresh machine is no part of
 * either time.
 */
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { findChromium } from "./findChromium.mjs";
import { budgetVerdict, hostTicks, isBusy, probe } from "./machineSpeed.mjs";

/** A hang guard. */
const LIMIT_S = 1500;
/** What all checks may take on two free cores. */
const BUDGET_S = 420;
const root = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const cache = resolve(root, "node_modules/.cache/quietarc");
const unitReport = resolve(cache, "unit-tests.json");
const browserReport = resolve(cache, "browser-tests.json");
const running = new Set();
let passed = 0;
let failed = 0;
let stopped = false;

mkdirSync(cache, { recursive: true });

const lookS = await timed(async () => {
  try {
    process.env.CHROMIUM_PATH = findChromium();
  } catch (problem) {
    delete process.env.CHROMIUM_PATH;
    console.log(`FAILED  browser: ${problem.message}`);
    failed += 1;
  }
});
console.log(`        browser at ${process.env.CHROMIUM_PATH ?? "none"} (${lookS.toFixed(1)} s)`);

const guard = setTimeout(stopAll, LIMIT_S * 1000);
const busyAtStart = isBusy();
const before = hostTicks();
const probesS = [await probe()];
const checksS = await timed(() => Promise.all([staticChecks(), unitTests()]));
probesS.push(await probe());
const pageS = await timed(builtPage);
probesS.push(await probe());
clearTimeout(guard);
judgeTime(checksS + pageS);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;

/** The probes are no part of the time they judge. */
function judgeTime(tookS) {
  const after = hostTicks();
  const ticks = after.total - before.total;
  const stolenShare = ticks > 0 ? (after.stolen - before.stolen) / ticks : 0;
  const verdict = budgetVerdict({ budgetS: BUDGET_S, tookS, probesS, busyAtStart, stolenShare });
  if (verdict.failed) failed += 1;
  else passed += 1;
  console.log(`${verdict.failed ? "FAILED" : "ok    "}  all stages: ${verdict.words}`);
}

async function staticChecks() {
  await check("types, core", "typescript7", "bin/tsc", ["-p", "tsconfig.core.json"]);
  await check("types, all", "typescript7", "bin/tsc", ["-p", "tsconfig.json"]);
  await check("lint and format", "@biomejs/biome", "bin/biome", [
    "ci",
    "--colors=off",
    "--error-on-warnings",
    ".",
  ]);
  await check("unused code", "knip", "bin/knip.js", ["--no-progress"]);
}

async function builtPage() {
  const built = await check("build", "vite", "bin/vite.js", ["build", "--logLevel", "warn"]);
  if (!built || process.env.CHROMIUM_PATH === undefined) {
    report("browser tests", 0, false, "not run: they need the built page and a browser");
    failed += 1;
    return;
  }
  await counted("browser tests", browserReport, browserCount, "@playwright/test", "cli.js", [
    "test",
    "--config=tests/browser/playwright.config.ts",
    "--reporter=list,json",
  ]);
}

async function unitTests() {
  await counted("unit tests", unitReport, unitCount, "vitest", "vitest.mjs", [
    "run",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${unitReport}`,
  ]);
}

/** One check that either holds or does not. */
async function check(name, pkg, bin, args) {
  const { ok, seconds, output } = await run(pkg, bin, args);
  if (ok) passed += 1;
  else failed += 1;
  report(name, seconds, ok, ok ? "" : output);
  return ok;
}

/** A test program that writes a report of its own to count from. */
async function counted(name, reportFile, count, pkg, bin, args) {
  rmSync(reportFile, { force: true });
  const { ok, seconds, output } = await run(pkg, bin, args);
  let result = { passed: 0, failed: 0, skipped: 0, again: 0 };
  try {
    result = count(JSON.parse(readFileSync(reportFile, "utf8")));
  } catch {
    // No report: the program broke off; its exit code says so below.
  }
  let bad = result.failed + result.skipped;
  if (bad === 0 && (!ok || result.passed === 0)) bad = 1;
  passed += result.passed;
  failed += bad;
  const skipped = result.skipped > 0 ? `, ${result.skipped} of them skipped` : "";
  const again = result.again > 0 ? `, ${result.again} again after the browser broke off` : "";
  report(
    `${name}: ${result.passed} passed${again}, ${bad} failed${skipped}`,
    seconds,
    bad === 0,
    output,
  );
}

function unitCount(json) {
  // A file that cannot even be loaded has no tests to count.
  const unloadable = json.testResults.filter(
    (file) => file.status === "failed" && file.assertionResults.length === 0,
  ).length;
  return {
    passed: json.numPassedTests,
    failed: json.numFailedTests + unloadable,
    skipped: json.numPendingTests + json.numTodoTests,
    again: 0,
  };
}

function browserCount({ stats, errors }) {
  return {
    passed: stats.expected + stats.flaky,
    failed: stats.unexpected + errors.length,
    skipped: stats.skipped,
    // a second attempt is given to what a browser without frames broke, and to nothing else (pageTest.ts)
    again: stats.flaky,
  };
}

function report(name, seconds, ok, output) {
  console.log(`${ok ? "ok    " : "FAILED"}  ${name} (${seconds.toFixed(1)} s)`);
  if (!ok && output.trim() !== "") console.log(output.trimEnd().replaceAll(/^/gm, "  | "));
}

async function timed(work) {
  const startNs = process.hrtime.bigint();
  await work();
  return Number(process.hrtime.bigint() - startNs) / 1e9;
}

/** Runs a program of an installed package with this Node, in its own process group so that it can be stopped whole. */
async function run(pkg, bin, args) {
  if (stopped) return { ok: false, seconds: 0, output: "not run: the time was up" };
  let output = "";
  let ok = false;
  const seconds = await timed(
    () =>
      new Promise((done) => {
        const child = spawn(process.execPath, [resolve(root, "node_modules", pkg, bin), ...args], {
          cwd: root,
          stdio: ["ignore", "pipe", "pipe"],
          detached: process.platform !== "win32",
          env: {
            ...process.env,
            CI: "true",
            NO_COLOR: "1",
            FORCE_COLOR: undefined,
            PLAYWRIGHT_JSON_OUTPUT_FILE: browserReport,
          },
        });
        running.add(child);
        child.stdout.on("data", (chunk) => {
          output += chunk;
        });
        child.stderr.on("data", (chunk) => {
          output += chunk;
        });
        child.on("error", (problem) => {
          output += problem.message;
        });
        child.on("close", (code) => {
          running.delete(child);
          ok = code === 0;
          done();
        });
      }),
  );
  return { ok, seconds, output };
}

function stopAll() {
  stopped = true;
  console.log(`FAILED  the run took longer than ${LIMIT_S} s and was stopped`);
  failed += 1;
  for (const child of running) {
    try {
      if (process.platform === "win32") child.kill("SIGKILL");
      else process.kill(-child.pid, "SIGKILL");
    } catch {
      // It ended by itself in between.
    }
  }
}

for (const signal of ["SIGINT", "SIGTERM"]) {
  process.on(signal, () => {
    stopAll();
    process.exit(1);
  });
}
