/**
 * One trial run from a page: a clerk plans it, sums up what is known and opens cases on the bench; a pool runs the cases. Both
 * work in workers, so the page's own thread only passes on what comes in. What is shown changes a few times a second.
 */
import type { BenchMoment, Plain, TrialRequest } from "../../study/trials/trial";
import { type CaseFailure, type PoolMeans, type PoolProgress, TrialPool } from "./pool";
import type { CaseResult, FromTrial, TrialPort } from "./protocol";

export type TrialStanding =
  | "idle"
  /** Cases are being counted and named. */
  | "planning"
  | "running"
  /** Stopped by somebody, with what was found until then. */
  | "cancelled"
  /** Every case run or given up, and summed up. */
  | "done"
  /** `problem` says why. */
  | "failed";

export interface TrialView {
  readonly standing: TrialStanding;
  readonly problem: string;
  readonly progress: PoolProgress;
  /** By index; names of all cases. */
  readonly labels: readonly string[];
  /** By index; null where a case has not been run or was given up. */
  readonly outcomes: readonly (Plain | null)[];
  readonly failures: readonly CaseFailure[];
  /** Null until there is one; made when `summaryOf` results were known. */
  readonly summary: Plain | null;
  readonly summaryOf: number;
}

export const NO_TRIAL: TrialView = {
  standing: "idle",
  problem: "",
  progress: { done: 0, total: 0, leftS: null },
  labels: [],
  outcomes: [],
  failures: [],
  summary: null,
  summaryOf: 0,
};

const SHOW_EVERY_MS = 100;
/** A summary while cases run is made at most so often, and takes at most a fifth of its worker's time. */
const SUM_EVERY_MS = 500;
const REST_AFTER_SUM = 4;
/** Planning may hold work of its own; a summary of many thousand cases too. */
const CLERK_PATIENCE_MS = 60_000;

export class PageTrial {
  private view: TrialView = { ...NO_TRIAL, standing: "planning" };
  private pool: TrialPool | null = null;
  private clerk: TrialPort | null = null;
  private clerkFailures = 0;
  /** When the clerk was given what it is at; null when it has nothing to do. */
  private clerkSinceMs: number | null = null;
  private isSumming = false;
  private nextSumMs = 0;
  private isSumOld = false;
  private isChanged = false;
  private stopTicking: (() => void) | null = null;
  private nextId = 1;
  private readonly opening = new Map<number, (moment: BenchMoment | null) => void>();

  constructor(
    readonly request: TrialRequest,
    private readonly means: PoolMeans,
    private readonly show: (view: TrialView) => void,
  ) {
    this.show(this.view);
    this.tick();
    this.callClerk();
  }

  cancel(): void {
    const { standing } = this.view;
    if (standing !== "planning" && standing !== "running") return;
    this.pool?.cancel();
    if (this.pool === null) this.dismissClerk();
    this.change({ standing: "cancelled" });
    // what is being summed up is not all that is known: begun anew rather than ended first
    if (this.isSumming) this.clerkSinceMs = null;
    this.sumUp();
  }

  /** Goes on where it was cancelled. */
  resume(): void {
    if (this.view.standing !== "cancelled") return;
    this.tick();
    if (this.clerk === null) this.callClerk();
    this.change({ standing: this.pool === null ? "planning" : "running" });
    this.pool?.start();
  }

  /** Ends all work at once; nothing is shown afterwards. */
  close(): void {
    this.pool?.cancel();
    this.dismissClerk();
    this.stopTicking?.();
    this.stopTicking = null;
  }

  /** Null where the case has no moment to show, or nothing can be worked out any more. */
  openOnBench(index: number): Promise<BenchMoment | null> {
    const { clerk } = this;
    if (clerk === null) return Promise.resolve(null);
    const id = this.nextId++;
    return new Promise((resolve) => {
      this.opening.set(id, resolve);
      clerk.post({ kind: "open", id, index });
    });
  }

  // ------------------------------------------------------------------ the clerk

  private callClerk(): void {
    const port = this.means.startWorker();
    this.clerk = port;
    this.clerkSinceMs = this.means.clock.nowMs();
    port.listen(
      (message) => this.heard(message),
      (words) => this.loseClerk(words),
    );
    port.post({ kind: "plan", request: this.request, labels: true });
  }

