/**
 * Trip memory: what a controller would write down of each trip. The sensors' readings a second before the pickup, at the
 * pickup and at the trip; which trip was first up; a count for each monitor; the last twenty trips.
 *
 * It outlives acknowledge and reset; an act of its own clears it. Readings are those of a sample's end, in the order of
 * SENSOR_NAMES. The second before comes from a ring of readings 20 ms apart in the world's buffer, so it is up to 20 ms
 * older than a second. Inside a sample (comparator) the readings are those of the sample's end.
 */
import type { QuantityName } from "../project/protection";
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import type { BenchEvent } from "./benchEvent";
import { HISTORY_AT, HISTORY_SLOTS, KEY_DOWN_TIME_AT } from "./worldLayout";

/** One reading a sensor, in the order of SENSOR_NAMES. */
export type SensorReadings = readonly number[];

export interface TripRecord {
  readonly monitorId: string;
  readonly pickupNs: number;
  readonly atNs: number;
  readonly firstUp: boolean;
  readonly lockout: boolean;
  readonly quantity: QuantityName | null;
  /** Reading that operated it. */
  readonly value: number | null;
  /** Null in a run's first second. */
  readonly before: SensorReadings | null;
  readonly atPickup: SensorReadings;
  readonly atTrip: SensorReadings;
}

interface PickedUp {
  readonly monitorId: string;
  readonly criteria: readonly number[];
  readonly atNs: number;
  readonly before: SensorReadings | null;
  readonly readings: SensorReadings;
}

export interface TripMemory {
  /** Oldest first, twenty at most. */
  readonly trips: readonly TripRecord[];
  /** Trips since it was last cleared, by monitor. */
  readonly counts: Readonly<Record<string, number>>;
  /** What is picked up just now and may yet trip. */
  readonly pickedUp: readonly PickedUp[];
}

export const MOST_TRIPS = 20;
export const EMPTY_MEMORY: TripMemory = { trips: [], counts: {}, pickedUp: [] };

const SENSORS = SENSOR_NAMES.length;
const SLOT_NS = 20e6;
const SECOND_NS = 1e9;

/** Trips and counts forgotten; what is picked up just now stays. */
export function clearedMemory({ pickedUp }: TripMemory): TripMemory {
  return { ...EMPTY_MEMORY, pickedUp };
}

/** Nothing to clear. */
export function isEmptyMemory({ trips, counts }: TripMemory): boolean {
  return trips.length === 0 && Object.keys(counts).length === 0;
}

/** The end of a sample: every 20 ms a row of the ring, and the time the key has been down. */
export function keepReadings(
  buffer: Float64Array,
  row: Float64Array,
  startNs: number,
  endNs: number,
  keyDown: boolean,
): void {
  if (keyDown) {
    buffer[KEY_DOWN_TIME_AT] = (buffer[KEY_DOWN_TIME_AT] as number) + (endNs - startNs);
  }
  const slot = Math.floor(endNs / SLOT_NS);
  if (slot === Math.floor(startNs / SLOT_NS)) return;
  const at = HISTORY_AT + (slot % HISTORY_SLOTS) * SENSORS;
  for (let i = 0; i < SENSORS; i++) buffer[at + i] = row[i] as number;
}

/** Seconds the key has been down since the run began. */
export function keyDownS(buffer: Float64Array): number {
  return (buffer[KEY_DOWN_TIME_AT] as number) / 1e9;
}

function secondBefore(buffer: Float64Array, ns: number): SensorReadings | null {
  const slot = Math.floor((ns - SECOND_NS) / SLOT_NS);
  if (slot < 1) return null;
  const at = HISTORY_AT + (slot % HISTORY_SLOTS) * SENSORS;
  return Array.from(buffer.subarray(at, at + SENSORS));
}

/** The memory after a sample whose events begin at `firstEvent`; the same where none of them concerns it. */
export function remember(
  memory: TripMemory,
  events: readonly BenchEvent[],
  firstEvent: number,
  buffer: Float64Array,
  row: Float64Array,
): TripMemory {
  let next = memory;
  for (let k = firstEvent; k < events.length; k++) {
    const e = events[k] as BenchEvent;
    if (e.kind !== "protection") continue;
    const { kind, monitorId, criterion, atNs } = e.event;
    const { pickedUp } = next;
    const mine = pickedUp.find((p) => p.monitorId === monitorId);
    const others = pickedUp.filter((p) => p !== mine);
    const began = (): PickedUp => ({
      monitorId,
      criteria: [criterion],
      atNs,
      before: secondBefore(buffer, atNs),
      readings: Array.from(row.subarray(0, SENSORS)),
    });
    switch (kind) {
      case "pickup": {
        const now = mine === undefined ? began() : withCriterion(mine, criterion);
        next = { ...next, pickedUp: [...others, now] };
        break;
      }
      case "dropOff": {
        const left = mine?.criteria.filter((c) => c !== criterion) ?? [];
        const kept = mine === undefined || left.length === 0 ? [] : [{ ...mine, criteria: left }];
        next = { ...next, pickedUp: [...others, ...kept] };
        break;
      }
      case "reset":
      case "selfReset":
      case "notArmed":
        if (mine !== undefined) next = { ...next, pickedUp: others };
        break;
      case "trip": {
        const picked = mine ?? began();
        const trip: TripRecord = {
          monitorId,
          pickupNs: picked.atNs,
          atNs,
          firstUp: e.event.firstUp,
          lockout: false,
          quantity: e.event.quantity,
          value: e.event.value,
          before: picked.before,
          atPickup: picked.readings,
          atTrip: Array.from(row.subarray(0, SENSORS)),
        };
        next = {
          ...next,
          trips: [...next.trips, trip].slice(-MOST_TRIPS),
          counts: { ...next.counts, [monitorId]: (next.counts[monitorId] ?? 0) + 1 },
        };
        break;
      }
      case "lockout":
        next = {
          ...next,
          trips: next.trips.map((t) =>
            t.monitorId === monitorId && t.atNs === atNs ? { ...t, lockout: true } : t,
          ),
        };
        break;
      default:
    }
  }
  return next;
}

function withCriterion(picked: PickedUp, criterion: number): PickedUp {
  return picked.criteria.includes(criterion)
    ? picked
    : { ...picked, criteria: [...picked.criteria, criterion] };
}
