/** Runs that left one another. Every run stays reachable: its scenario says all there is to say about it. */
import type { ScriptEntry } from "../../simulation/bench";
import type { BranchView } from "./protocol";

interface Branch extends BranchView {
  readonly entries: readonly ScriptEntry[];
}

export class Branches {
  private list: Branch[] = [
    { id: 0, name: "first run", parent: -1, forkNs: 0, headNs: 0, entries: [] },
  ];
  current = 0;

  /** Notes how far the current run has come, before another one is taken up. */
  leave(entries: readonly ScriptEntry[], headNs: number): void {
    this.list = this.list.map((b) => (b.id === this.current ? { ...b, entries, headNs } : b));
  }

  /** A new run that leaves the current one at `forkNs`, and is current from now on. */
  fork(forkNs: number, name: string): void {
    const id = this.list.length;
    const parent = this.current;
    const title = name === "" ? `run ${id + 1}` : name;
    this.list = [...this.list, { id, name: title, parent, forkNs, headNs: forkNs, entries: [] }];
    this.current = id;
  }

  find(id: number): { readonly entries: readonly ScriptEntry[]; readonly headNs: number } | null {
    return this.list.find((b) => b.id === id) ?? null;
  }

  view(headNs: number): readonly BranchView[] {
    return this.list.map(({ entries: _, ...b }) => (b.id === this.current ? { ...b, headNs } : b));
  }
}

/** Instant of the first difference of two scenarios, Infinity where one ends as the other goes on alike. */
export function partingNs(a: readonly ScriptEntry[], b: readonly ScriptEntry[]): number {
  for (let i = 0; ; i++) {
    const x = a[i];
    const y = b[i];
    if (x === y) {
      if (x === undefined) return Infinity;
      continue;
    }
    return Math.min(x?.atNs ?? Infinity, y?.atNs ?? Infinity);
  }
}
