/** A worker's side of the pool: plans once, runs what it is handed, one case after the other. No clock, no timers. */
import { planTrial } from "../../study/trials/planTrial";
import type { Plain, Trial, TrialPlan, TrialRequest } from "../../study/trials/trial";
import { type CaseResult, type FromTrial, reasonOf, type ToTrial } from "./protocol";

export type Plan = (request: TrialRequest) => TrialPlan;

export class TrialHost {
  private trial: Trial | null = null;
  private waiting: number[] = [];
  /** Results of this worker or of others, for the summary. */
  private readonly kept: (Plain | null)[] = [];
  private keptCount = 0;

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
    return this.trial !== null && this.waiting.length > 0;
  }

  /** Runs cases until none is left or `isLate` says so after one of them, and sends what they gave. */
  work(isLate: () => boolean): void {
    const { trial } = this;
    if (trial === null) return;
    const results: CaseResult[] = [];
    let index = this.waiting.shift();
    while (index !== undefined) {
      results.push(resultOf(trial, index));
      index = isLate() ? undefined : this.waiting.shift();
    }
    if (results.length > 0) this.send({ kind: "results", results });
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
        const summary = this.trial.summarise(outcomes);
        this.send({ kind: "summary", summary, of: this.keptCount });
        return;
      }
      case "open": {
        const moment = this.trial?.openOnBench(message.index) ?? null;
        this.send({ kind: "opened", id: message.id, moment });
        return;
      }
    }
  }
}

function resultOf(trial: Trial, index: number): CaseResult {
  try {
    return { index, outcome: trial.run(index) };
  } catch (problem) {
    return { index, failure: reasonOf(problem) };
  }
}
