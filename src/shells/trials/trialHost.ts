/** A worker's side of the pool: plans once, runs what it is handed, one case after the other. No clock, no timers. */
import { planTrial } from "../../study/trials/planTrial";
import type { Steps } from "../../study/trials/steps";
import type { Plain, Trial, TrialPlan, TrialRequest } from "../../study/trials/trial";
import { type CaseResult, type FromTrial, reasonOf, type ToTrial } from "./protocol";

export type Plan = (request: TrialRequest) => TrialPlan;

export class TrialHost {
  private trial: Trial | null = null;
  private waiting: number[] = [];
  /** Of the first that waits, once it has been begun. */
  private steps: Steps<Plain> | null = null;
  /** Results of this worker or of others, for the summary. */
  private readonly kept: (Plain | null)[] = [];
  private keptCount = 0;
  /** Under way, and how many results were kept when it was begun. */
  private summary: { readonly steps: Steps<Plain>; readonly of: number } | null = null;

  constructor(
    private readonly send: (message: FromTrial) => void,
    private readonly plan: Plan = planTrial,
  ) {}

  receive(message: ToTrial): void {
    try {
      this.answer(message);
    } catch (problem) {
      this.send({ kind: "broken", words: reasonOf(problem) });
    }
  }

  get hasWork(): boolean {
    return this.trial !== null && (this.waiting.length > 0 || this.summary !== null);
  }

  /**
   * Runs cases until none is left or `isLate` says so, after one of them or at a pause in its middle, and sends what those that
   * ended gave. What was left in its middle goes on the next time. A summary goes before them.
   */
  work(isLate: () => boolean): void {
    const { trial } = this;
    if (trial === null || !this.goOnSumming(isLate)) return;
    const results: CaseResult[] = [];
    for (const index of this.waiting.slice()) {
      const result = this.goOn(trial, index, isLate);
      if (result === null) break;
      results.push(result);
      this.waiting.shift();
      if (isLate()) break;
    }
    if (results.length > 0) this.send({ kind: "results", results });
  }

  /** False where it is late, with the summary's rest left for the next time. */
  private goOnSumming(isLate: () => boolean): boolean {
    if (this.summary === null) return true;
    const { steps, of } = this.summary;
    try {
      for (;;) {
        const step = steps.next();
        if (step.done === true) {
          this.summary = null;
          this.send({ kind: "summary", summary: step.value, of });
        }
        if (isLate()) return false;
        if (step.done === true) return true;
      }
    } catch (problem) {
      this.summary = null;
      this.send({ kind: "broken", words: reasonOf(problem) });
      return false;
    }
  }

  /** A case up to its end, or to the pause at which it is late: then null. */
  private goOn(trial: Trial, index: number, isLate: () => boolean): CaseResult | null {
    try {
      this.steps ??= trial.steps(index);
      for (;;) {
        const step = this.steps.next();
        if (step.done === true) {
          this.steps = null;
          return { index, outcome: step.value };
        }
        if (isLate()) return null;
      }
    } catch (problem) {
      this.steps = null;
      return { index, failure: reasonOf(problem) };
    }
  }

  private answer(message: ToTrial): void {
    switch (message.kind) {
      case "plan": {
        const planned = this.plan(message.request);
        if (!planned.ok) {
          this.send({ kind: "refused", problem: planned.problem });
          return;
        }
        const { trial } = planned;
        this.trial = trial;
        this.steps = null;
        this.summary = null;
        const { count } = trial;
        const labels = message.labels
          ? Array.from({ length: count }, (_, index) => trial.labelOf(index))
          : [];
        this.send({ kind: "planned", count, labels });
        return;
      }
      case "run":
        this.waiting.push(...message.indices);
        return;
      case "giveBack": {
        // the first stays: it may be under way
        const indices = this.waiting.splice(Math.ceil(this.waiting.length / 2));
        this.send({ kind: "returned", indices });
        return;
      }
      case "keep":
        for (const result of message.results) {
          if ("outcome" in result) this.kept[result.index] = result.outcome;
          this.keptCount += 1;
        }
        return;
      case "summarise": {
        if (this.trial === null) return;
        const outcomes = Array.from({ length: this.trial.count }, (_, i) => this.kept[i] ?? null);
        const of = this.keptCount;
        // one that is under way would be old before it is ready
        this.summary = null;
        const steps = this.trial.summarySteps?.(outcomes);
        if (steps !== undefined) this.summary = { steps, of };
        else this.send({ kind: "summary", summary: this.trial.summarise(outcomes), of });
        return;
      }
      case "open": {
        this.steps = null; // a case under way may share what this takes, and is begun again
        const moment = this.trial?.openOnBench(message.index) ?? null;
        this.send({ kind: "opened", id: message.id, moment });
        return;
      }
    }
  }
}
