/**
 * The table of all faults: each placed once, at its usual severity, on a project's own station at full carrier with its own
 * monitors; which monitor trips first, when the fault has cleared, and how long the weakest part would have lasted.
 *
 * A run ends once the fault has cleared and the slowest actuator has acted; without a trip once nothing is picked up and no part is on its way to damage, at
 * the latest after LONGEST. The part is the first to be damaged with nobody acting: melting of an edge by its nominal
 * estimate, or a clock. That run is followed for some time only; a clock that has not come to its end by then is reckoned on
 * from its present stress (`isReckoned`). Margin is that time over the time protection took to end the fault: clearing, but not
 * before the first actuator acted, for a fault may take the output away by itself. A part that heats on after that gets no margin.
 *
 * Validity: full carrier into the station's own load, one fault at a time, as it comes by default; one that begins
 * with the drive is met by the next key-down. A latent fault shows
 * nothing by itself unless a monitor reads what it spoils. Damage times are estimates, as the clocks are.
 */
import { CLOCK_COUNT, CLOCK_PARTS } from "../physics/heat/clocks";
import { FAULT_NAMES, FAULTS, usualSeverity } from "../project/faults";
import type { FaultName, PartName } from "../project/scenario";
import type { Project } from "../project/types";
import type { ProtectionEventKind } from "../protection/events";
import { type Bench, createBench, type FaultStart, type Snapshot } from "../simulation/bench";
import type { BenchEvent, DamagePart } from "../simulation/benchEvent";

/** 0.37 ms past a whole scan; key down at 0, everything has settled. */
const PLACED_NS = 300_370_000;
const STEP_NS = 10_000_000;
/** A run in which nothing happens lasts as long as the slowest alarm of the presets asks for. */
const QUIET_NS = 1_100e6;
/** No alarm of a lost sensor is slower. */
const LATENT_NS = 600e6;
/** A fault that begins with the drive gets a new key-down once the relays have let go. */
const KEY_UP_NS = 400e6;
const LONGEST_NS = 60e9;
/** After a trip that does not clear the fault. */
const UNCLEARED_NS = 1e9;
/** After the end of the fault; the slowest actuator has acted by then. */
const TAIL_NS = 60e6;
/** The run in which nobody acts, without an arc and with one. */
const ALONE_NS = 500e6;
const ALONE_BURNING_NS = 2.6e9;

interface MonitorAt {
  readonly id: string;
  readonly name: string;
  readonly atS: number;
}

export interface WeakestPart {
  readonly part: DamagePart;
  readonly damageS: number;
  /** By the early estimate of an edge; the same for a clock. */
  readonly damageEarlyS: number;
  /** Reckoned on from the stress at the end of the run. */
  readonly isReckoned: boolean;
}

/** Seconds count from the placing, or from the strike where there is one. Null for what does not happen. */
export interface FaultRow {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly name: string;
  readonly severity: number;
  readonly latent: boolean;
  /** The fault became electrical: it struck, or needs no strike. */
  readonly began: boolean;
  readonly trip: MonitorAt | null;
  readonly alarm: MonitorAt | null;
  readonly clearingS: number | null;
  /** When protection had ended it; null without a trip or without clearing. */
  readonly endedS: number | null;
  /** A part that would be damaged although the fault has been ended, if all stayed as it then was. */
  readonly heatsOn: { readonly part: DamagePart; readonly damageS: number } | null;
  readonly weakest: WeakestPart | null;
  readonly margin: number | null;
  readonly marginEarly: number | null;
  /** How long the run was. */
  readonly followedS: number;
}

export interface FaultPlace {
  readonly fault: FaultName;
  readonly part: PartName;
}

/** Every fault on every part it can be placed on. */
export const FAULT_CASES: readonly FaultPlace[] = FAULT_NAMES.flatMap((fault) =>
  FAULTS[fault].parts.map((part) => ({ fault, part })),
);

export type FaultTable =
  | { readonly ok: true; readonly row: (place: FaultPlace) => FaultRow }
  | { readonly ok: false; readonly problem: string };

/** Works the table out row by row; the station is keyed once. A station that cannot be designed is a problem. */
export function faultTable(project: Project): FaultTable {
  const created = createBench({ ...project, scenario: [{ atS: 0, do: "key", down: true }] });
  if (!created.ok) return created;
  const { bench } = created;
  bench.advanceTo(PLACED_NS);
  const start = bench.snapshot();
  return { ok: true, row: (place) => rowOf(bench, start, place) };
}

