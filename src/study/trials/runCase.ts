/**
 * One case of a trial: the first fault of a project's scenario, run protected and unprotected, and what came of it as plain
 * JSON. Pool, command line, tolerance and coverage all run this.
 *
 * The unprotected run ends once half a milligram of the struck part is molten or another part is damaged, or 10 s after the
 * fault; parts that only get warm while nothing else changes are followed for ten minutes. The protected run ends a
 * little after clearing, or well past the damage. Seconds count from the fault's time zero, null for what does not happen.
 */
import { CLOCK_PARTS } from "../../physics/heat/clocks";
import type { FaultName, PartName } from "../../project/scenario";
import type { ArcPlace } from "../../project/station";
import type { Project } from "../../project/types";
import { type Bench, createBench, type FaultStart } from "../../simulation/bench";
import type { BenchEvent, DamagePart } from "../../simulation/benchEvent";
import type { DamageLane, Race } from "../../simulation/race";
import { faultResult, TWIN_SPAN_NS, twinEndNs } from "../../simulation/simulate";
import type { SupplyResult } from "../../simulation/supplyResult";
import { MODE_AT } from "../../simulation/worldLayout";
import { type CaseLook, caseLook } from "./caseLook";
import { coast, StillWatch } from "./runCaseCoast";
import { drained, Pauses, type Steps } from "./steps";

export interface CaseTrip {
  readonly id: string;
  readonly name: string;
  readonly atS: number;
}

/** The part that is damaged first when nothing acts. */
export interface Weakest {
  readonly part: DamagePart;
  /** Onset of melting of an edge, damage of any other part, in the unprotected run. */
  readonly damageS: number;
  /** By the early edge of the estimates; the same where a part has one estimate only. */
  readonly damageEarlyS: number;
}

/** A monitor as the unprotected run shows it, whatever its role. */
export interface CaseMonitor {
  readonly id: string;
  readonly role: "acting" | "shadow" | "off";
  readonly operateS: number | null;
  readonly clearingS: number | null;
}

export interface CaseOutcome {
  /** Why there is nothing to tell: the station cannot be built. Null where the case was run. */
  readonly problem: string | null;
  /** The fault that became electrical; null where none did, and then everything below is empty. */
  readonly zero: {
    readonly fault: FaultName;
    readonly part: PartName;
    /** Project time. */
    readonly atS: number;
    readonly struck: ArcPlace | null;
  } | null;
  /** In the protected run; `atS` is when. */
  readonly firstTrip: CaseTrip | null;
  readonly trips: readonly CaseTrip[];
  readonly operateS: number | null;
  readonly clearingS: number | null;
  /**
   * When protection had ended it: clearing, but not before the first actuator acted (a fault may take the output away by
   * itself and heat on); null without a trip or without clearing.
   */
  readonly endedS: number | null;
  /** A part that would be damaged although the fault has been cleared, if all stayed as it then was. */
  readonly heatsOn: { readonly part: DamagePart; readonly damageS: number } | null;
  /** Of the struck part, as the race has them. */
  readonly margin: number | null;
  readonly marginEarly: number | null;
  readonly marginHalfMilligram: number | null;
  readonly weakest: Weakest | null;
  /** How long nothing acting was followed without damage; null for damage, or where there is none however long it lasts. */
  readonly unharmedS: number | null;
  /** Time to the weakest part's damage over `endedS`. */
  readonly weakestMargin: number | null;
  readonly weakestMarginEarly: number | null;
  readonly onsetS: number | null;
  readonly onsetEarlyS: number | null;
  readonly halfMilligramS: number | null;
  readonly arcEnergyJ: number;
  readonly moltenKg: number;
  readonly supply: SupplyResult | null;
  /** Damaged in the protected run, first one first. */
  readonly damaged: readonly { readonly part: DamagePart; readonly atS: number }[];
  /** Part that came nearest to damage in the protected run, of those the record follows. */
  readonly worstClock: { readonly part: DamagePart; readonly fraction: number } | null;
  readonly monitors: readonly CaseMonitor[];
  /** What it looks like in the unprotected run; null without a record of that. */
  readonly look: CaseLook | null;
}

/** Grid on which a run is asked whether it may end: whole, so that it ends alike wherever it was begun. */
const LOOK_NS = 1_000_000;
/** After clearing the protected run goes on this long: the slowest actuator has acted by then. */
const TAIL_NS = 60_000_000;
/** Parts that only get warm are followed this long while the stage stands still. */
export const WARMING_SPAN_NS = 600_000_000_000;
/** Past the damage the protected run is followed for half as long again, to see what would have ended it. */
const PAST_DAMAGE = 1.5;

/** A trip that has ended nothing by then ends nothing, as long as something moves: longer than any actuator and the filter take. */
const AFTER_TRIP_NS = 3_000_000_000;

