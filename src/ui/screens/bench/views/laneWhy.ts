/** Why a monitor did not pick up, in words: what its quantity did and the pickup it did not reach, or what it waits for. */
import type { Criterion, MonitorDef } from "../../../../project/protection";
import { isSameData } from "../../../../project/sameData";
import { QUANTITY_WORDS } from "../../../../protection/quantityWords";
import type { TrackPoints } from "../../../../shells/bench/protocol";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import { CH, CHANNEL_COUNT } from "../../../../simulation/channels";
import type { ExpectedGain } from "../../../../simulation/gainTable";
import { quantityOf } from "../../../../simulation/quantityOf";
import { formatDb, formatTime } from "../../../../units/format";
import { blindWords } from "./laneBlind";
import type { Course, LaneSource } from "./laneTypes";
import { conditionWords, deviationWords, pickupWords, readingNear, spanWords } from "./words";

/** Points earlier than this are the tank's own transient and no reading. */
const FROM_NS = 10_000;
/** Changes under 2 % of the value or of the pickup are called steady. */
const STEADY = 0.02;
const STEADY_DB = 0.05;

/** Whether a monitor was armed at an instant; one that waits for nothing always is. */
export function isArmedAt(def: MonitorDef, events: readonly BenchEvent[], atNs: number): boolean {
  const { arming } = def;
  const isConditional =
    arming.kind === "onAir" ||
    arming.when.length > 0 ||
    arming.afterSupplyReadyS > 0 ||
    def.blankingS > 0;
  if (!isConditional) return true;
  let armed = events.length === 0;
  for (const e of events) {
    if (e.atNs > atNs) break;
    if (e.kind !== "protection" || e.event.monitorId !== def.id) continue;
    if (e.event.kind === "armed") armed = true;
    else if (e.event.kind === "notArmed") armed = false;
  }
  return armed;
}

/** Words of a fault left alone, by its track and monitor, with what they were made from; a track is never written to. */
const kept = new WeakMap<TrackPoints, Map<string, Kept>>();

interface Kept {
  readonly def: MonitorDef;
  readonly of: string;
  readonly words: string;
}

/** The lane's words where there is no pickup. */
export function whyQuiet(source: LaneSource, course: Course): string {
  const { track, nowS, zeroNs } = source;
  if (track === null) return quietWords(source, course);
  const nowNs = nowS === null ? -1 : zeroNs + nowS * 1e9;
  const of = [
    course.role,
    course.armed,
    source.mode,
    source.untilNs,
    source.aloneDone,
    shownCount(source),
    source.armingEvents.length,
    source.protectedEvents.length,
    source.aloneEvents.findIndex((e) => e.atNs > nowNs),
    source.protectedEvents.findIndex((e) => e.atNs > nowNs),
  ].join();
  let words = kept.get(track);
  if (words === undefined) {
    words = new Map();
    kept.set(track, words);
  }
  const { def } = course;
  const known = words.get(def.id);
  if (known?.of === of && isSameData(known.def, def)) return known.words;
  const made = quietWords(source, course);
  words.set(def.id, { def, of, words: made });
  return made;
}

/** Points of the run shown that count. */
function shownCount({ shown, shownToNs }: LaneSource): number {
  const past = shown?.sinceNs.findIndex((ns) => ns > shownToNs) ?? 0;
  return past < 0 ? (shown?.sinceNs.length ?? 0) : past;
}

function quietWords(source: LaneSource, course: Course): string {
  const { def, role } = course;
  if (role === "off") return source.mode === "tune" ? "off in tune mode" : "off in the settings";
  const criterion = def.criteria[0];
  if (criterion === undefined) return "no criterion";
  const blind = blindWords(def, source.armingEvents, source.zeroNs);
  if (blind !== "") return blind;
  if (!course.armed) return notArmedWords(source, def);
  const pickup =
    source.mode === "tune" ? (criterion.tunePickup ?? criterion.pickup) : criterion.pickup;
  if (source.before === null) return pickupWords(criterion, pickup);
  const disarmed = disarmedWords(source, def);
  if (disarmed !== "") return disarmed;
  const waits = waitsFor(source, criterion);
  if (waits !== "") return waits;
  return criterion.quantity === "gainDeviationDb"
    ? gainWords(source, criterion, pickup)
    : movedWords(source, criterion, pickup);
}

