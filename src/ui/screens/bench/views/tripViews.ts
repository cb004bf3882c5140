/** The trips written down, newest first, as words: when, what the readings were, what it looks like. */

import type { MonitorDef } from "../../../../project/protection";
import { formatReading, QUANTITY_WORDS } from "../../../../protection/quantityWords";
import { SENSOR_NAMES } from "../../../../protection/sensing/sensing";
import type { TripRecord } from "../../../../simulation/tripMemory";
import type { Diagnosis } from "../../../../study/diagnosis";
import { formatNumber, formatTime, NO_VALUE } from "../../../../units/format";
import { faultWords, upperFirst } from "./words";

export interface TripView {
  readonly key: string;
  readonly title: string;
  readonly firstUp: boolean;
  readonly lockout: boolean;
  readonly readings: readonly {
    readonly name: string;
    readonly before: string;
    readonly atPickup: string;
    readonly atTrip: string;
  }[];
  /** Null while it is worked out. */
  readonly likely: {
    readonly reason: string;
    readonly causes: readonly { readonly words: string; readonly distance: string }[];
    readonly none: string;
  } | null;
}

/** Trips for the panel. */
export function tripViews(
  trips: readonly TripRecord[],
  monitors: readonly MonitorDef[],
  diagnoses: ReadonlyMap<TripRecord, Diagnosis>,
): readonly TripView[] {
  return [...trips].reverse().map((trip) => {
    const diagnosis = diagnoses.get(trip);
    const name = monitors.find((m) => m.id === trip.monitorId)?.name ?? trip.monitorId;
    const value =
      trip.quantity === null || trip.value === null
        ? ""
        : `: ${QUANTITY_WORDS[trip.quantity].words} ${formatReading(trip.quantity, trip.value)}`;
    return {
      key: `${trip.monitorId} ${trip.atNs}`,
      title: `${name} at ${formatTime(trip.atNs / 1e9, 6)}${value}`,
      firstUp: trip.firstUp,
      lockout: trip.lockout,
      readings: SENSOR_NAMES.map((sensor, i) => {
        const shown = (values: readonly number[] | null): string =>
          values === null ? NO_VALUE : formatReading(sensor, values[i] ?? Number.NaN);
        return {
          name: upperFirst(QUANTITY_WORDS[sensor].words),
          before: shown(trip.before),
          atPickup: shown(trip.atPickup),
          atTrip: shown(trip.atTrip),
        };
      }),
      likely: diagnosis === undefined ? null : likelyWords(diagnosis),
    };
  });
}

function likelyWords({ causes, reason, none }: Diagnosis): TripView["likely"] {
  return {
    reason: reason === "" ? "" : `${upperFirst(reason)}.`,
    none: none === "" ? "" : `${upperFirst(none)}.`,
    causes: causes.map((c) => ({
      words: upperFirst(c.faults.map((f) => faultWords(f.fault, f.part)).join(", or ")),
      distance: formatNumber(c.distance, 2),
    })),
  };
}
