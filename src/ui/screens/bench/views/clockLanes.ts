/**
 * Lanes of the parts' clocks: stress against its rating, and when damage would come if the fault were left alone. The
 * nearest to damage have lanes of their own, the rest share one. Also what all damage lanes share. Times in seconds
 * from the fault's time zero.
 */
import { CLOCK_PARTS, type ClockPart } from "../../../../physics/heat/clocks";
import type { Station } from "../../../../project/station";
import type { ClockReading, RaceReport, TrackPoints } from "../../../../shells/bench/protocol";
import type { BenchEvent, DamagePart } from "../../../../simulation/benchEvent";
import { CHANNEL_COUNT, clockChannel } from "../../../../simulation/channels";
import { formatPercent, formatTime, NO_VALUE } from "../../../../units/format";
import type { DamageLane, RaceMark, RacePoint } from "../../../instruments/race/raceView";
import {
  byNearness,
  nearRating,
  type RecordedInput,
  ratedWords,
  readingWords,
  recordedInput,
} from "./clockWords";
import type { Clearing } from "./laneState";
import { directionOf, excursionOf } from "./laneWhy";
import { DAMAGE_WORDS, spanWords, upperFirst } from "./words";

/** Clocks with a lane of their own; more only where more come to damage. */
const OWN_LANES = 3;
/** Parts named in the lane of the rest. */
const NAMED = 4;
/** A clock that has moved less than this has nothing to draw. */
const LEAST_RISE = 0.02;
const COLD: ClockReading = { stress: 0, fraction: 0, leftS: Number.POSITIVE_INFINITY };

export interface DamageSource {
  readonly report: RaceReport;
  readonly station: Station;
  /** Null in a forecast. */
  readonly nowS: number | null;
  readonly clearing: Clearing | null;
  readonly arcOut: RaceMark | null;
  readonly protectedEvents: readonly BenchEvent[];
}

/** Lanes while nothing has happened: the clocks with the stress of now. */
export function restingLanes(
  station: Station,
  row: Float64Array | null,
  readings: readonly ClockReading[],
): readonly DamageLane[] {
  const parts = byNearness(readings, () => null);
  const own = parts.slice(
    0,
    ownCount(parts, readings, () => null),
  );
  return [
    ...own.map((part) => {
      const reading = readingOf(readings, part);
      const input = recordedInput(station, part);
      const value = input === null || row === null ? 0 : (row[input.channel] as number);
      return {
        ...emptyLane(part, upperFirst(DAMAGE_WORDS[part])),
        why:
          input === null
            ? readingWords(station, part, reading)
            : `${input.words} ${nearRating(value, input)}, ${ratedWords(input)}`,
        head: standingWord(reading),
      };
    }),
    restLane(parts.slice(own.length), readings),
  ];
}

export function isClock(part: DamagePart): part is ClockPart {
  return (CLOCK_PARTS as readonly string[]).includes(part);
}

export function emptyLane(key: string, name: string): DamageLane {
  return {
    key,
    name,
    notes: [],
    tall: false,
    burning: [],
    cooling: [],
    leftAlone: [],
    slowEdge: [],
    onsetEarlyS: null,
    onsetS: null,
    onsetLateS: null,
    stages: [],
    limitWord: "",
    reachedWord: "",
    why: "",
    head: "",
    headNotes: [],
  };
}

/** How far the run left alone has come, in words: `10.0 s`. */
export function spanOf(report: RaceReport): string {
  return formatTime((report.aloneReachedNs - report.zero.atNs) / 1e9);
}

const pointsOf = new WeakMap<TrackPoints, Map<number, readonly RacePoint[]>>();

/** A fraction's points on a track, held to 0 and 1; worked out once a track, which is never written to. */
export function channelPoints(track: TrackPoints, channel: number): readonly RacePoint[] {
  let known = pointsOf.get(track);
  if (known === undefined) {
    known = new Map();
    pointsOf.set(track, known);
  }
  let points = known.get(channel);
  if (points === undefined) {
    points = track.sinceNs.map((ns, k) => ({
      atS: ns / 1e9,
      fraction: Math.min(Math.max(track.rows[k * CHANNEL_COUNT + channel] as number, 0), 1),
    }));
    known.set(channel, points);
  }
  return points;
}

/** All clocks of a fault, the nearest to damage first, then one lane for the rest. */
export function clockLanes(source: DamageSource): readonly DamageLane[] {
  const { report } = source;
  const readings = report.aloneClocks;
  const damagedS = (part: ClockPart): number | null =>
    report.race.damage.find((lane) => lane.part === part)?.onsetUnprotectedS ?? null;
  const parts = byNearness(readings, damagedS);
  const own = parts.slice(0, ownCount(parts, readings, damagedS));
  return [
    ...own.map((part) => clockLane(source, part, readingOf(readings, part), damagedS(part))),
    restLane(parts.slice(own.length), readings),
  ];
}

