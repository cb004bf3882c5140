/**
 * Protection lanes of the race: what each monitor did, would do, or why it did not pick up.
 *
 * What happened is read from the events of the protected run up to the play head; what would happen is read from
 * the run left alone, and drawn hollow. Times in seconds from the fault's time zero.
 */
import type { MonitorDef, MonitorRole, QuantityName } from "../../../../project/protection";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import { CH, CHANNEL_COUNT } from "../../../../simulation/channels";
import type { MonitorLane, RaceMark } from "../../../instruments/race/raceView";
import { type Ending, leadingSubWords, leadingWords, stateOf } from "./laneState";
import type { Course, LaneSource, Mode } from "./laneTypes";
import { isArmedAt, whyQuiet } from "./laneWhy";
import { settingWords, timingWords } from "./words";

export function roleIn(def: MonitorDef, mode: Mode): MonitorRole {
  return mode === "tune" ? def.tuneRole : def.role;
}

const MOST_SCANS = 200;

interface Life {
  readonly pickupNs: number | null;
  readonly operateNs: number | null;
  readonly tripNs: number | null;
  readonly criterion: number;
  /** Pickup of the criterion that operated. */
  readonly confirmFromNs: number | null;
}

/** First operation with the pickup that led to it; without one, the pickup still standing or else the first. */
function lifeOf(id: string, events: readonly BenchEvent[]): Life {
  const standing = new Map<number, number>();
  let first: number | null = null;
  let life: Life | null = null;
  for (const e of events) {
    if (e.kind !== "protection" || e.event.monitorId !== id) continue;
    const { kind, criterion } = e.event;
    if (kind === "pickup") {
      if (!standing.has(criterion)) standing.set(criterion, e.atNs);
      first ??= e.atNs;
    } else if (kind === "dropOff") standing.delete(criterion);
    else if (kind === "operate" && life === null) {
      const own = standing.get(Math.max(criterion, 0)) ?? e.atNs;
      life = {
        pickupNs: Math.min(own, ...standing.values()),
        operateNs: e.atNs,
        tripNs: null,
        criterion: Math.max(criterion, 0),
        confirmFromNs: own,
      };
    } else if (kind === "trip" && life !== null) return { ...life, tripNs: e.atNs };
  }
  return (
    life ?? { pickupNs: first, operateNs: null, tripNs: null, criterion: 0, confirmFromNs: null }
  );
}

/** The courses of all monitors, in the order of the settings. */
export function coursesOf(source: LaneSource): readonly Course[] {
  const { zeroNs, nowS, untilNs } = source;
  const mine = (e: BenchEvent): boolean => e.atNs >= zeroNs && e.atNs < untilNs;
  const ours = source.protectedEvents.filter(mine);
  const alone = source.aloneEvents.filter(mine);
  const sinceZero = (ns: number | null): number | null =>
    ns === null ? null : (ns - zeroNs) / 1e9;
  return source.monitors.map((def): Course => {
    const role = roleIn(def, source.mode);
    const own = lifeOf(def.id, ours);
    const left = lifeOf(def.id, alone);
    const mark = (ownNs: number | null, aloneNs: number | null): RaceMark | null => {
      const ns = ownNs ?? aloneNs;
      if (ns === null) return null;
      const atS = (ns - zeroNs) / 1e9;
      const happened = ownNs !== null && role === "acting" && nowS !== null && atS <= nowS;
      return { atS, happened };
    };
    const operates = own.operateNs !== null;
    const off = role === "off";
    const pickup = off
      ? null
      : operates
        ? mark(own.pickupNs, null)
        : mark(own.pickupNs, left.pickupNs);
    return {
      def,
      role,
      armed: isArmedAt(def, source.armingEvents, zeroNs),
      criterion: operates ? own.criterion : left.criterion,
      confirmFromS: sinceZero(operates ? own.confirmFromNs : left.confirmFromNs),
      pickup,
      isOwn: own.pickupNs !== null,
      operate: off ? null : mark(own.operateNs, left.operateNs),
      trip: mark(own.tripNs, role === "acting" ? left.operateNs : null),
    };
  });
}

/** The monitor that clears, or would: first trip, else the first acting one to operate, else the first in shadow. */
export function leadingOf(courses: readonly Course[], firstTripId: string | null): Course | null {
  const tripped = courses.find((c) => c.def.id === firstTripId);
  if (tripped !== undefined) return tripped;
  const first = (role: MonitorRole): Course | null =>
    courses
      .filter((c) => c.role === role && c.operate !== null)
      .sort((a, b) => (a.operate?.atS ?? 0) - (b.operate?.atS ?? 0))[0] ?? null;
  return first("acting") ?? first("shadow");
}