function notArmedWords({ before }: LaneSource, { arming }: MonitorDef): string {
  const driveW = before === null ? Number.NaN : (before[CH.driveW] as number);
  if (arming.kind === "onAir" && !(driveW >= arming.driveAboveW))
    return `not armed: drive ${readingNear("driveForwardW", Number.isNaN(driveW) ? 0 : driveW, 1)}, arms over ${readingNear("driveForwardW", arming.driveAboveW, 1)}`;
  const unmet = arming.when.find(
    (c) => before !== null && !holds(c.side, quantityOf(c.quantity, before, 0), c.level),
  );
  if (unmet !== undefined) return `not armed: waits for ${conditionWords(unmet)}`;
  if (arming.kind === "onAir")
    return `not armed: waits for the T/R relay and ${formatTime(arming.settledS)} of drive`;
  return `not armed: waits ${formatTime(arming.afterSupplyReadyS)} after the plate supply is ready`;
}

/** The fault itself took the arming away before there was a pickup; what a trip takes away says nothing of the fault. */
function disarmedWords(source: LaneSource, { id, arming }: MonitorDef): string {
  const { track, zeroNs, untilNs } = source;
  const tripNs = source.protectedEvents.find(
    (e) => e.kind === "protection" && e.event.kind === "trip" && e.atNs >= zeroNs,
  )?.atNs;
  const untripped = source.protectedEvents.filter((e) => tripNs === undefined || e.atNs < tripNs);
  const alone = source.aloneEvents.filter((e) => e.atNs - zeroNs <= source.shownToNs);
  const gone = [...untripped, ...alone].find(
    (e) =>
      e.kind === "protection" &&
      e.event.kind === "notArmed" &&
      e.event.monitorId === id &&
      e.atNs >= zeroNs &&
      e.atNs < untilNs &&
      (source.nowS === null || e.atNs <= zeroNs + source.nowS * 1e9 || !source.aloneDone),
  );
  if (gone === undefined || track === null) return "";
  const unmet = arming.when.find((c) =>
    track.sinceNs.some(
      (_, k) => !holds(c.side, quantityOf(c.quantity, track.rows, k * CHANNEL_COUNT), c.level),
    ),
  );
  const asks =
    unmet === undefined
      ? `drive over ${readingNear("driveForwardW", arming.driveAboveW, arming.driveAboveW)}`
      : conditionWords(unmet);
  return `not armed from ${formatTime((gone.atNs - zeroNs) / 1e9)}, arms with ${asks}`;
}

function holds(side: "over" | "under", value: number | null, level: number): boolean {
  return value !== null && (side === "over" ? value > level : value < level);
}

/** A criterion whose side condition does not hold at the fault: what it waits for. */
function waitsFor({ before, shown, shownToNs }: LaneSource, criterion: Criterion): string {
  if (before === null) return "";
  for (const condition of criterion.when) {
    const was = quantityOf(condition.quantity, before, 0);
    const met = (shown?.sinceNs ?? []).some(
      (ns, k) =>
        ns >= FROM_NS &&
        ns <= shownToNs &&
        holds(
          condition.side,
          quantityOf(condition.quantity, (shown as TrackPoints).rows, k * CHANNEL_COUNT),
          condition.level,
        ),
    );
    if (met || was === null || holds(condition.side, was, condition.level)) continue;
    const { words } = QUANTITY_WORDS[condition.quantity];
    return `asks ${conditionWords(condition)}; ${words} ${readingNear(condition.quantity, was, condition.level)}`;
  }
  return "";
}

export interface Excursion {
  readonly before: number;
  readonly highest: number;
  readonly lowest: number;
}

