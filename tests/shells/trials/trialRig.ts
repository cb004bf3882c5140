/** A pool's workers without threads: who works next, who crashes and what time it is, the test decides. */

import { defaultProject } from "../../../src/project/defaults";
import { TrialPool } from "../../../src/shells/trials/pool";
import type {
  CaseResult,
  FromTrial,
  PoolClock,
  ToTrial,
  TrialPort,
} from "../../../src/shells/trials/protocol";
import { type Plan, TrialHost } from "../../../src/shells/trials/trialHost";
import { drained, type Steps } from "../../../src/study/trials/steps";
import type { Plain, Trial, TrialPlan, TrialRequest } from "../../../src/study/trials/trial";

/** Cases whose outcomes tell them apart, with so many pauses each, and a summary that depends on the order of its sum. */
export function tinyTrial(seed: number, count: number, pauses = 0): Trial {
  const trial: Trial = {
    kind: "tolerance",
    count,
    labelOf: (index) => `unit ${index}`,
    run: (index) => drained(trial.steps(index)),
    *steps(index) {
      for (let k = 0; k < pauses; k++) yield;
      return { value: ((index * 7919 + seed * 104_729) % 1009) / 7, index };
    },
    openOnBench: (index) => ({ project: defaultProject([]), atNs: index }),
    summarise: (outcomes) => {
      let sum = 0;
      let known = 0;
      for (const outcome of outcomes) {
        if (outcome === null) continue;
        known += 1;
        sum = sum / 3 + (outcome as { value: number }).value;
      }
      return { sum, known };
    },
  };
  return trial;
}

export function tinyPlan(request: TrialRequest): TrialPlan {
  const count = request.runs ?? 12;
  if (request.kind === "coverage" && request.runs !== undefined)
    return { ok: false, problem: "It counts its own cases.", at: "runs" };
  if (request.options?.swr === 0.5)
    return { ok: false, problem: "options.swr has to be 1 or more", at: "options" };
  if (count === 0) return { ok: false, problem: "There is nothing to run." };
  return { ok: true, trial: tinyTrial(request.seed, count) };
}

/** A trial whose sum has so many pauses. */
export function slowToSum(trial: Trial, pauses: number): Trial {
  return {
    ...trial,
    *summarySteps(outcomes) {
      for (let k = 0; k < pauses; k++) yield;
      return trial.summarise(outcomes);
    },
  };
}

/** Of cases with so many pauses each. */
export function pausingPlan(pauses: number): Plan {
  return ({ seed, runs = 12 }) => ({ ok: true, trial: tinyTrial(seed, runs, pauses) });
}

export function tinyRequest(seed: number, runs: number): TrialRequest {
  return { kind: "tolerance", project: defaultProject([]), seed, runs };
}

/** How often a case ends its worker, hangs it or throws before it works. */
export interface Mischief {
  readonly index: number;
  readonly how: "crash" | "hang" | "throw";
  times: number;
}

export class ManualClock implements PoolClock {
  private ms = 0;
  private readonly watchers = new Set<{ periodMs: number; nextMs: number; work: () => void }>();

  nowMs(): number {
    return this.ms;
  }

  every(periodMs: number, work: () => void): () => void {
    const watcher = { periodMs, nextMs: this.ms + periodMs, work };
    this.watchers.add(watcher);
    return () => this.watchers.delete(watcher);
  }

  /** Time passes, and nobody is called until its end. */
  sleep(ms: number): void {
    this.ms += ms;
    for (const watcher of this.watchers) {
      watcher.nextMs = this.ms + watcher.periodMs;
      watcher.work();
    }
  }

  pass(ms: number): void {
    const endMs = this.ms + ms;
    for (;;) {
      const next = [...this.watchers].sort((a, b) => a.nextMs - b.nextMs)[0];
      if (next === undefined || next.nextMs > endMs) break;
      this.ms = next.nextMs;
      next.nextMs += next.periodMs;
      next.work();
    }
    this.ms = endMs;
  }
}

class RigWorker implements TrialPort {
  isOpen = true;
  isHung = false;
  /** Cases in the order in which they were run. */
  readonly ran: number[] = [];
  private inbox: ToTrial[] = [];
  private heard: (message: FromTrial) => void = () => {};
  private crashed: (words: string) => void = () => {};
  private readonly host: TrialHost;