function rowOf(bench: Bench, healthy: Snapshot, { fault, part }: FaultPlace): FaultRow {
  const { name, latent, usualOnset, begins } = FAULTS[fault];
  const severity = usualSeverity(fault, part);
  bench.cutScript(PLACED_NS);
  bench.visit(healthy);
  const onset = usualOnset === undefined ? {} : { onset: usualOnset };
  bench.schedule(PLACED_NS, { do: "placeFault", fault, part, severity, ...onset });
  if (begins === "withDrive") {
    bench.schedule(PLACED_NS, { do: "key", down: false });
    bench.schedule(PLACED_NS + KEY_UP_NS, { do: "key", down: true });
  }
  follow(bench, latent ? LATENT_NS : QUIET_NS);
  const start = bench.zeros[0] ?? null;
  const zeroNs = start?.zero.atNs ?? PLACED_NS;
  const trip = monitorAt(bench, "trip", zeroNs);
  const cleared = bench.events.find((e) => e.kind === "cleared");
  const clearingS = cleared === undefined ? null : (cleared.atNs - zeroNs) / 1e9;
  const endNs = endedNs(bench);
  const endedS = trip === null || endNs === null ? null : (endNs - zeroNs) / 1e9;
  const next = endedS === null ? null : nextClock(bench);
  const heatsOn =
    next === null ? null : { part: next.part, damageS: (bench.timeNs - zeroNs) / 1e9 + next.leftS };
  const alone = trip === null || start === null ? bench : runAlone(bench, start);
  const weakest = weakestOf(alone, zeroNs);
  const over = (s: number | undefined): number | null =>
    s === undefined || endedS === null || endedS <= 0 || heatsOn !== null ? null : s / endedS;
  return {
    fault,
    part,
    name,
    severity,
    latent,
    began: start !== null,
    trip,
    alarm: monitorAt(bench, "alarm", zeroNs),
    clearingS,
    endedS,
    heatsOn,
    weakest,
    margin: over(weakest?.damageS),
    marginEarly: over(weakest?.damageEarlyS),
    followedS: (bench.timeNs - PLACED_NS) / 1e9,
  };
}

/** When the fault had cleared and the first actuator had acted. */
function endedNs(bench: Bench): number | null {
  const cleared = bench.events.find((e) => e.kind === "cleared");
  const acted = bench.events.find(
    (e) => e.kind === "actuator" && e.effect === "acted" && e.atNs >= PLACED_NS,
  );
  return cleared === undefined || acted === undefined ? null : Math.max(cleared.atNs, acted.atNs);
}

/** Runs on until a little after the end of the fault, or until nothing more is to come. */
function follow(bench: Bench, quietNs: number): void {
  for (let ns = PLACED_NS + STEP_NS; ns <= PLACED_NS + LONGEST_NS; ns += STEP_NS) {
    bench.advanceTo(ns);
    const tripped = bench.events.find((e) => e.kind === "protection" && e.event.kind === "trip");
    if (tripped !== undefined) {
      const isOver = bench.zeros.length === 0 || ns >= (endedNs(bench) ?? Infinity) + TAIL_NS;
      if (isOver || ns > tripped.atNs + UNCLEARED_NS) return;
    } else if (isDamaged(bench)) return;
    else if (ns >= PLACED_NS + quietNs) {
      const { pickedUp } = bench.logic.memory;
      if (pickedUp.length === 0 && nextClock(bench) === null) return;
    }
  }
}

/** The same fault with nobody acting, up to the first damage. */
function runAlone(bench: Bench, start: FaultStart): Bench {
  const alone = bench.fork(start);
  const zeroNs = start.zero.atNs;
  for (let ns = zeroNs + STEP_NS; ns <= zeroNs + ALONE_BURNING_NS; ns += STEP_NS) {
    alone.advanceTo(ns);
    if (isDamaged(alone)) break;
    if (ns >= zeroNs + ALONE_NS && alone.burningJ === 0) break;
  }
  return alone;
}

type Mark = Extract<BenchEvent, { kind: "milestone" }>;

function marks(bench: Bench, edge: Mark["edge"]): readonly Mark[] {
  return bench.events.filter(
    (e): e is Mark =>
      e.kind === "milestone" &&
      e.edge === edge &&
      (e.milestone === "meltOnset" || e.milestone === "damage"),
  );
}

function isDamaged(bench: Bench): boolean {
  return marks(bench, "nominal").length > 0;
}

/** The clock that would come to its end first at its present stress; null for none. */
function nextClock(bench: Bench): { readonly part: DamagePart; readonly leftS: number } | null {
  let first: { readonly part: DamagePart; readonly leftS: number } | null = null;
  for (let k = 0; k < CLOCK_COUNT; k++) {
    const leftS = bench.damage.clockTimeLeftS(bench.buffer, k);
    if (leftS < (first?.leftS ?? Infinity)) first = { part: CLOCK_PARTS[k] as DamagePart, leftS };
  }
  return first;
}

function weakestOf(bench: Bench, zeroNs: number): WeakestPart | null {
  const damaged = marks(bench, "nominal")[0];
  if (damaged !== undefined) {
    const { part, atNs } = damaged;
    const early = marks(bench, "early").find((e) => e.part === part);
    const s = (ns: number): number => (ns - zeroNs) / 1e9;
    return {
      part,
      damageS: s(atNs),
      damageEarlyS: s(early?.atNs ?? atNs),
      isReckoned: false,
    };
  }
  const next = nextClock(bench);
  if (next === null) return null;
  const damageS = (bench.timeNs - zeroNs) / 1e9 + next.leftS;
  return { part: next.part, damageS, damageEarlyS: damageS, isReckoned: true };
}

function monitorAt(bench: Bench, kind: ProtectionEventKind, zeroNs: number): MonitorAt | null {
  const found = bench.events.find((e) => e.kind === "protection" && e.event.kind === kind);
  if (found?.kind !== "protection") return null;
  const id = found.event.monitorId;
  const name = bench.project.monitors.find((m) => m.id === id)?.name ?? id;
  return { id, name, atS: (found.atNs - zeroNs) / 1e9 };
}
