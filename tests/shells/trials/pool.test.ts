import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";
import { allOutcomes, pausingPlan, rigPool } from "./trialRig";

const picks = fc.array(fc.nat(20), { minLength: 1, maxLength: 40 });

describe("a pool of workers", () => {
  it("gives the same outcomes for any number of workers, any order of their turns, any share and any pauses", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 1, max: 90 }),
        fc.integer({ min: 1, max: 12 }),
        picks,
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 0, max: 3 }),
        (workers, count, partsATurn, order, shares, pauses) => {
          const plan = pausingPlan(pauses);
          const whole = allOutcomes(3, count);
          const joined = Array.from({ length: count }, () => null as unknown);
          for (let share = 0; share < shares; share++) {
            const indices = whole.map((_, i) => i).filter((i) => i % shares === share);
            const run = rigPool({ workers, partsATurn, plan }, { seed: 3, count, indices });
            run.pool.start();
            run.rig.settle(order);
            expect([run.said.done, run.said.broken]).toEqual([1, []]);
            // every case once
            expect(run.said.results.map((r) => r.index).sort((a, b) => a - b)).toEqual(indices);
            for (const i of indices) joined[i] = run.pool.outcomes[i];
          }
          expect(joined).toEqual(whole);
        },
      ),
      fixedRuns(40),
    );
  });

  it("starts no more workers than there are cases, and ends them when all is done", () => {
    const { rig, pool } = rigPool({ workers: 8 }, { seed: 1, count: 3 });
    pool.start();
    expect(rig.workers).toHaveLength(3);
    rig.settle();
    expect(rig.workers.every((worker) => !worker.isOpen)).toBe(true);
    expect(pool.isRunning).toBe(false);
  });

  it("is done at once where nothing is asked", () => {
    const { pool, said, rig } = rigPool({ workers: 2 }, { seed: 1, count: 5, indices: [] });
    pool.start();
    expect([said.done, rig.workers.length]).toEqual([1, 0]);
  });

  it("stops when cancelled, keeps what it has, and goes on to the same outcomes", () => {
    fc.assert(
      fc.property(picks, fc.integer({ min: 0, max: 30 }), fc.nat(3), (order, turns, pauses) => {
        const setting = { workers: 3, plan: pausingPlan(pauses) };
        const { rig, pool, said } = rigPool(setting, { seed: 5, count: 60 });
        pool.start();
        for (let k = 0; k < turns; k++) rig.step(order[k % order.length] ?? 0);
        pool.cancel();
        // nobody works on
        expect(rig.workers.every((worker) => !worker.isOpen)).toBe(true);
        expect(rig.step(0)).toBe(false);
        const kept = pool.progress.done;
        expect(said.results).toHaveLength(kept);
        expect(pool.outcomes.filter((outcome) => outcome !== null)).toHaveLength(kept);
        pool.start();
        rig.settle(order);
        expect(said.done).toBe(1);
        expect(pool.outcomes).toEqual(allOutcomes(5, 60));
        expect(said.results).toHaveLength(60); // none run for nothing
      }),
      fixedRuns(25),
    );
  });

  it("says how many are done of how many, and the time left at the pace so far", () => {
    const { rig, pool } = rigPool({ workers: 1, partsATurn: 1 }, { seed: 2, count: 40 });
    expect(pool.progress).toEqual({ done: 0, total: 40, leftS: null });
    pool.start();
    for (let k = 0; k < 21; k++) rig.step(0); // the first plans, then a case a turn of 7 ms
    expect(pool.progress).toMatchObject({ done: 20, total: 40 });
    expectWithin(
      pool.progress.leftS ?? 0,
      20 * 0.007,
      1e-9,
      "20 cases at 7 ms each, rounding of the sums alone",
    );
    pool.cancel(); // the pace stands with the run
    rig.clock.pass(5000);
    expectWithin(pool.progress.leftS ?? 0, 20 * 0.007, 1e-9, "as it was");
  });

  it("takes results of an earlier run as done", () => {
    const { rig, pool, said } = rigPool({ workers: 2 }, { seed: 2, count: 10 });
    const earlier = allOutcomes(2, 10).slice(0, 4);
    pool.take(earlier.map((outcome, index) => ({ index, outcome })));
    pool.start();
    rig.settle();
    expect(said.results.map((r) => r.index).sort((a, b) => a - b)).toEqual([4, 5, 6, 7, 8, 9]);
    expect(pool.outcomes).toEqual(allOutcomes(2, 10));
  });

  it("shares what a full worker holds with one that has nothing to do", () => {
    const { rig, pool, said } = rigPool({ workers: 2, partsATurn: 1 }, { seed: 2, count: 64 });
    pool.start();
    // the first worker is quick at first and then falls asleep on a full list
    rig.step(0);
    for (let k = 0; k < 12; k++) rig.step(0);
    const [slow, quick] = rig.workers;
    let guard = 0;
    while (said.done === 0 && guard++ < 500) {
      rig.clock.pass(5);
      // one turn of the slow one for eight of the quick one
      if (guard % 8 === 0 && slow?.canWork) slow.turn();
      else if (quick?.canWork) quick.turn();
    }
    expect(said.done).toBe(1);
    expect(pool.outcomes).toEqual(allOutcomes(2, 64));
  });
});

