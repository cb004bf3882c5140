/**
 * Snapshots of one run, thinned with age: every 50 ms for 2 s, every 0.5 s for a minute, every 5 s for ten
 * minutes, every 30 s before that, and the samples of the latest events. Sorted by time; the first is kept.
 */
import type { Snapshot } from "../../simulation/bench";

export interface Kept {
  readonly snapshot: Snapshot;
  /** Needles of the panel meters at the same instant. */
  readonly meters: Float64Array;
  /** Taken at the start of a sample in which something happened. */
  readonly atEvent: boolean;
}

export const SNAPSHOT_EVERY_NS = 50e6;

const TIERS: readonly (readonly [ageNs: number, everyNs: number])[] = [
  [2e9, SNAPSHOT_EVERY_NS],
  [60e9, 0.5e9],
  [600e9, 5e9],
  [Infinity, 30e9],
];
const EVENTS_KEPT = 256;
/** Thinning is worth while once so many have come since the last time. */
const THIN_EVERY = 16;

export class Snapshots {
  private kept: Kept[] = [];
  private sinceThinned = 0;

  get count(): number {
    return this.kept.length;
  }

  clear(): void {
    this.kept = [];
    this.sinceThinned = 0;
  }

  /** In order of time; one that is there already stays. */
  add(entry: Kept): void {
    const ns = entry.snapshot.timeNs;
    const i = this.indexAt(ns);
    const there = this.kept[i];
    if (there !== undefined && there.snapshot.timeNs === ns) {
      if (entry.atEvent) this.kept[i] = { ...there, atEvent: true };
      return;
    }
    this.kept.splice(i + 1, 0, entry);
    if (++this.sinceThinned >= THIN_EVERY) this.thin();
  }

  /** Latest at or before `ns`. */
  nearest(ns: number): Kept {
    const i = this.indexAt(ns);
    if (i < 0) throw new Error(`no snapshot at or before ${ns} ns`);
    return this.kept[i] as Kept;
  }

  /** Forgets all after `ns`: they belong to a run that is no more. */
  dropAfter(ns: number): void {
    this.kept.length = this.indexAt(ns) + 1;
  }

  private indexAt(ns: number): number {
    let low = 0;
    let high = this.kept.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.kept[middle] as Kept).snapshot.timeNs <= ns) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }

  private thin(): void {
    this.sinceThinned = 0;
    const nowNs = (this.kept[this.kept.length - 1] as Kept).snapshot.timeNs;
    let events = 0;
    for (const k of this.kept) if (k.atEvent) events++;
    let lastSlot = -1;
    let lastEveryNs = -1;
    this.kept = this.kept.filter((k) => {
      const ns = k.snapshot.timeNs;
      const everyNs = (TIERS.find(([ageNs]) => nowNs - ns <= ageNs) as (typeof TIERS)[number])[1];
      const slot = Math.floor(ns / everyNs);
      const fresh = slot !== lastSlot || everyNs !== lastEveryNs;
      const recent = k.atEvent && events-- <= EVENTS_KEPT;
      if (!fresh) return recent;
      lastSlot = slot;
      lastEveryNs = everyNs;
      return true;
    });
  }
}