  private dismissClerk(): void {
    this.clerk?.close();
    this.clerk = null;
    this.clerkSinceMs = null;
    this.isSumming = false;
    for (const resolve of this.opening.values()) resolve(null);
    this.opening.clear();
  }

  /** Called once more; what was found is told again. */
  private loseClerk(words: string): void {
    this.dismissClerk();
    this.clerkFailures += 1;
    if (this.clerkFailures > 1) this.fail(words);
    else this.callClerk();
  }

  private heard(message: FromTrial): void {
    switch (message.kind) {
      case "planned":
        this.clerkSinceMs = null;
        this.begin(message.count, message.labels);
        return;
      case "refused":
        this.fail(message.problem);
        return;
      case "summary":
        this.takeSummary(message.summary, message.of);
        return;
      case "opened":
        this.opening.get(message.id)?.(message.moment);
        this.opening.delete(message.id);
        return;
      case "broken":
        this.loseClerk(message.words);
        return;
      default:
        return;
    }
  }

  private begin(count: number, labels: readonly string[]): void {
    if (this.pool !== null) {
      const known = this.pool.outcomes.flatMap((outcome, index) =>
        outcome === null ? [] : [{ index, outcome }],
      );
      this.clerk?.post({ kind: "keep", results: known });
      this.sumUp();
      return;
    }
    const indices = Array.from({ length: count }, (_, index) => index);
    const labelOf = (index: number) => labels[index] ?? String(index);
    this.pool = new TrialPool({ request: this.request, count, indices, labelOf }, this.means, {
      results: (results) => this.collect(results),
      done: () => this.sumUp(),
      broken: (words) => this.fail(words),
    });
    const { progress, outcomes } = this.pool;
    this.change({ standing: "running", labels, progress, outcomes: [...outcomes] });
    this.pool.start();
  }

  private collect(results: readonly CaseResult[]): void {
    this.clerk?.post({ kind: "keep", results });
    this.isSumOld = true;
    this.isChanged = true;
  }

  private sumUp(): void {
    if (this.clerk === null || this.clerkSinceMs !== null) return;
    this.clerkSinceMs = this.means.clock.nowMs();
    this.isSumOld = false;
    this.isSumming = true;
    this.clerk.post({ kind: "summarise" });
  }

  private takeSummary(summary: Plain, of: number): void {
    const nowMs = this.means.clock.nowMs();
    const tookMs = nowMs - (this.clerkSinceMs ?? nowMs);
    this.clerkSinceMs = null;
    this.isSumming = false;
    this.nextSumMs = nowMs + Math.max(SUM_EVERY_MS, REST_AFTER_SUM * tookMs);
    const isRunning = this.view.standing === "running";
    if (this.isSumOld && !(isRunning && this.pool?.isRunning)) this.sumUp(); // the last results came meanwhile
    const isDone = isRunning && this.pool?.isRunning === false && !this.isSumOld;
    this.isChanged = true;
    this.change({
      summary,
      summaryOf: of,
      ...(isDone && this.clerkSinceMs === null ? { standing: "done" } : {}),
    });
  }

  // ------------------------------------------------------------------ what is shown

  private fail(problem: string): void {
    this.pool?.cancel();
    this.change({ standing: "failed", problem });
  }

  private tick(): void {
    this.stopTicking ??= this.means.clock.every(SHOW_EVERY_MS, () => {
      const nowMs = this.means.clock.nowMs();
      if (this.clerkSinceMs !== null && nowMs - this.clerkSinceMs > CLERK_PATIENCE_MS) {
        this.loseClerk("its worker hung");
      }
      if (this.isSumOld && nowMs >= this.nextSumMs) this.sumUp();
      if (this.isChanged) this.change({});
      const { standing } = this.view;
      if (standing === "planning" || standing === "running" || this.clerkSinceMs !== null) return;
      this.stopTicking?.();
      this.stopTicking = null;
    });
  }

  private change(change: Partial<TrialView>): void {
    const { pool } = this;
    const news =
      pool === null || !this.isChanged
        ? {}
        : {
            progress: pool.progress,
            outcomes: [...pool.outcomes],
            failures: [...pool.failures],
          };
    this.isChanged = false;
    this.view = { ...this.view, ...news, ...change };
    this.show(this.view);
  }
}
