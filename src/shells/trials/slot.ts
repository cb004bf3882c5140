/** One place in a pool: its worker, what it was handed and how long it has been silent. */
import type { FromTrial, TrialPort } from "./protocol";

export class Slot {
  readonly port: TrialPort;
  isReady = false;
  /** Its worker has ended by itself. */
  isOver = false;
  /** Cases handed over and not yet answered, in the order in which they are run. */
  pending: number[] = [];
  /** Holds one case alone, to see whether it is the one that ends workers. */
  isAlone = false;
  isAskedBack = false;
  /** In the pool's time: when it was last heard of, or given something to do after it had nothing. */
  heardAtMs: number;

  constructor(
    start: () => TrialPort,
    nowMs: number,
    heard: (slot: Slot, message: FromTrial) => void,
    crashed: (slot: Slot, words: string) => void,
  ) {
    this.port = start();
    this.heardAtMs = nowMs;
    this.port.listen(
      (message) => {
        if (!this.isOver) heard(this, message);
      },
      (words) => {
        if (this.isOver) return;
        this.isOver = true;
        crashed(this, words);
      },
    );
  }

  get isBusy(): boolean {
    return !this.isReady || this.pending.length > 0;
  }

  hand(indices: readonly number[], nowMs: number): void {
    if (indices.length === 0) return;
    if (this.pending.length === 0) this.heardAtMs = nowMs;
    this.pending.push(...indices);
    this.port.post({ kind: "run", indices });
  }

  drop(indices: readonly number[]): void {
    const gone = new Set(indices);
    this.pending = this.pending.filter((index) => !gone.has(index));
  }
}