/** Lanes in order: leading, then by time to operate, then as the settings have them. */
export function lanesOf(
  source: LaneSource,
  courses: readonly Course[],
  leading: Course | null,
  ending: Ending,
): readonly MonitorLane[] {
  const rank = (c: Course): number =>
    c === leading ? -1 : (c.operate?.atS ?? Number.POSITIVE_INFINITY);
  return courses
    .map((course, i) => ({ course, i }))
    .sort((a, b) => {
      const left = rank(a.course);
      const right = rank(b.course);
      return left === right ? a.i - b.i : left - right;
    })
    .map(({ course }) => laneOf(source, course, course === leading, ending));
}

function laneOf(
  source: LaneSource,
  course: Course,
  isLeading: boolean,
  ending: Ending,
): MonitorLane {
  const { def, role } = course;
  const criterion = def.criteria[course.criterion] ?? def.criteria[0];
  const state = stateOf(source, course);
  return {
    key: def.id,
    name: def.name,
    device: def.deviceNumber,
    setting:
      criterion === undefined
        ? ""
        : settingWords(def, criterion, tunedPickup(criterion, source.mode)),
    mode: role,
    leading: isLeading,
    beforeWord: beforeWordOf(source, course),
    pickup: course.pickup,
    scansS: scansOf(course),
    operate: course.operate,
    trip: course.trip,
    arcOut: isLeading && role === "acting" ? (ending.arcOut ?? ending.cleared) : null,
    why: course.pickup === null ? whyQuiet(source, course) : whyTiming(source, course),
    words: isLeading ? leadingWords(course, ending) : [],
    subWords: isLeading ? leadingSubWords(course, ending) : "",
    ...state,
  };
}

function tunedPickup(criterion: MonitorDef["criteria"][number], mode: Mode): number {
  return mode === "tune" ? (criterion.tunePickup ?? criterion.pickup) : criterion.pickup;
}

/** Quantities without a reading while there is no drive, and those that then read nothing, which only a monitor of the side under sees. */
const UNREAD: ReadonlySet<QuantityName> = new Set([
  "forwardGainDb",
  "gainDeviationDb",
  "vswr",
  "gridPlateRatio",
  "inputReflectedRatio",
]);
const NOTHING: ReadonlySet<QuantityName> = new Set([
  "driveForwardW",
  "driveReflectedW",
  "outputForwardW",
  "outputReflectedW",
  "gridCurrentA",
  "plateRfPeakV",
  "netOutputW",
]);
/** Shorter gaps are nulls of the signal: two tones pass through none, a word does not end. */
const GAP_NS = 5e6;
/** Where a monitor has no level of drive of its own: of the most drive there was. */
const NO_DRIVE_SHARE = 0.01;

/** What passed between the fault and the pickup: filters alone, or there was no drive for a part of it. */
function beforeWordOf({ shown, track }: LaneSource, course: Course): string {
  const { def, criterion, pickup } = course;
  const c = def.criteria[criterion] ?? def.criteria[0];
  const seen = course.isOwn ? shown : track;
  if (pickup === null || seen === null || c === undefined) return "filter";
  const isArmedByDrive = def.arming.kind === "onAir" && def.arming.driveAboveW > 0;
  const needsDrive = UNREAD.has(c.quantity) || (NOTHING.has(c.quantity) && c.side === "over");
  if (!isArmedByDrive && !needsDrive) return "filter";
  const driveW = (k: number) => seen.rows[k * CHANNEL_COUNT + CH.driveW] as number;
  const count = seen.sinceNs.filter((ns) => ns <= pickup.atS * 1e9).length;
  const mostW = Math.max(0, ...Array.from({ length: count }, (_, k) => driveW(k)));
  const needsW = isArmedByDrive ? def.arming.driveAboveW : NO_DRIVE_SHARE * mostW;
  let goneNs = Infinity;
  for (let k = 0; k < count; k++) {
    const ns = seen.sinceNs[k] as number;
    if (driveW(k) >= needsW) goneNs = Infinity;
    else goneNs = Math.min(goneNs, ns);
    if (ns - goneNs >= GAP_NS) return "wait for drive and filter";
  }
  return "filter";
}

/** Scans seen after the pickup, up to the one that operated. */
function scansOf({ def, confirmFromS, operate }: Course): readonly number[] {
  if (confirmFromS === null || operate === null || def.path === "comparator") return [];
  const count = Math.round((operate.atS - confirmFromS) / def.scanS) - 1;
  if (!(count > 0) || count > MOST_SCANS) return [];
  return Array.from({ length: count }, (_, k) => confirmFromS + (k + 1) * def.scanS);
}

/** What a lane that picked up waits for. */
function whyTiming(source: LaneSource, { def, criterion, operate }: Course): string {
  const c = def.criteria[criterion] ?? def.criteria[0];
  if (c === undefined) return "";
  const words = timingWords(def, c);
  if (operate !== null || c.timing.kind === "thermal") return `timing, ${words}`;
  const until = source.aloneDone ? "" : " so far";
  return `timing, ${words}; does not operate${until}`;
}