function clockLane(
  source: DamageSource,
  part: ClockPart,
  reading: ClockReading,
  onsetS: number | null,
): DamageLane {
  const { report, station, nowS, clearing } = source;
  const channel = clockChannel(part);
  const points = channel === null ? [] : channelPoints(report.alone, channel);
  const rises = points.some((p) => p.fraction - (points[0]?.fraction ?? 0) > LEAST_RISE);
  const endS = clearing?.happened === true ? clearing.atS : (nowS ?? 0);
  const shape = {
    ...emptyLane(part, upperFirst(DAMAGE_WORDS[part])),
    onsetEarlyS: onsetS,
    onsetS,
    onsetLateS: onsetS,
    burning: rises && nowS !== null ? points.filter((p) => p.atS <= endS) : [],
    leftAlone: rises ? points.filter((p) => p.atS >= endS) : [],
  };
  const input = recordedInput(station, part);
  const moved =
    input === null
      ? { words: readingWords(station, part, reading), over: reading.stress > 1 }
      : movedWords(report, input);
  if (moved === null) return { ...shape, why: ratedWords(input as RecordedInput), head: NO_VALUE };
  const why = moved.words;
  if (onsetS !== null) return { ...shape, why, head: formatTime(onsetS) };
  const leftS = (report.aloneReachedNs - report.zero.atNs) / 1e9 + reading.leftS;
  if (Number.isFinite(leftS))
    return {
      ...shape,
      why: `${why}, damage at ${formatTime(leftS, 2)} if it stays so`,
      head: formatTime(leftS, 2),
    };
  if (!moved.over) return { ...shape, why, head: "below rating" };
  const within = report.aloneDone ? "within" : "so far, in";
  return { ...shape, why: `${why}, no damage ${within} ${spanOf(report)}`, head: "no damage" };
}

/** What the input did in the run left alone, and whether it passed the rating; null before there is a track. */
function movedWords(
  report: RaceReport,
  input: RecordedInput,
): { readonly words: string; readonly over: boolean } | null {
  const { channel, rating } = input;
  const e = excursionOf(
    report.before,
    report.alone,
    Number.POSITIVE_INFINITY,
    (row, at) => row[at + channel] as number,
  );
  if (e === null) return null;
  const direction = directionOf(e, true, Math.max(e.before, rating * 0.05) * 0.02);
  const moved =
    direction === "steady"
      ? `${input.words} steady, ${nearRating(e.before, input)}`
      : `left alone, ${input.words} ${direction}, ${spanWords(
          nearRating(e.before, input),
          nearRating(direction === "rose" ? e.highest : e.lowest, input),
        )}`;
  return { words: `${moved}, ${ratedWords(input)}`, over: e.highest > rating };
}

/** The clocks without a lane of their own: how many, and how far the foremost of them are. */
function restLane(parts: readonly ClockPart[], readings: readonly ClockReading[]): DamageLane {
  const named = parts
    .map((part) => ({ part, fraction: readingOf(readings, part).fraction }))
    .sort((a, b) => b.fraction - a.fraction)
    .slice(0, NAMED)
    .map(({ part, fraction }) => `${DAMAGE_WORDS[part]} ${formatPercent(fraction)}`);
  const over = parts.some((part) => readingOf(readings, part).stress > 1);
  return {
    ...emptyLane("rest", `${parts.length} more parts`),
    why: `way to damage: ${named.join(", ")}`,
    head: over ? "over rating" : "below rating",
  };
}

function readingOf(readings: readonly ClockReading[], part: ClockPart): ClockReading {
  return readings[CLOCK_PARTS.indexOf(part)] ?? COLD;
}

/** Lanes of their own for the nearest few, and for every part that comes to damage. */
function ownCount(
  parts: readonly ClockPart[],
  readings: readonly ClockReading[],
  damagedS: (part: ClockPart) => number | null,
): number {
  const damaged = parts.filter(
    (part) => damagedS(part) !== null || Number.isFinite(readingOf(readings, part).leftS),
  );
  return Math.max(OWN_LANES, damaged.length);
}

function standingWord({ stress, leftS }: ClockReading): string {
  if (Number.isFinite(leftS)) return `${formatTime(leftS, 2)} left`;
  return stress > 1 ? "over rating" : "below rating";
}