/** Runs a project's first fault; `seed` is that of its noise and its chances. */
export function runCase(project: Project, seed: number): CaseOutcome {
  return drained(caseSteps(project, seed));
}

/** The same with pauses. */
export function* caseSteps(project: Project, seed: number): Steps<CaseOutcome> {
  const created = createBench({ ...project, seed });
  if (!created.ok) return { ...NOTHING, problem: created.problem };
  yield;
  return yield* finishCase(created.bench);
}

/** The same from wherever a bench of the project stands ahead of its fault. */
export function* finishCase(bench: Bench): Steps<CaseOutcome> {
  const start = yield* runToFault(bench);
  if (start === null) return NOTHING;
  return yield* finishFault(bench, start, yield* runUnprotected(bench, start));
}

/** The same from the fault on, with the run left alone already known. */
export function* finishFault(bench: Bench, start: FaultStart, twin: Bench): Steps<CaseOutcome> {
  yield* runProtected(bench, start, twin);
  yield;
  return caseOutcome(bench, start, twin);
}

/** Goes on to the fault; null where the project ends without one. */
export function* runToFault(bench: Bench): Steps<FaultStart | null> {
  const endNs = Math.round(bench.project.endS * 1e9);
  const pauses = new Pauses(bench);
  while (bench.zeros.length === 0 && bench.timeNs + bench.sampleNs <= endNs) {
    look(bench, endNs);
    if (pauses.isDue()) yield;
  }
  return bench.zeros[0] ?? null;
}

/** Advances to the next look. */
function look(bench: Bench, endNs: number): void {
  const { timeNs, sampleNs } = bench;
  const nextNs = Math.max((Math.floor(timeNs / LOOK_NS) + 1) * LOOK_NS, timeNs + sampleNs);
  bench.advanceTo(Math.min(nextNs, endNs));
}

/** The run left alone, until nothing more is to be learned about damage. */
export function* runUnprotected(bench: Bench, start: FaultStart): Steps<Bench> {
  const { atNs } = start.zero;
  const twin = bench.fork(start);
  const still = new StillWatch(twin);
  const pauses = new Pauses(twin);
  yield;
  let endNs = twinEndNs(bench, start);
  let seen = 0;
  while (twin.timeNs + twin.sampleNs <= endNs) {
    look(twin, endNs);
    for (; seen < twin.events.length; seen++) if (isLastMark(twin.events[seen])) return twin;
    if (pauses.isDue()) yield;
    if (!still.isStill()) continue;
    if (!isBurning(twin)) {
      if (!isWarming(twin)) return twin;
      endNs = Math.min(atNs + WARMING_SPAN_NS, bench.nextFaultNs(atNs));
    }
    yield* coast(twin, endNs);
  }
  return twin;
}

function isBurning({ logic }: Bench): boolean {
  return logic.arcSinceNs.some((ns) => ns >= 0);
}

/** A run that was left because nothing could come any more. */
function isHarmless(twin: Bench): boolean {
  return twin.buffer[MODE_AT] === 0 && !isBurning(twin) && !isWarming(twin);
}

/** Some part will be damaged if all stays as it is. */
function isWarming({ damage, buffer }: Bench): boolean {
  return CLOCK_PARTS.some((_, k) => damage.clockTimeLeftS(buffer, k) < Infinity);
}

/** Half a milligram molten, a gap bridged or a part damaged: what comes after is no news. */
function isLastMark(e: BenchEvent | undefined): boolean {
  if (e?.kind !== "milestone" || e.edge !== "nominal") return false;
  return e.milestone !== "meltOnset";
}

/** Goes on until a little after clearing, or well past the damage. */
function* runProtected(bench: Bench, { zero }: FaultStart, twin: Bench): Steps<void> {
  const damage = twin.events.find((e) => e.kind === "milestone" && e.edge === "nominal");
  const spanNs = damage === undefined ? 0 : PAST_DAMAGE * (damage.atNs - zero.atNs);
  let endNs = zero.atNs + Math.max(TWIN_SPAN_NS, Math.round(spanNs));
  const still = new StillWatch(bench);
  const pauses = new Pauses(bench);
  let clearedNs = Infinity;
  let actedNs = Infinity;
  let trippedNs = Infinity;
  let seen = 0;
  while (bench.timeNs + bench.sampleNs <= endNs) {
    for (; seen < bench.events.length; seen++) {
      const e = bench.events[seen];
      if (e === undefined || e.atNs < zero.atNs) continue;
      if (e.kind === "cleared") clearedNs = e.atNs;
      if (e.kind === "protection" && e.event.kind === "trip") trippedNs = e.atNs;
      if (e.kind === "actuator" && e.effect === "acted") actedNs = Math.min(actedNs, e.atNs);
      // a fault may take the output away by itself: that is no end yet
      endNs = Math.min(endNs, Math.max(clearedNs, actedNs) + TAIL_NS);
    }
    look(bench, endNs);
    if (pauses.isDue()) yield;
    if (still.isStill()) yield* coast(bench, endNs);
    else if (bench.timeNs - trippedNs > AFTER_TRIP_NS) return;
  }
}

