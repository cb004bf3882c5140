/**
 * Runs the cases of a trial on several workers. Of a trial it knows the request and the numbers of its cases, nothing else;
 * what it collects stands under those numbers, so the result is the same for any number of workers and any order.
 *
 * Workers are handed a tenth of a second of cases at a time. One that ends by itself, or is silent for longer than a case
 * can be expected to take, is replaced; what it held is run again case by case, each alone, with twenty times the patience. A
 * case that fails then too is given up and reported. The clock decides when to hand out and when to stop waiting, never
 * what an outcome is.
 */
import type { Plain, TrialRequest } from "../../study/trials/trial";
import type { CaseResult, FromTrial, PoolClock, TrialPort } from "./protocol";
import { Slot } from "./slot";
import { Stock } from "./stock";

/** A first look is taken after so long, well within the 3 s in which a hung worker has to be noticed. */
const PATIENCE_MS = 2600;
/** Longer where cases of this trial are known to take longer. */
const PATIENCE_IN_LONGEST_CASES = 2;
const PATIENCE_ALONE = 20;
/** Planning may hold work of its own, such as a map that all cases share. */
const PLANNING_PATIENCE_MS = 60_000;
const LOOK_EVERY_MS = 250;
/** No look counts for more: a machine that slept, or a page that was held up, tells nothing about its workers. */
const MOST_A_LOOK_MS = 400;
const BATCH_MS = 100;
const MOST_IN_A_BATCH = 256;
/** Workers that end before they are ready, in a row, until the pool gives up. */
const FAILED_STARTS = 3;

export interface PoolProgress {
  readonly done: number;
  readonly total: number;
  /** At the pace of this stretch; null until there is one. */
  readonly leftS: number | null;
}

export interface CaseFailure {
  readonly index: number;
  readonly label: string;
  readonly words: string;
}

export interface PoolTask {
  readonly request: TrialRequest;
  /** Of all cases of the trial. */
  readonly count: number;
  /** Those to be run here, each once. */
  readonly indices: readonly number[];
  readonly labelOf: (index: number) => string;
}

export interface PoolMeans {
  readonly workers: number;
  readonly startWorker: () => TrialPort;
  readonly clock: PoolClock;
}

export interface PoolListener {
  /** New results, failures among them; `progress` is what they lead to. */
  results(results: readonly CaseResult[], progress: PoolProgress): void;
  /** Every case has its outcome or has been given up. */
  done(): void;
  /** The workers cannot be used; what was found is kept. */
  broken(words: string): void;
}

export class TrialPool {
  /** By index of the trial; null where a case has not been run, or was given up. */
  readonly outcomes: (Plain | null)[];
  readonly failures: CaseFailure[] = [];
  private doneCount = 0;
  private isDone = false;
  private readonly stock: Stock;
  /** Held by a worker that ended: to be run alone. */
  private doubtful: number[] = [];
  private readonly tried = new Set<number>();
  private slots: Slot[] = [];
  private stopLooking: (() => void) | null = null;
  private lookedAtMs = 0;
  /** Time of the pool at the last look: time that nobody watched is left out. */
  private lookedMs = 0;
  private failedStarts = 0;
  private longestMs = 0;
  private averageMs = 0;
  /** Begins with the first worker that is ready. */
  private stretchAtMs: number | null = null;
  private stretchDone = 0;

  constructor(
    private readonly task: PoolTask,
    private readonly means: PoolMeans,
    private readonly listener: PoolListener,
  ) {
    this.outcomes = new Array<Plain | null>(task.count).fill(null);
    this.stock = new Stock(task.indices);
  }

  get isRunning(): boolean {
    return this.stopLooking !== null;
  }

  get progress(): PoolProgress {
    const total = this.task.indices.length;
    const left = total - this.doneCount;
    const stretchMs = this.timeMs() - (this.stretchAtMs ?? 0);
    const leftS = this.stretchDone === 0 ? null : (stretchMs / this.stretchDone / 1000) * left;
    return { done: this.doneCount, total, leftS };
  }

  private get waitingCount(): number {
    return this.stock.count + this.doubtful.length;
  }

  /** Takes results of an earlier run as done. */
  take(results: readonly CaseResult[]): void {
    for (const result of results) this.enter(result);
    this.stock.remove(results.map((result) => result.index));
  }

  /** Starts, or goes on where it was cancelled. */
  start(): void {
    if (this.isRunning || this.isDone) return;
    this.failedStarts = 0;
    this.stretchAtMs = null;
    this.stretchDone = 0;
    this.lookedAtMs = this.means.clock.nowMs();
    this.stopLooking = this.means.clock.every(LOOK_EVERY_MS, () => this.look());
    if (this.hasEnded()) return;
    const wanted = Math.min(this.means.workers, this.waitingCount);
    this.stock.share(wanted);
    for (let k = 0; k < wanted && this.isRunning; k++) this.open();
  }

  /** Ends every worker at once; what they were at is run again after `start`. */
  cancel(): void {
    if (!this.isRunning) return;
    const held = this.slots.flatMap((slot) => slot.pending);
    this.doubtful.push(...held.filter((index) => this.tried.has(index)));
    this.stock.putBack(held.filter((index) => !this.tried.has(index)));
    this.close();
  }

  private close(): void {
    this.lookedMs = this.timeMs();
    this.stopLooking?.();
    this.stopLooking = null;
    for (const slot of this.slots) slot.port.close();
    this.slots = [];
  }

