/**
 * Lanes of the clocks of grid, anode, cathode and exciter: stress against its rating, and when damage would come if the
 * fault were left alone. Also what all damage lanes share. Times in seconds from the fault's time zero.
 */
import { damageClocks, stressOf, timeLeftS } from "../../../../physics/heat/clocks";
import type { Station } from "../../../../project/station";
import type { RaceReport, TrackPoints } from "../../../../shells/bench/protocol";
import type { BenchEvent, DamagePart } from "../../../../simulation/benchEvent";
import { CH, CHANNEL_COUNT } from "../../../../simulation/channels";
import { clockChannel, type DamageLane as RaceDamage } from "../../../../simulation/race";
import { formatQuantity, formatTime, NO_VALUE } from "../../../../units/format";
import type { DamageLane, RaceMark, RacePoint } from "../../../instruments/race/raceView";
import { directionOf, excursionOf } from "./laneWhy";
import { ampereNear, DAMAGE_WORDS, orNothing, spanWords, upperFirst } from "./words";

const CLOCKS = ["grid", "anode", "cathode", "exciter"] as const;
type Clock = (typeof CLOCKS)[number];

const CLOCK_INPUT: Readonly<Record<Clock, { readonly channel: number; readonly words: string }>> = {
  grid: { channel: CH.gridDissipationW, words: "grid dissipation" },
  anode: { channel: CH.plateDissipationW, words: "plate dissipation" },
  cathode: { channel: CH.tubeCurrentA, words: "cathode current" },
  exciter: { channel: CH.driveReflectedW, words: "reflected drive" },
};

/** A clock that has moved less than this has nothing to draw. */
const LEAST_RISE = 0.02;

export interface DamageSource {
  readonly report: RaceReport;
  readonly station: Station;
  /** Null in a forecast. */
  readonly nowS: number | null;
  readonly clearing: RaceMark | null;
  readonly arcOut: RaceMark | null;
  readonly protectedEvents: readonly BenchEvent[];
}

/** Lanes while nothing has happened: the clocks with the stress of now. */
export function restingLanes(station: Station, row: Float64Array | null): readonly DamageLane[] {
  const clocks = damageClocks(station.ratings);
  return CLOCKS.map((part) => {
    const { rating, unit } = clocks[part];
    const value = row === null ? 0 : (row[CLOCK_INPUT[part].channel] as number);
    const over = value > rating;
    return {
      ...emptyLane(part, upperFirst(DAMAGE_WORDS[part])),
      why: `${CLOCK_INPUT[part].words} ${near(value, rating, unit)}, ${formatQuantity(rating, unit)} rated`,
      head: over ? "over rating" : "below rating",
    };
  });
}

export function isClock(part: DamagePart): part is Clock {
  return (CLOCKS as readonly string[]).includes(part);
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

function near(value: number, rating: number, unit: string): string {
  const shown = orNothing(value, rating * 0.1);
  return unit === "A" && shown !== 0 ? ampereNear(shown, rating) : formatQuantity(shown, unit);
}

/** How far the run left alone has come, in words: `10.0 s`. */
export function spanOf(report: RaceReport): string {
  return formatTime((report.aloneReachedNs - report.zero.atNs) / 1e9);
}

/** A fraction's points on a track, held to 0 and 1. */
export function channelPoints(track: TrackPoints, channel: number): readonly RacePoint[] {
  return track.sinceNs.map((ns, k) => ({
    atS: ns / 1e9,
    fraction: Math.min(Math.max(track.rows[k * CHANNEL_COUNT + channel] as number, 0), 1),
  }));
}

/** One clock of a fault. */
export function clockLane(source: DamageSource, lane: RaceDamage, part: Clock): DamageLane {
  const { report, station, nowS, clearing } = source;
  const clock = damageClocks(station.ratings)[part];
  const { channel, words } = CLOCK_INPUT[part];
  const read = (row: Float64Array, at: number): number => row[at + channel] as number;
  const e = excursionOf(report.before, report.alone, read);
  const { rating, unit } = clock;
  const rated = `${formatQuantity(rating, unit)} rated`;
  const onsetS = lane.onsetUnprotectedS;
  const points = channelPoints(report.alone, clockChannel(part));
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
  if (e === null) return { ...shape, why: rated, head: NO_VALUE };
  const direction = directionOf(e, true, Math.max(e.before, rating * 0.05) * 0.02);
  const moved =
    direction === "steady"
      ? `${words} steady, ${near(e.before, rating, unit)}`
      : `${words} ${direction}, ${spanWords(
          near(e.before, rating, unit),
          near(direction === "rose" ? e.highest : e.lowest, rating, unit),
        )}`;
  const why = `${moved}, ${rated}`;
  if (onsetS !== null) return { ...shape, why, head: formatTime(onsetS) };
  if (e.highest <= rating) return { ...shape, why, head: "below rating" };
  const leftS = leftAfterS(report, clock, channel, part);
  if (Number.isFinite(leftS))
    return {
      ...shape,
      why: `${why}, damage at ${formatTime(leftS, 2)} if it stays so`,
      head: formatTime(leftS, 2),
    };
  const within = report.aloneDone ? "within" : "so far, in";
  return { ...shape, why: `${why}, no damage ${within} ${spanOf(report)}`, head: "no damage" };
}

/** Damage at the stress of the last point of the run left alone, from the fault; Infinity for never. */
function leftAfterS(
  report: RaceReport,
  clock: ReturnType<typeof damageClocks>[Clock],
  channel: number,
  part: Clock,
): number {
  const { sinceNs, rows } = report.alone;
  const last = sinceNs.length - 1;
  const ns = sinceNs[last];
  if (ns === undefined) return Number.POSITIVE_INFINITY;
  const at = last * CHANNEL_COUNT;
  const image = (rows[at + clockChannel(part)] as number) * clock.damageRatio;
  return ns / 1e9 + timeLeftS(clock, image, stressOf(clock, rows[at + channel] as number));
}
