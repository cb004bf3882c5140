/**
 * Results as plain JSON values, the same on the command line and in the page's copy: seconds from the
 * fault's time zero, null for what does not happen.
 */
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import type { OperatingPoint } from "../simulation/operatingPoint";
import type { FaultResult, Simulation } from "../simulation/simulate";
import type { SupplyResult } from "../simulation/supplyResult";
import { keyDownS, type SensorReadings, type TripMemory } from "../simulation/tripMemory";

export interface FaultJson {
  readonly fault: string;
  readonly part: string;
  /** Project time of the fault's time zero. */
  readonly atS: number;
  readonly firstTrip: string | null;
  readonly clearingS: number | null;
  readonly margin: number | null;
  readonly marginEarly: number | null;
  readonly arcEnergyJ: number;
  readonly moltenKg: number;
  readonly moltenUnprotectedKg: number | null;
  /** What came through a fault of the plate supply, and what limited it; null for every other fault. */
  readonly supply: SupplyResult | null;
  readonly monitors: readonly {
    readonly name: string;
    readonly id: string;
    readonly role: "acting" | "shadow" | "off";
    readonly pickupS: number | null;
    readonly operateS: number | null;
    readonly clearingS: number | null;
  }[];
  readonly damage: readonly {
    readonly part: string;
    readonly onsetS: number | null;
    readonly onsetUnprotectedS: number | null;
    readonly onsetUnprotectedEarlyS: number | null;
    readonly onsetUnprotectedLateS: number | null;
  }[];
}

/** One fault's result. */
export function faultJson(result: FaultResult): FaultJson {
  const { race } = result;
  return {
    fault: race.zero.fault,
    part: race.zero.part,
    atS: race.zero.atNs / 1e9,
    firstTrip: race.firstTrip?.name ?? null,
    clearingS: race.clearingS,
    margin: race.margin,
    marginEarly: race.marginEarly,
    arcEnergyJ: race.arcEnergyJ,
    moltenKg: result.moltenKg,
    moltenUnprotectedKg: result.moltenUnprotectedKg,
    supply: result.supply,
    monitors: race.monitors.map(({ name, id, role, pickupS, operateS, clearingS }) => ({
      name,
      id,
      role,
      pickupS,
      operateS,
      clearingS,
    })),
    damage: race.damage.map((d) => ({
      part: d.part,
      onsetS: d.onsetS,
      onsetUnprotectedS: d.onsetUnprotectedS,
      onsetUnprotectedEarlyS: d.onsetUnprotectedEarlyS,
      onsetUnprotectedLateS: d.onsetUnprotectedLateS,
    })),
  };
}

/** What is smaller than this against the largest of its kind is what rounding left over, and is printed as 0. */
const RESIDUE = 1e-12;

/**
 * What `operating-point` prints. Powers, voltages and currents that are nothing beside the largest power,
 * voltage or current are 0; ratios stay as they are.
 */
export function pointJson(point: OperatingPoint): OperatingPoint {
  const entries = Object.entries(point) as [keyof OperatingPoint, number][];
  const scale: Record<string, number> = { W: 0, V: 0, A: 0 };
  for (const [name, value] of entries) {
    const unit = name.slice(-1);
    const size = Math.abs(value);
    if (size > (scale[unit] ?? Infinity) && size < Infinity) scale[unit] = size;
  }
  const printed = { ...point } as Record<keyof OperatingPoint, number>;
  for (const [name, value] of entries) {
    const least = RESIDUE * (scale[name.slice(-1)] ?? 0);
    if (Math.abs(value) < least) printed[name] = 0;
  }
  return printed;
}

/** Readings by the sensor's name. */
export type ReadingsJson = Readonly<Record<string, number>>;

/** What is written down of the trips, in project time. */
export interface TripMemoryJson {
  readonly keyDownS: number;
  /** Trips of each monitor, by id. */
  readonly counts: Readonly<Record<string, number>>;
  /** Oldest first, the last twenty. */
  readonly trips: readonly {
    readonly name: string;
    readonly id: string;
    readonly pickupAtS: number;
    readonly atS: number;
    readonly firstUp: boolean;
    readonly lockout: boolean;
    readonly quantity: string | null;
    readonly value: number | null;
    readonly aSecondBefore: ReadingsJson | null;
    readonly atPickup: ReadingsJson;
    readonly atTrip: ReadingsJson;
  }[];
}

/** The trip memory as JSON; `nameOf` gives a monitor's name by its id. */
export function tripMemoryJson(
  { trips, counts }: TripMemory,
  keyDown: number,
  nameOf: (id: string) => string,
): TripMemoryJson {
  return {
    keyDownS: keyDown,
    counts,
    trips: trips.map((t) => ({
      name: nameOf(t.monitorId),
      id: t.monitorId,
      pickupAtS: t.pickupNs / 1e9,
      atS: t.atNs / 1e9,
      firstUp: t.firstUp,
      lockout: t.lockout,
      quantity: t.quantity,
      value: t.value,
      aSecondBefore: t.before === null ? null : readingsJson(t.before),
      atPickup: readingsJson(t.atPickup),
      atTrip: readingsJson(t.atTrip),
    })),
  };
}

function readingsJson(readings: SensorReadings): ReadingsJson {
  return Object.fromEntries(SENSOR_NAMES.map((name, i) => [name, readings[i] ?? 0]));
}

/** A trip, lockout or alarm, in project time. */
export interface ActionJson {
  readonly name: string;
  readonly atS: number;
}

/** What `simulate` prints. Trips, lockouts and alarms of the whole run stand beside the faults, so that a false one shows. */
export interface SimulationJson {
  readonly recordHash: string;
  /** What was changed of what the monitors were asked for, in words. */
  readonly notices: readonly string[];
  readonly trips: readonly ActionJson[];
  readonly lockouts: readonly ActionJson[];
  readonly alarms: readonly ActionJson[];
  readonly faults: readonly FaultJson[];
  readonly tripMemory: TripMemoryJson;
}

/** A finished simulation as JSON. */
export function simulationJson({ recordHash, faults, bench, notices }: Simulation): SimulationJson {
  const nameOf = (id: string): string =>
    bench.system.programs.find((p) => p.def.id === id)?.def.name ?? id;
  const all = (kind: "trip" | "lockout" | "alarm"): readonly ActionJson[] =>
    bench.events.flatMap((e) =>
      e.kind === "protection" && e.event.kind === kind
        ? [{ name: nameOf(e.event.monitorId), atS: e.atNs / 1e9 }]
        : [],
    );
  return {
    recordHash,
    notices,
    trips: all("trip"),
    lockouts: all("lockout"),
    alarms: all("alarm"),
    faults: faults.map(faultJson),
    tripMemory: tripMemoryJson(bench.logic.memory, keyDownS(bench.buffer), nameOf),
  };
}