  constructor(
    private readonly mischief: readonly Mischief[],
    private readonly partsATurn: number,
    plan: Plan,
  ) {
    this.host = new TrialHost(
      (message) => {
        if (this.isOpen && !this.isHung) this.heard(structuredClone(message));
      },
      (request) => {
        const planned = plan(request);
        if (!planned.ok) return planned;
        const { trial } = planned;
        return { ok: true, trial: { ...trial, steps: (index) => this.steps(trial, index) } };
      },
    );
  }

  post(message: ToTrial): void {
    if (this.isOpen) this.inbox.push(message);
  }

  listen(heard: (message: FromTrial) => void, crashed: (words: string) => void): void {
    this.heard = heard;
    this.crashed = crashed;
  }

  close(): void {
    this.isOpen = false;
  }

  end(words: string): void {
    this.isOpen = false;
    this.crashed(words);
  }

  get canWork(): boolean {
    return this.isOpen && !this.isHung && (this.inbox.length > 0 || this.host.hasWork);
  }

  /** Has something in hand, not only in its inbox. */
  get isBusy(): boolean {
    return this.isOpen && this.host.hasWork;
  }

  turn(): void {
    const said = this.inbox;
    this.inbox = [];
    for (const message of said) this.host.receive(message);
    let left = this.partsATurn;
    this.host.work(() => --left <= 0 || !this.isOpen || this.isHung);
  }

  private *steps(trial: Trial, index: number): Steps<Plain> {
    this.ran.push(index);
    const found = this.mischief.find((one) => one.index === index && one.times > 0);
    if (found !== undefined) {
      found.times -= 1;
      if (found.how === "throw") throw new Error("a slip");
      if (found.how === "hang") this.isHung = true;
      else this.end("out of memory");
    }
    return yield* trial.steps(index);
  }
}

export interface RigSetting {
  readonly workers: number;
  /** Cases, or what lies between their pauses. */
  readonly partsATurn?: number;
  readonly mischief?: readonly Mischief[];
  readonly plan?: Plan;
}

export class Rig {
  readonly clock = new ManualClock();
  readonly workers: RigWorker[] = [];

  constructor(private readonly setting: RigSetting) {}

  readonly startWorker = (): TrialPort => {
    const worker = new RigWorker(
      this.setting.mischief ?? [],
      this.setting.partsATurn ?? 3,
      this.setting.plan ?? tinyPlan,
    );
    this.workers.push(worker);
    return worker;
  };

  /** One turn of one worker that has something to do, chosen by `pick`; false when all wait. */
  step(pick: number): boolean {
    const able = this.workers.filter((worker) => worker.canWork);
    const worker = able[pick % Math.max(able.length, 1)];
    if (worker === undefined) return false;
    this.clock.pass(7);
    worker.turn();
    return true;
  }

  /** Steps until nobody has anything to do. */
  settle(picks: readonly number[] = [0]): void {
    for (let k = 0; this.step(picks[k % picks.length] ?? 0); k++) {
      if (k > 100_000) throw new Error("the workers never come to rest");
    }
  }
}

/** A pool on a rig, and what it said. */
export function rigPool(
  setting: RigSetting,
  task: { readonly seed: number; readonly count: number; readonly indices?: readonly number[] },
) {
  const rig = new Rig(setting);
  const said: { results: CaseResult[]; done: number; broken: string[] } = {
    results: [],
    done: 0,
    broken: [],
  };
  const pool = new TrialPool(
    {
      request: tinyRequest(task.seed, task.count),
      count: task.count,
      indices: task.indices ?? Array.from({ length: task.count }, (_, i) => i),
      labelOf: (index) => `unit ${index}`,
    },
    { workers: setting.workers, startWorker: rig.startWorker, clock: rig.clock },
    {
      results: (results) => said.results.push(...results),
      done: () => {
        said.done += 1;
      },
      broken: (words) => said.broken.push(words),
    },
  );
  return { rig, pool, said };
}

/** What one worker after the other cases would give: the cases run here, in order. */
export function allOutcomes(seed: number, count: number) {
  const trial = tinyTrial(seed, count);
  return Array.from({ length: count }, (_, index) => trial.run(index));
}
