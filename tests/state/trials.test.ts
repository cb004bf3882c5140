import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { Plan } from "../../src/shells/trials/trialHost";
import { createTrials } from "../../src/state/trials";
import {
  allOutcomes,
  type Mischief,
  Rig,
  slowToSum,
  tinyPlan,
  tinyTrial,
} from "../shells/trials/trialRig";

const project = defaultProject([]);

function page(mischief: readonly Mischief[] = [], plan: Plan = tinyPlan) {
  const rig = new Rig({ workers: 2, mischief, plan });
  const trials = createTrials({ workers: 2, startWorker: rig.startWorker, clock: rig.clock });
  const study = (kind: "tolerance" | "nuisance" = "tolerance") =>
    trials.store.getState().studies[kind];
  /** Until nobody has anything to do any more, not even after a while. */
  const finish = (): void => {
    for (let k = 0; k < 12; k++) {
      rig.settle([0, 1, 2]);
      rig.clock.pass(120);
    }
  };
  return { rig, trials, study, finish };
}

describe("trials of the page", () => {
  it("run a wish to its end: every outcome, the names of the cases, and the sum of all", () => {
    const { trials, study, finish } = page();
    trials.edit("tolerance", { seed: 3, runs: 40 });
    expect(study()).toMatchObject({ standing: "idle", asked: null, wish: { seed: 3, runs: 40 } });
    trials.start("tolerance", project);
    expect([study().standing, trials.store.getState().running]).toEqual(["planning", "tolerance"]);
    finish();
    const outcomes = allOutcomes(3, 40);
    expect(study()).toMatchObject({
      standing: "done",
      outcomes,
      summary: tinyTrial(3, 40).summarise(outcomes),
      summaryOf: 40,
      progress: { done: 40, total: 40 },
      failures: [],
    });
    expect(study().labels[39]).toBe("unit 39");
    expect(study().asked?.project).toBe(project);
    expect(trials.store.getState().running).toBeNull();
  });

  it("show what is known so far, not more often than ten times a second", () => {
    const { rig, trials, study } = page();
    trials.edit("tolerance", { runs: 400 });
    trials.start("tolerance", project);
    let changes = 0;
    const sums = new Set<number>();
    trials.store.subscribe(() => {
      changes += 1;
      sums.add(study().summaryOf);
    });
    const startMs = rig.clock.nowMs();
    while (study().standing !== "done" && changes < 1000) {
      if (!rig.step(1)) rig.clock.pass(50);
    }
    const spanMs = rig.clock.nowMs() - startMs;
    expect(changes).toBeLessThanOrEqual(2 + 1.4 * (spanMs / 100)); // summaries come in between, twice a second at most
    expect(sums.size).toBeGreaterThan(2); // a summary of some, of more, of all
    expect([...sums].every((of, k, all) => k === 0 || of > (all[k - 1] ?? 0))).toBe(true);
  });

  it("are cancelled with what they found, summed up, and go on to the same end", () => {
    const { rig, trials, study, finish } = page();
    trials.edit("tolerance", { seed: 9, runs: 90 });
    trials.start("tolerance", project);
    for (let k = 0; k < 12; k++) rig.step(k);
    trials.cancel();
    expect(study().standing).toBe("cancelled");
    const kept = study().progress.done;
    expect(kept).toBeGreaterThan(0);
    expect(kept).toBeLessThan(90);
    finish();
    expect(study()).toMatchObject({ standing: "cancelled", summaryOf: kept });
    expect((study().summary as { known: number }).known).toBe(kept);
    trials.resume("tolerance");
    expect(study().standing).toBe("running");
    finish();
    expect(study()).toMatchObject({ standing: "done", outcomes: allOutcomes(9, 90) });
  });

  it("are summed up once when they are cancelled, whatever was being summed up", () => {
    const SUM_TURNS = 40;
    const plan: Plan = ({ seed, runs = 0 }) => ({
      ok: true,
      trial: slowToSum(tinyTrial(seed, runs), 3 * SUM_TURNS),
    });
    const { rig, trials, study, finish } = page([], plan);
    trials.edit("tolerance", { runs: 900 });
    trials.start("tolerance", project);
    const [clerk] = rig.workers;
    for (let k = 0, busy = 0; busy < SUM_TURNS; k++) {
      rig.step(k);
      busy = clerk?.isBusy === true ? busy + 1 : 0;
    }
    trials.cancel();
    const kept = study().progress.done;
    expect(study().summaryOf).toBeLessThan(kept);
    let turns = 0;
    for (; study().summaryOf < kept && turns < 1000; turns++) rig.step(0);
    expect(turns).toBeLessThan(SUM_TURNS + 3);
    finish();
    expect(study()).toMatchObject({ standing: "cancelled", summaryOf: kept });
  });

  it("are cancelled and go on even before the cases are counted", () => {
    const { rig, trials, study, finish } = page();
    trials.start("tolerance", project);
    trials.cancel();
    expect(rig.workers.every((worker) => !worker.isOpen)).toBe(true);
    trials.resume("tolerance");
    finish();
    expect(study().standing).toBe("done");
  });

  it("run one at a time: starting another keeps what the first has found", () => {
    const { rig, trials, study, finish } = page();
    trials.edit("tolerance", { runs: 90 });
    trials.start("tolerance", project);
    for (let k = 0; k < 12; k++) rig.step(k);
    trials.start("nuisance", project);
    expect([study().standing, trials.store.getState().running]).toEqual(["cancelled", "nuisance"]);
    finish();
    expect(study("nuisance").standing).toBe("done");
    expect(study().progress.done).toBeGreaterThan(0);
  });

  it("say why a request cannot be run, and forget that when cleared", () => {
    const { trials, study, finish } = page();
    trials.edit("tolerance", { runs: 0 });
    trials.start("tolerance", project);
    finish();
    expect(study()).toMatchObject({ standing: "failed", problem: "There is nothing to run." });
    trials.clear("tolerance");
    expect(study()).toMatchObject({ standing: "idle", problem: "", wish: { runs: 0 } });
  });

  it("name the case that was given up, and end all the same", () => {
    const { trials, study, finish } = page([{ index: 5, how: "throw", times: 9 }]);
    trials.start("tolerance", project);
    finish();
    expect(study()).toMatchObject({
      standing: "done",
      failures: [{ index: 5, label: "unit 5", words: "a slip" }],
      progress: { done: 12, total: 12 },
    });
  });

  it("open a case on the bench, also after the run", async () => {
    const { trials, finish } = page();
    expect(await trials.openOnBench("tolerance", 4)).toBeNull();
    trials.start("tolerance", project);
    finish();
    const opened = trials.openOnBench("tolerance", 4);
    finish();
    expect(await opened).toMatchObject({ atNs: 4 });
  });

  it("call another worker for the sums when theirs ends, and lose nothing", () => {
    const { rig, trials, study, finish } = page();
    trials.edit("tolerance", { seed: 2, runs: 60 });
    trials.start("tolerance", project);
    for (let k = 0; k < 9; k++) rig.step(k);
    rig.workers[0]?.end("out of memory");
    finish();
    expect(study()).toMatchObject({
      standing: "done",
      summary: tinyTrial(2, 60).summarise(allOutcomes(2, 60)),
    });
  });
});