/** Value before, and highest and lowest of a track up to an instant; null without a reading before. */
export function excursionOf(
  before: Float64Array,
  track: TrackPoints | null,
  toNs: number,
  read: (row: Float64Array, at: number) => number | null,
): Excursion | null {
  const was = read(before, 0);
  if (was === null) return null;
  let highest = was;
  let lowest = was;
  const rows = track?.rows;
  for (let k = 0; rows !== undefined && k < (track?.sinceNs.length ?? 0); k++) {
    const sinceNs = track?.sinceNs[k] as number;
    if (sinceNs > toNs) break;
    if (sinceNs < FROM_NS) continue;
    const value = read(rows, k * CHANNEL_COUNT);
    if (value === null) continue;
    if (value > highest) highest = value;
    if (value < lowest) lowest = value;
  }
  return { before: was, highest, lowest };
}

/** Which way a quantity went: towards the side asked where it went there at all, else where it went most. */
export function directionOf(
  e: Excursion,
  over: boolean,
  still: number,
): "rose" | "fell" | "steady" {
  const up = e.highest - e.before;
  const down = e.before - e.lowest;
  const towards = over ? up : down;
  const away = over ? down : up;
  if (towards > still && towards >= 0.25 * away) return over ? "rose" : "fell";
  if (away > still) return over ? "fell" : "rose";
  return "steady";
}

function movedWords(source: LaneSource, criterion: Criterion, pickup: number): string {
  const { quantity, side } = criterion;
  const said = pickupWords(criterion, pickup);
  const e = excursionOf(source.before as Float64Array, source.shown, source.shownToNs, (row, at) =>
    quantityOf(quantity, row, at),
  );
  if (e === null) return `no reading, ${said}`;
  const over = side === "over";
  const still = Math.max(Math.abs(e.before), Math.abs(pickup)) * STEADY;
  const near = (value: number): string => readingNear(quantity, value, pickup);
  const direction = directionOf(e, over, still);
  if (direction === "steady") return `steady, ${near(e.before)}, ${said}`;
  const to = direction === "rose" ? e.highest : e.lowest;
  const words = `${direction}, ${spanWords(near(e.before), near(to))}, ${said}`;
  const past = over ? to > pickup : to < pickup;
  return past && direction === (over ? "rose" : "fell") ? `${words}: too short for it` : words;
}

function gainWords(source: LaneSource, criterion: Criterion, pickup: number): string {
  const said = pickupWords(criterion, pickup).replace(" expected", "");
  const before = source.before as Float64Array;
  const reference = gainDb(before, 0);
  const e = excursionOf(before, source.shown, source.shownToNs, (row, at) =>
    deviationDb(row, at, source.expectedGain, reference),
  );
  if (e === null) return `no drive, ${pickupWords(criterion, pickup)}`;
  const direction = directionOf(e, false, STEADY_DB);
  const to = direction === "rose" ? e.highest : e.lowest;
  const words =
    direction === "steady"
      ? `steady, ${deviationWords(e.before)}`
      : `${direction} to ${deviationWords(to)}`;
  if (source.track === null || source.struck || to < pickup) return `${words}, ${said}`;
  const lowest = excursionOf(before, source.shown, source.shownToNs, gainDb)?.lowest;
  const still = lowest === undefined ? "" : `; forward gain still reads ${formatDb(lowest)}`;
  return `${words}, ${said}${still}`;
}

/** Forward gain at a row; null without drive. */
export function gainDb(row: Float64Array, at: number): number | null {
  return quantityOf("forwardGainDb", row, at);
}

/** Gain against what is expected at that drive, or against the gain before the fault where nobody can say. */
function deviationDb(
  row: Float64Array,
  at: number,
  expectedGain: ExpectedGain | null,
  reference: number | null,
): number | null {
  const gain = gainDb(row, at);
  const expected = expectedGain?.(row[at + CH.driveW] as number) ?? reference;
  if (gain === null || expected === null || !Number.isFinite(expected)) return null;
  return gain - expected;
}