  private open(): void {
    const slot = new Slot(
      this.means.startWorker,
      this.timeMs(),
      (from, message) => this.heard(from, message),
      (from, words) => this.lose(from, words),
    );
    if (slot.isOver) return; // it could not even be started; `lose` has seen to it
    this.slots.push(slot);
    slot.port.post({ kind: "plan", request: this.task.request, labels: false });
  }

  private heard(slot: Slot, message: FromTrial): void {
    const silentMs = this.timeMs() - slot.heardAtMs;
    slot.heardAtMs = this.timeMs();
    switch (message.kind) {
      case "planned":
        slot.isReady = true;
        this.stretchAtMs ??= this.timeMs();
        this.failedStarts = 0;
        break;
      case "results":
        this.collect(slot, message.results, silentMs);
        break;
      case "returned":
        slot.isAskedBack = false;
        slot.drop(message.indices);
        this.stock.putBack(message.indices);
        if (message.indices.length === 0) return; // its results are on their way
        break;
      case "refused":
        this.giveUp(message.problem);
        return;
      case "broken":
        this.lose(slot, message.words);
        return;
      default:
        return;
    }
    if (this.hasEnded()) return;
    for (const one of this.slots) this.fill(one);
  }

  private collect(slot: Slot, results: readonly CaseResult[], silentMs: number): void {
    slot.drop(results.map((result) => result.index));
    slot.isAlone = false;
    this.longestMs = Math.max(this.longestMs, silentMs);
    const eachMs = silentMs / results.length;
    this.averageMs = this.averageMs === 0 ? eachMs : this.averageMs + (eachMs - this.averageMs) / 4;
    const settled = results.filter((result) => "outcome" in result || !this.again(result.index));
    for (const result of settled) this.enter(result);
    this.stretchDone += settled.length;
    if (settled.length > 0) this.listener.results(settled, this.progress);
  }

  private enter(result: CaseResult): void {
    const { index } = result;
    if ("outcome" in result) this.outcomes[index] = result.outcome;
    else {
      const label = this.task.labelOf(index);
      this.failures.push({ index, label, words: result.failure });
    }
    this.doneCount += 1;
  }

  /** False once it has had its second try. */
  private again(index: number): boolean {
    if (this.tried.has(index)) return false;
    this.tried.add(index);
    this.doubtful.push(index);
    return true;
  }

  /** A worker has ended, or is taken for hung: another takes its place. */
  private lose(slot: Slot, words: string): void {
    slot.port.close();
    this.stock.leave(slot);
    this.slots = this.slots.filter((one) => one !== slot);
    if (!slot.isReady) {
      this.failedStarts += 1;
      if (this.failedStarts >= FAILED_STARTS) {
        this.giveUp(words);
        return;
      }
    }
    const failed = slot.pending.filter((index) => !this.again(index));
    for (const index of failed) {
      const result = { index, failure: words };
      this.enter(result);
      this.listener.results([result], this.progress);
    }
    if (this.isRunning && !this.hasEnded() && this.waitingCount > 0) this.open();
  }

  private giveUp(words: string): void {
    this.cancel();
    this.listener.broken(words);
  }

  private hasEnded(): boolean {
    if (!this.isRunning || this.doneCount < this.task.indices.length) return false;
    this.isDone = true;
    this.close();
    this.listener.done();
    return true;
  }

  private fill(slot: Slot): void {
    if (!slot.isReady || slot.isAlone) return;
    if (slot.pending.length === 0) {
      const index = this.doubtful.shift();
      if (index !== undefined) {
        slot.isAlone = true;
        slot.hand([index], this.timeMs());
        return;
      }
    }
    const batch = this.batch();
    // long cases are handed out one by one; of short ones the next batch waits with the worker already
    const most = batch === 1 ? 1 : 2 * batch;
    if (slot.pending.length < most && slot.pending.length <= batch) {
      const indices = this.stock.take(slot, Math.min(batch, most - slot.pending.length));
      slot.hand(indices, this.timeMs());
    }
    if (slot.pending.length === 0) this.askBack();
  }

  /** About a tenth of a second of work; less when little is left, so that all workers end together. */
  private batch(): number {
    if (this.averageMs === 0) return 1;
    const share = Math.ceil(this.stock.count / (2 * this.slots.length));
    const inTime = Math.floor(BATCH_MS / this.averageMs);
    return Math.max(1, Math.min(inTime, share, MOST_IN_A_BATCH));
  }

  /** Nothing is left to hand out: half of what the fullest worker holds is wanted back. */
  private askBack(): void {
    if (this.slots.some((slot) => slot.isAskedBack)) return;
    const fullest = this.slots.reduce((a, b) => (b.pending.length > a.pending.length ? b : a));
    if (fullest.pending.length < 3) return;
    fullest.isAskedBack = true;
    fullest.port.post({ kind: "giveBack" });
  }

  private timeMs(): number {
    const sinceLookMs = this.isRunning ? this.means.clock.nowMs() - this.lookedAtMs : 0;
    return this.lookedMs + Math.min(sinceLookMs, MOST_A_LOOK_MS);
  }

  private look(): void {
    this.lookedMs = this.timeMs();
    this.lookedAtMs = this.means.clock.nowMs();
    for (const slot of [...this.slots]) {
      const isHung = slot.isBusy && this.lookedMs - slot.heardAtMs > this.patienceMs(slot);
      if (isHung) this.lose(slot, "its worker hung");
      if (!this.isRunning) return;
    }
  }

  private patienceMs(slot: Slot): number {
    if (!slot.isReady) return PLANNING_PATIENCE_MS;
    const ms = Math.max(PATIENCE_MS, PATIENCE_IN_LONGEST_CASES * this.longestMs);
    return slot.isAlone ? PATIENCE_ALONE * ms : ms;
  }
}
