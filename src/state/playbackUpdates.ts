/** How lists of the playback change with what the engine says. */
import type { Project } from "../project/types";
import type { RaceReport } from "../shells/bench/protocol";
import type { BenchEvent } from "../simulation/benchEvent";
import type { Refusal } from "./playbackState";

/** Events with everything from `from` on replaced. */
export function withEvents(
  events: readonly BenchEvent[],
  from: number,
  more: readonly BenchEvent[],
): readonly BenchEvent[] {
  return from === events.length ? [...events, ...more] : [...events.slice(0, from), ...more];
}

/** What the bench itself refused among new events: the latest, in words; null where it took everything. */
export function refusalAmong(events: readonly BenchEvent[]): Refusal | null {
  const e = events.findLast((one) => one.kind === "command" && one.refused !== "");
  if (e?.kind !== "command") return null;
  return { text: `Not done: ${e.refused}.`, command: null };
}

/** Races with a report put in its place, and without those whose fault did not happen after all. */
export function raceList(
  races: readonly RaceReport[],
  report: RaceReport | null,
  events: readonly BenchEvent[],
): readonly RaceReport[] {
  const zeros = new Set<number>();
  for (const e of events) if (e.kind === "faultZero") zeros.add(e.atNs);
  const kept = races.filter((r) => zeros.has(r.zero.atNs) && r.zero.atNs !== report?.zero.atNs);
  if (report === null) return kept.length === races.length ? races : kept;
  return [...kept, report].sort((a, b) => a.zero.atNs - b.zero.atNs);
}

/** The scan most monitors share, ns: what the second step button goes by. */
export function scanOf(project: Project): number {
  const counts = new Map<number, number>();
  for (const m of project.monitors) {
    if (m.path !== "scanned") continue;
    const ns = Math.round(m.scanS * 1e9);
    counts.set(ns, (counts.get(ns) ?? 0) + 1);
  }
  let best = 1_000_000;
  let most = 0;
  for (const [ns, n] of counts) {
    if (n <= most) continue;
    most = n;
    best = ns;
  }
  return best;
}
