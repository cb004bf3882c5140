/** What is said of a part's clock: what heats it against what it stands, and the clocks nearest to damage first. */
import { CLOCK_PARTS, type ClockPart } from "../../../../physics/heat/clocks";
import type { Station } from "../../../../project/station";
import type { ClockReading } from "../../../../shells/bench/protocol";
import { CH } from "../../../../simulation/channels";
import { formatCelsius, formatPercent, formatQuantity } from "../../../../units/format";
import { ampereNear, orNothing } from "./words";

/** A part whose heating input is itself a recorded channel. */
export interface RecordedInput {
  readonly channel: number;
  readonly words: string;
  readonly rating: number;
  readonly unit: "W" | "A";
}

/** The recorded input of a clock; null where the clock's own reading has to tell. */
export function recordedInput({ ratings }: Station, part: ClockPart): RecordedInput | null {
  switch (part) {
    case "grid":
      return {
        channel: CH.gridDissipationW,
        words: "grid dissipation",
        rating: ratings.gridDissipationW,
        unit: "W",
      };
    case "anode":
      return {
        channel: CH.plateDissipationW,
        words: "plate dissipation",
        rating: ratings.plateDissipationW,
        unit: "W",
      };
    case "cathode":
      return {
        channel: CH.tubeCurrentA,
        words: "cathode current",
        rating: ratings.plateCurrentA,
        unit: "A",
      };
    case "exciter":
      return {
        channel: CH.driveReflectedW,
        words: "reflected drive",
        rating: ratings.exciterReflectedW,
        unit: "W",
      };
    default:
      return null;
  }
}

/** An input beside its rating: nothing where it is nothing beside it. */
export function nearRating(value: number, { rating, unit }: RecordedInput): string {
  const shown = orNothing(value, rating * 0.1);
  return unit === "A" && shown !== 0 ? ampereNear(shown, rating) : formatQuantity(shown, unit);
}

/** `25.0 W rated` */
export function ratedWords({ rating, unit }: RecordedInput): string {
  return `${formatQuantity(rating, unit)} rated`;
}

/** What heats a part that has no recorded input, or how warm or worn it is, and what it stands. */
export function readingWords(station: Station, part: ClockPart, reading: ClockReading): string {
  const { ratings, cooling, clocks, site } = station;
  const currentA = (rmsA: number): string =>
    `RF current ${ampereNear(rmsA * Math.sqrt(Math.max(reading.stress, 0)), rmsA)}, ${formatQuantity(rmsA, "A")} rated`;
  switch (part) {
    case "seal": {
      const inletK = cooling.inletK ?? site.airK;
      const sealK = inletK + reading.fraction * (cooling.sealLimitK - inletK);
      return `at ${formatCelsius(sealK)}, limit ${formatCelsius(cooling.sealLimitK)}`;
    }
    case "switchContact":
      return currentA(ratings.coilRmsA);
    case "tuningWiper":
      return currentA(ratings.tuningRmsA);
    case "loadingWiper":
      return currentA(ratings.loadingRmsA);
    case "plateChoke":
      return `heating ${formatPercent(reading.stress)} of its rating`;
    case "surgeResistor":
      return `holds ${formatQuantity(reading.fraction * clocks.surgeRatedJ, "J")} of ${formatQuantity(clocks.surgeRatedJ, "J")}`;
    case "relayContact":
      return `worn by ${formatPercent(reading.fraction)}, hot switching`;
    default:
      return "";
  }
}

/** Parts in order of how near they are to damage: by their time where one is known, then over rating, then as listed. */
export function byNearness(
  readings: readonly ClockReading[],
  damagedS: (part: ClockPart) => number | null,
): readonly ClockPart[] {
  const timeOf = (part: ClockPart, k: number): number =>
    damagedS(part) ?? readings[k]?.leftS ?? Number.POSITIVE_INFINITY;
  const rank = (part: ClockPart, k: number): number =>
    damagedS(part) !== null
      ? 0
      : Number.isFinite(timeOf(part, k))
        ? 1
        : (readings[k]?.stress ?? 0) > 1
          ? 2
          : 3;
  return CLOCK_PARTS.map((part, k) => ({ part, rank: rank(part, k), timeS: timeOf(part, k) }))
    .sort((a, b) => a.rank - b.rank || (a.rank < 2 ? a.timeS - b.timeS : 0))
    .map(({ part }) => part);
}
