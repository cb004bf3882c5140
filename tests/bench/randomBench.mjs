/** One hundred random stations and fault orders of ten simulated seconds, each run twice: some 25 minutes of one core. */

/**
 * @param {(index: number, endS: number) => import("../support/randomRuns").RandomRun} randomRun
 * @returns what the runs came to; `amiss` in words what was not finite or made another record
 */
export function measureRandom(randomRun) {
  const count = Number(process.env.QUIETARC_BENCH_RANDOM ?? 100);
  const endS = Number(process.env.QUIETARC_BENCH_RANDOM_S ?? 10);
  const amiss = [];
  const runs = [];
  for (let index = 0; index < count; index++) {
    try {
      runs.push(randomRun(index, endS));
    } catch (problem) {
      amiss.push(`number ${index}: ${problem instanceof Error ? problem.message : problem}`);
    }
  }
  const worst = (of) => Math.max(0, ...runs.map(of));
  const sum = (of) => runs.reduce((total, run) => total + of(run), 0);
  return {
    words: `${count} of ${endS} s, run twice; ${runs.filter((r) => r.trips.length > 0).length} tripped`,
    amiss,
    instants: sum((r) => r.instants),
    instant: worst((r) => r.instant),
    windows: sum((r) => r.windows),
    window: worst((r) => r.window),
  };
}