describe("neighbouring cases", () => {
  it("go to the same worker: with two, each has a half, and the quicker takes of the slower's in the end", () => {
    const { rig, pool, said } = rigPool({ workers: 2, partsATurn: 2 }, { seed: 2, count: 40 });
    pool.start();
    rig.settle([0, 1]);
    expect(said.done).toBe(1);
    const [first = [], second = []] = rig.workers.map((worker) => worker.ran);
    expect(first.slice(0, 12)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(second.slice(0, 12)).toEqual([20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31]);
  });
});

describe("a worker that fails", () => {
  it.each(["crash", "throw"] as const)("has its case run again once, after a %s", (how) => {
    const { rig, pool, said } = rigPool(
      { workers: 2, mischief: [{ index: 11, how, times: 1 }] },
      { seed: 4, count: 50 },
    );
    pool.start();
    rig.settle([0, 1, 1]);
    expect([said.done, said.broken, pool.failures]).toEqual([1, [], []]);
    expect(pool.outcomes).toEqual(allOutcomes(4, 50));
  });

  it.each([
    ["crash", "out of memory"],
    ["throw", "a slip"],
  ] as const)(
    "is reported by the label of its case after the second %s, and all others are run",
    (how, words) => {
      const { rig, pool, said } = rigPool(
        { workers: 3, mischief: [{ index: 11, how, times: 99 }] },
        { seed: 4, count: 50 },
      );
      pool.start();
      rig.settle([0, 2, 1]);
      expect(said.done).toBe(1);
      expect(pool.failures).toEqual([{ index: 11, label: "unit 11", words }]);
      const expected: unknown[] = allOutcomes(4, 50);
      expected[11] = null;
      expect(pool.outcomes).toEqual(expected);
      expect(pool.progress).toMatchObject({ done: 50, total: 50 });
    },
  );

  it("is noticed within 3 s of silence and replaced; its case is given up after the second time", () => {
    const { rig, pool, said } = rigPool(
      { workers: 2, mischief: [{ index: 6, how: "hang", times: 2 }] },
      { seed: 4, count: 20 },
    );
    pool.start();
    rig.settle();
    const before = rig.workers.length;
    rig.clock.pass(3000);
    expect(rig.workers.length).toBe(before + 1);
    rig.settle();
    expect(said.done).toBe(0); // alone it is given more time
    rig.clock.pass(60_000);
    rig.settle();
    expect(said.done).toBe(1);
    expect(pool.failures).toEqual([{ index: 6, label: "unit 6", words: "its worker hung" }]);
  });

  it("is not taken for hung because nobody looked: a machine that slept", () => {
    const { rig, pool } = rigPool(
      { workers: 1, mischief: [{ index: 2, how: "hang", times: 1 }] },
      { seed: 4, count: 5 },
    );
    pool.start();
    rig.settle();
    rig.clock.sleep(3_600_000);
    expect(rig.workers).toHaveLength(1);
    rig.clock.pass(3000);
    expect(rig.workers).toHaveLength(2);
    expect(pool.isRunning).toBe(true);
  });

  it("ends the run in words where no worker can be started, and keeps what was found", () => {
    const { rig, pool, said } = rigPool({ workers: 2 }, { seed: 4, count: 0, indices: [0, 1, 2] });
    pool.start();
    rig.settle();
    expect(said.broken).toEqual(["There is nothing to run."]);
    expect(pool.isRunning).toBe(false);
  });
});
