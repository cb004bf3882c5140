/**
 * A whole scenario in one go, with its unprotected twin after every fault: what `simulate` prints and what
 * trials are made of. The same bench as the page's, without pacing.
 */

import { ARC_PLACES } from "../physics/stage/layout";
import type { Project } from "../project/types";
import { type Bench, createBench, type FaultStart } from "./bench";
import { type Race, raceOf } from "./race";
import { type SupplyResult, supplyResult } from "./supplyResult";
import { supplyTotals } from "./supplyWatch";

/** The twin is followed this long after the fault. */
export const TWIN_SPAN_NS = 10_000_000_000;

export interface FaultResult {
  readonly race: Race;
  /** What came through a fault of the plate supply; null for every other fault. */
  readonly supply: SupplyResult | null;
  /** Greatest molten mass of the struck part, protected, and unprotected when the operator opens the key. */
  readonly moltenKg: number;
  readonly moltenUnprotectedKg: number | null;
}

export interface Simulation {
  readonly recordHash: string;
  readonly faults: readonly FaultResult[];
  readonly bench: Bench;
  /** What monitors changed of what they were asked for, in words: as the project has them, and as they were set. */
  readonly notices: readonly string[];
}

export type SimulationResult =
  | { readonly ok: true; readonly simulation: Simulation }
  | { readonly ok: false; readonly problem: string };

/** Runs a project to its end. */
export function simulate(project: Project): SimulationResult {
  const created = createBench(project);
  if (!created.ok) return created;
  const { bench } = created;
  const { notices: begun } = bench.system;
  const endNs = Math.round(project.endS * 1e9);
  bench.advanceTo(endNs);
  const faults = bench.zeros.map((start, i) => {
    const untilNs = bench.zeros[i + 1]?.zero.atNs ?? Infinity;
    return faultResult(bench, start, untilNs, runTwin(bench, start));
  });
  const notices = [...new Set([...begun, ...bench.system.notices])];
  return { ok: true, simulation: { recordHash: bench.hash, faults, bench, notices } };
}

/** The unprotected run of one fault, to 10 s after it or to the scenario's next fault. */
export function runTwin(bench: Bench, start: FaultStart): Bench {
  const twin = bench.fork(start);
  twin.advanceTo(twinEndNs(bench, start));
  return twin;
}

/** Where the unprotected run ends. */
export function twinEndNs(bench: Bench, start: FaultStart): number {
  return Math.min(start.zero.atNs + TWIN_SPAN_NS, bench.nextFaultNs(start.zero.atNs));
}

/** Race and molten masses of one fault from both runs. */
export function faultResult(
  bench: Bench,
  start: FaultStart,
  untilNs: number,
  twin: Bench,
): FaultResult {
  const { zero } = start;
  const trackAt = (b: Bench): (typeof b.recorder.tracks)[number] | null =>
    b.recorder.tracks.find((t) => t.kind === "fault" && t.atNs === zero.atNs) ?? null;
  const race = raceOf({
    zero,
    burningJ: untilNs < Infinity ? 0 : bench.burningJ,
    // roles and wiring as they were when the fault came
    monitors: start.snapshot.system.programs.map((p) => p.def),
    actuators: bench.project.actuators,
    failures: start.snapshot.logic.failures,
    expectedForwardGainDb: start.snapshot.system.context.expectedForwardGainDb,
    protectedEvents: bench.events,
    twinEvents: twin.events,
    protectedTrack: trackAt(bench),
    twinTrack: trackAt(twin),
    untilNs,
  });
  // what melts in a later fault is not this one's
  const { buffer } = bench.zeros.find((z) => z.zero.atNs > zero.atNs)?.snapshot ?? bench;
  const place = zero.struck === null ? -1 : ARC_PLACES.indexOf(zero.struck);
  return {
    race,
    supply: supplyResult(zero, supplyTotals(buffer), bench.events),
    moltenKg: place < 0 ? 0 : bench.damage.peakMoltenKg(buffer, place),
    moltenUnprotectedKg:
      place < 0 || twin.found === null ? null : (twin.found.moltenKg[place] ?? null),
  };
}
