/**
 * Likely causes of a trip, ranked: its readings against the signatures of every fault of the library.
 *
 * What is compared is the change up to the trip: from the readings a second before the pickup, where the station was
 * then on the air and healthy, else from the healthy full carrier of the library. The cause whose nearest signature
 * lies nearest comes first; farther than NEAR is no likeness. The reason is read off the trip's own readings, the largest
 * changes first. A likeness, no proof: two faults at once, or one of another kind, look like a third.
 */
import { FAULTS } from "../project/faults";
import type { SensorName, Sensors } from "../project/protection";
import type { FaultName, PartName } from "../project/scenario";
import type { ArcPlace } from "../project/station";
import { forwardGainDb } from "../protection/derived";
import { formatReading, QUANTITY_WORDS } from "../protection/quantityWords";
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import type { SensorReadings, TripRecord } from "../simulation/tripMemory";
import { formatDb, formatPercent } from "../units/format";
import { changesOf, distance, noiseOf, type SignatureLibrary } from "./signatures";

/** No cause farther than this is named: a factor of 2.7 in every large change [E]. */
export const NEAR = 1;
const MOST_CAUSES = 5;
const MOST_REASONS = 4;
/** Changes smaller than this give no reason: three times noise and tolerance together. */
const REASON = 1.8;
/** Drive of a station on the air, W, and how far its gain may be from the healthy one to pass for healthy. */
const ON_AIR_W = 5;
const HEALTHY_DB = 1;
/** A reading under so many times its noise is nothing. */
const NOTHING = 3;

export interface LikelyCause {
  /** Names of the faults, one or those that look alike. */
  readonly name: string;
  readonly faults: readonly { readonly fault: FaultName; readonly part: PartName }[];
  readonly struck: ArcPlace | null;
  /** 0 for the very same readings. */
  readonly distance: number;
  /** Severity whose signature is nearest. */
  readonly severity: number;
}

export interface Diagnosis {
  /** Nearest first, five at most; empty when nothing is near. */
  readonly causes: readonly LikelyCause[];
  /** What the readings did, in words: `forward gain −20.3 dB, plate current rose 11 %`. */
  readonly reason: string;
  /** Said in place of causes; empty where there are some. */
  readonly none: string;
}

/** Causes of one trip. */
export function diagnose(
  library: SignatureLibrary,
  sensors: Sensors,
  trip: Pick<TripRecord, "before" | "atTrip">,
): Diagnosis {
  const reference = referenceOf(library, trip.before);
  const changes = changesOf(sensors, reference, trip.atTrip);
  const causes = library.causes
    .map((cause): LikelyCause => {
      let nearest = Infinity;
      let severity = Number.NaN;
      for (const s of cause.signatures) {
        const d = distance(s.changes, changes);
        if (d >= nearest) continue;
        nearest = d;
        severity = s.severity;
      }
      const { faults, struck } = cause;
      const names = [...new Set(faults.map(({ fault }) => FAULTS[fault].name))];
      return { name: names.join(" or "), faults, struck, distance: nearest, severity };
    })
    .filter((c) => c.distance <= NEAR)
    .sort((a, b) => a.distance - b.distance)
    .slice(0, MOST_CAUSES);
  return {
    causes,
    reason: reasonWords(sensors, reference, trip.atTrip, changes),
    none: causes.length > 0 ? "" : noneWords(trip.before),
  };
}

/** The library knows what comes while a carrier is on; what is keyed into looks otherwise, for the readings are still rising. */
function noneWords(before: SensorReadings | null): string {
  const none = "no fault of the library looks like this";
  if (before === null || at(before, "driveForwardW") >= ON_AIR_W) return none;
  return `${none}: a second before there was no drive, and the library has faults that come while a carrier is on. The trip before this one may tell more`;
}

const at = (readings: SensorReadings, name: SensorName): number =>
  readings[SENSOR_NAMES.indexOf(name)] as number;

function gainDb(readings: SensorReadings): number {
  return forwardGainDb(at(readings, "driveForwardW"), at(readings, "outputForwardW"));
}

function referenceOf(library: SignatureLibrary, before: SensorReadings | null): SensorReadings {
  if (before === null || at(before, "driveForwardW") < ON_AIR_W) return library.healthy;
  const isHealthy = Math.abs(gainDb(before) - gainDb(library.healthy)) <= HEALTHY_DB;
  return isHealthy ? before : library.healthy;
}

function reasonWords(
  sensors: Sensors,
  before: SensorReadings,
  after: SensorReadings,
  changes: readonly number[],
): string {
  const gain = gainDb(after) - gainDb(before);
  const hasGain = Math.abs(gain) >= 0.5; // not a number where there is no drive: no
  const order = SENSOR_NAMES.map((name, i) => ({ name, h: changes[i] as number }))
    .filter(({ name, h }) => Math.abs(h) >= REASON && !(hasGain && name === "outputForwardW"))
    // from nothing to nothing is the noise's doing
    .filter(({ name }) => {
      const nothing = NOTHING * noiseOf(sensors[name]);
      return at(before, name) > nothing || at(after, name) > nothing;
    })
    .sort((a, b) => Math.abs(b.h) - Math.abs(a.h))
    .slice(0, MOST_REASONS - (hasGain ? 1 : 0));
  const words = order.map(({ name }) =>
    changeWords(name, at(before, name), at(after, name), noiseOf(sensors[name])),
  );
  return [...(hasGain ? [`forward gain ${formatDb(gain)}`] : []), ...words].join(", ");
}

/** `plate current rose 11 %`, `reflected power came up to 740 W`, `drive went to nothing`. */
function changeWords(name: SensorName, before: number, after: number, noise: number): string {
  const { words } = QUANTITY_WORDS[name];
  if (after <= NOTHING * noise) return `${words} went to nothing`;
  if (before <= NOTHING * noise) return `${words} came up to ${formatReading(name, after)}`;
  const ratio = after / before;
  if (name === "exhaustAirK") return `${words} went to ${formatReading(name, after)}`;
  if (ratio > 2 || ratio < 0.5) {
    return `${words} ${ratio > 1 ? "rose" : "fell"} to ${formatReading(name, after)}`;
  }
  return `${words} ${ratio > 1 ? "rose" : "fell"} ${formatPercent(Math.abs(ratio - 1))}`;
}
