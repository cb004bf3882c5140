/**
 * How fast the machine was while the checks ran, so that their budget of wall time is asked of a machine that could have
 * kept it. A probe starts as many processes as the checks keep busy, two, and lets each do the same arithmetic over a
 * working set that fits no first cache. What slows the checks slows the probe: a slower core, a single core, others at
 * work, a host that takes the processor away.
 */
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { availableParallelism, loadavg } from "node:os";

/** Processor time of each process of a probe on the machine the budget was set on, start-up included: measured. */
const REFERENCE_S = 1.0;
const PROCESSES = 2;
/** More of the run than this taken by the host leaves no verdict. */
const MOST_STOLEN = 0.03;

const KERNEL = `
const a = new Float64Array(1 << 17);
let x = 1;
for (let turn = 0; turn < 280; turn++) {
  for (let i = 0; i < a.length; i++) {
    x = (x * 48271) % 2147483647;
    a[(i * 7919) & 131071] += Math.sqrt(x) / (1 + a[i]);
  }
}
if (!(a[0] > 0)) process.exit(1);
`;

/**
 * Seconds until all processes of a probe have done their work.
 * @returns {Promise<number>}
 */
export async function probe() {
  const startNs = process.hrtime.bigint();
  await Promise.all(Array.from({ length: PROCESSES }, one));
  return Number(process.hrtime.bigint() - startNs) / 1e9;
}

function one() {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, ["-e", KERNEL], { stdio: "ignore" });
    child.on("error", fail);
    child.on("close", (code) =>
      code === 0 ? done() : fail(new Error(`probe ended with ${code}`)),
    );
  });
}

/**
 * Processor time of the whole machine so far and what of it its host gave to others, in ticks; zero where the system
 * does not tell.
 * @returns {{ total: number, stolen: number }}
 */
export function hostTicks() {
  try {
    const [first = ""] = readFileSync("/proc/stat", "utf8").split("\n");
    // user, nice, system, idle, iowait, irq, softirq, steal; the rest is counted in them already
    const ticks = first.trim().split(/\s+/).slice(1, 9).map(Number);
    return { total: ticks.reduce((sum, n) => sum + n, 0), stolen: ticks[7] ?? 0 };
  } catch {
    return { total: 0, stolen: 0 };
  }
}

/** True when more processes want to run than there are cores, before the checks have started any. */
export function isBusy() {
  return loadavg()[0] > availableParallelism();
}

/**
 * The budget's verdict. The budget grows with the slowest probe; where others were at work already or the host took
 * processor time away there is none, since no probe says how much that cost.
 * @param {{ budgetS: number, tookS: number, probesS: readonly number[], busyAtStart: boolean, stolenShare: number }} run
 * @returns {{ allowedS: number, failed: boolean, words: string }}
 */
export function budgetVerdict({ budgetS, tookS, probesS, busyAtStart, stolenShare }) {
  const slowness = Math.max(1, ...probesS.map((s) => s / REFERENCE_S));
  const allowedS = budgetS * slowness;
  const speed =
    slowness > 1 ? ` (${budgetS} s on a machine ${slowness.toFixed(2)} times as fast)` : "";
  const of = `${tookS.toFixed(1)} s of ${allowedS.toFixed(0)} s${slowness > 1 ? speed : ""}`;
  if (!(tookS > allowedS)) return { allowedS, failed: false, words: of };
  if (busyAtStart) {
    return { allowedS, failed: false, words: `${of}: over budget, others were at work already` };
  }
  if (stolenShare > MOST_STOLEN) {
    const percent = (100 * stolenShare).toFixed(0);
    return {
      allowedS,
      failed: false,
      words: `${of}: over budget, ${percent} % of the processor went to others`,
    };
  }
  return { allowedS, failed: true, words: `${of}: over budget` };
}