function caseOutcome(bench: Bench, start: FaultStart, twin: Bench): CaseOutcome {
  const { race, supply, moltenKg } = faultResult(bench, start, Infinity, twin);
  const { zero, firstTrip, clearingS } = race;
  const struck = race.damage.find((d) => d.struck);
  const weakest = weakestOf(race);
  const endedS = endedOf(race);
  const over = (s: number | undefined): number | null =>
    s === undefined || endedS === null || endedS <= 0 ? null : s / endedS;
  return {
    problem: null,
    zero: { fault: zero.fault, part: zero.part, atS: zero.atNs / 1e9, struck: zero.struck },
    firstTrip,
    trips: tripsOf(race),
    operateS: firstTrip?.atS ?? null,
    clearingS,
    endedS,
    heatsOn: endedS === null ? null : heatsOnOf(bench, zero.atNs),
    margin: race.margin,
    marginEarly: race.marginEarly,
    marginHalfMilligram: race.marginHalfMilligram,
    weakest,
    unharmedS: weakest === null && !isHarmless(twin) ? (twin.timeNs - zero.atNs) / 1e9 : null,
    weakestMargin: over(weakest?.damageS),
    weakestMarginEarly: over(weakest?.damageEarlyS),
    onsetS: struck?.onsetUnprotectedS ?? null,
    onsetEarlyS: struck?.onsetUnprotectedEarlyS ?? null,
    halfMilligramS: struck?.halfMilligramS ?? null,
    arcEnergyJ: race.arcEnergyJ,
    moltenKg,
    supply,
    damaged: race.damage
      .flatMap(({ part, onsetS }) => (onsetS === null ? [] : [{ part, atS: onsetS }]))
      .sort((a, b) => a.atS - b.atS),
    worstClock: worstClockOf(race),
    monitors: race.monitors.map(({ id, role, operateS, clearingS: clears }) => ({
      id,
      role,
      operateS,
      clearingS: clears,
    })),
    look: caseLook(
      twin.recorder.tracks.find((t) => t.kind === "fault" && t.atNs === zero.atNs),
      start.snapshot.system.context.expectedForwardGainDb,
    ),
  };
}

function endedOf({ firstTrip, clearingS, actuators }: Race): number | null {
  const acted = actuators.find((a) => a.effect === "acted");
  if (firstTrip === null || clearingS === null || acted === undefined) return null;
  return Math.max(clearingS, acted.atS);
}

function heatsOnOf({ damage, buffer, timeNs }: Bench, zeroNs: number): CaseOutcome["heatsOn"] {
  let first: CaseOutcome["heatsOn"] = null;
  for (let k = 0; k < CLOCK_PARTS.length; k++) {
    const damageS = (timeNs - zeroNs) / 1e9 + damage.clockTimeLeftS(buffer, k);
    if (damageS < (first?.damageS ?? Infinity))
      first = { part: CLOCK_PARTS[k] as DamagePart, damageS };
  }
  return first;
}

function tripsOf({ monitors }: Race): readonly CaseTrip[] {
  return monitors
    .flatMap(({ id, name, tripS }) => (tripS === null ? [] : [{ id, name, atS: tripS }]))
    .sort((a, b) => a.atS - b.atS);
}

/** The first part to be damaged in the unprotected run. */
function weakestOf({ damage }: Race): Weakest | null {
  let weakest: Weakest | null = null;
  for (const d of damage) {
    const { onsetUnprotectedS: s, onsetUnprotectedEarlyS: early, part } = d;
    if (s === null || (weakest !== null && weakest.damageS <= s)) continue;
    weakest = { part, damageS: s, damageEarlyS: early ?? s };
  }
  return weakest;
}

function worstClockOf({ damage }: Race): CaseOutcome["worstClock"] {
  let worst: DamageLane | null = null;
  for (const d of damage) {
    if (d.greatestFraction > (worst?.greatestFraction ?? 0)) worst = d;
  }
  return worst === null ? null : { part: worst.part, fraction: worst.greatestFraction };
}

/** Nothing became electrical. */
export const NOTHING: CaseOutcome = {
  problem: null,
  zero: null,
  firstTrip: null,
  trips: [],
  operateS: null,
  clearingS: null,
  endedS: null,
  heatsOn: null,
  margin: null,
  marginEarly: null,
  marginHalfMilligram: null,
  weakest: null,
  unharmedS: null,
  weakestMargin: null,
  weakestMarginEarly: null,
  onsetS: null,
  onsetEarlyS: null,
  halfMilligramS: null,
  arcEnergyJ: 0,
  moltenKg: 0,
  supply: null,
  damaged: [],
  worstClock: null,
  monitors: [],
  look: null,
};
