/**
 * What a pool of workers and its workers say to each other: plain data. A worker plans the request by itself, then runs the
 * cases it is handed in their order; outcomes come back in groups, a few a second.
 */
import type { BenchMoment, Plain, TrialRequest } from "../../study/trials/trial";

/** What became of one case; `failure` says in words why there is no outcome. */
export type CaseResult =
  | { readonly index: number; readonly outcome: Plain }
  | { readonly index: number; readonly failure: string };

export type ToTrial =
  /** `labels`: whether the answer names the cases. */
  | { readonly kind: "plan"; readonly request: TrialRequest; readonly labels: boolean }
  | { readonly kind: "run"; readonly indices: readonly number[] }
  /** Half of what waits is wanted back: another worker has nothing to do. */
  | { readonly kind: "giveBack" }
  /** Results of others, for the next summary. */
  | { readonly kind: "keep"; readonly results: readonly CaseResult[] }
  /** Instead of one that is under way, if there is one: only the last that was asked for is surely answered. */
  | { readonly kind: "summarise" }
  | { readonly kind: "open"; readonly id: number; readonly index: number };

export type FromTrial =
  | { readonly kind: "planned"; readonly count: number; readonly labels: readonly string[] }
  /** What is wrong with the request or its project. */
  | { readonly kind: "refused"; readonly problem: string }
  | { readonly kind: "results"; readonly results: readonly CaseResult[] }
  | { readonly kind: "returned"; readonly indices: readonly number[] }
  /** `of` results were kept when it was made. */
  | { readonly kind: "summary"; readonly summary: Plain; readonly of: number }
  | { readonly kind: "opened"; readonly id: number; readonly moment: BenchMoment | null }
  /** A fault of the program outside any case. */
  | { readonly kind: "broken"; readonly words: string };

/** A way to one worker. */
export interface TrialPort {
  post(message: ToTrial): void;
  /** `crashed` is called once, when the worker has ended without being asked to. */
  listen(heard: (message: FromTrial) => void, crashed: (words: string) => void): void;
  /** Ends the worker at once, whatever it is doing; nothing is heard afterwards. */
  close(): void;
}

/** The wall clock, for patience and for the time left; it never decides a result. */
export interface PoolClock {
  nowMs(): number;
  /** Calls `work` about every `periodMs`; the answer stops it. */
  every(periodMs: number, work: () => void): () => void;
}

export const WALL_CLOCK: PoolClock = {
  nowMs: () => performance.now(),
  every(periodMs, work) {
    const timer = setInterval(work, periodMs);
    return () => clearInterval(timer);
  },
};

export function reasonOf(problem: unknown): string {
  return problem instanceof Error ? problem.message : String(problem);
}
