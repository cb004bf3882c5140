/**
 * Results as plain JSON values, the same on the command line and in the page's copy: seconds from the
 * fault's time zero, null for what does not happen.
 */
import type { OperatingPoint } from "../simulation/operatingPoint";
import type { FaultResult, Simulation } from "../simulation/simulate";
import type { SupplyResult } from "../simulation/supplyResult";

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
  };
}
