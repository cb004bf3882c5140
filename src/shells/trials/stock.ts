/**
 * Cases that wait for a worker. Neighbours often share work inside a worker, such as the run up to a fault, so each worker
 * is served from a stretch of its own, in order; one whose stretch is used up takes half of the longest.
 */
export class Stock {
  private readonly stretches = new Map<object, number[]>();
  /** Stretches that belong to nobody yet, or no longer. */
  private free: number[][];

  constructor(indices: readonly number[]) {
    this.free = [[...indices]];
  }

  get count(): number {
    return this.all.reduce((sum, stretch) => sum + stretch.length, 0);
  }

  /** Everything in order, in so many stretches of like length. */
  share(parts: number): void {
    const indices = this.all.flat().sort((a, b) => a - b);
    this.stretches.clear();
    const edge = (part: number): number => Math.floor((part * indices.length) / parts);
    this.free = Array.from({ length: parts }, (_, k) => indices.slice(edge(k), edge(k + 1)));
  }

  /** At most `many`; fewer, or none, where the stretch ends. */
  take(worker: object, many: number): readonly number[] {
    let own = this.stretches.get(worker);
    if (own === undefined || own.length === 0) {
      own = this.newStretch();
      this.stretches.set(worker, own);
    }
    return own.splice(0, many);
  }

  putBack(indices: readonly number[]): void {
    if (indices.length > 0) this.free.push([...indices]);
  }

  /** The worker is no more; another takes over its stretch. */
  leave(worker: object): void {
    this.putBack(this.stretches.get(worker) ?? []);
    this.stretches.delete(worker);
  }

  remove(indices: readonly number[]): void {
    const gone = new Set(indices);
    this.free = this.all.map((stretch) => stretch.filter((index) => !gone.has(index)));
    this.stretches.clear();
  }

  private get all(): readonly number[][] {
    return [...this.free, ...this.stretches.values()];
  }

  private newStretch(): number[] {
    for (let free = this.free.shift(); free !== undefined; free = this.free.shift()) {
      if (free.length > 0) return free;
    }
    let longest: number[] = [];
    for (const stretch of this.stretches.values()) {
      if (stretch.length > longest.length) longest = stretch;
    }
    return longest.splice(longest.length >> 1);
  }
}
