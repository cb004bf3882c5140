/**
 * The monitors over a block of samples: the one interpreter, asked only at instants at which it could answer anything but
 * "as before".
 *
 * A monitor is due at the ends of its own scans. One that is due at every sample is left alone for a block only if it is of
 * the plain kind (armed at any time, definite time), has nothing picked up and no alarm under way, and every reading of the
 * block is on the quiet side of its pickups and its alarm level: the interpreter's own short way, which then answers the
 * same state [tests]. The slower ones of the plain kind are left alone at a scan in the same way, all or none.
 * In tune mode every sample is asked, for the limit of the key-down time.
 */
import type { MonitorDef, SensorName } from "../../project/protection";
import { sensorsOf } from "../../protection/derived";
import type { Emit } from "../../protection/events";
import {
  type MonitorProgram,
  smoothingsOf,
  stepsCovering,
} from "../../protection/interpreter/program";
import { levelsOf } from "../../protection/interpreter/stepMonitor";
import {
  type ProtectionState,
  type ProtectionSystem,
  startProtection,
} from "../../protection/protectionState";
import { SENSOR_NAMES } from "../../protection/sensing/sensing";
import type { Situation } from "../../protection/situation";
import { stepProtection } from "../../protection/supervisor";
import { BLOCK } from "./quickMapSensing";

/** A plain reading against a level. */
interface Guard {
  readonly column: number;
  readonly over: boolean;
  readonly level: (situation: Situation) => number;
}

/** A monitor of a system. */
interface Watched {
  readonly index: number;
  readonly program: MonitorProgram;
  /** Null: it has to be asked. */
  readonly guards: readonly Guard[] | null;
}

export class QuickWatch {
  private state: ProtectionState;
  /** The same without what is due at every sample. */
  private readonly slower: ProtectionSystem;
  private readonly everySample: readonly Watched[];
  /** What of the slower can be left alone, and the system of what cannot. */
  private readonly guarded: readonly Watched[];
  private readonly unguarded: ProtectionSystem;
  /** The slower can be due at every so many samples only, counted from the run's beginning. */
  private readonly dueEvery: number;

  constructor(private readonly system: ProtectionSystem) {
    this.state = startProtection(system);
    this.slower = { ...system, groups: system.groups.filter((g) => g.scanSamples > 1) };
    this.dueEvery = this.slower.groups.reduce((all, g) => commonPart(all, g.scanSamples), 0) || 1;
    const watched = (indices: readonly number[]): Watched[] =>
      indices.map((index) => {
        const program = system.programs[index] as MonitorProgram;
        return { index, program, guards: guardsOf(program, system) };
      });
    this.everySample = watched(system.groups.find((g) => g.scanSamples === 1)?.indices ?? []);
    this.guarded = watched(this.slower.groups.flatMap((g) => g.indices)).filter(
      (w) => w.guards !== null,
    );
    const left = new Set(this.guarded.map((w) => w.index));
    this.unguarded = {
      ...system,
      groups: this.slower.groups.map((g) => ({
        ...g,
        indices: g.indices.filter((i) => !left.has(i)),
      })),
    };
  }

  /** `n` samples after `firstIndex` of them; `rows` one view a sample, all in one array. */
  step(
    rows: readonly Float64Array[],
    n: number,
    firstIndex: number,
    situation: Situation,
    emit: Emit,
  ): void {
    const all =
      situation.mode === "tune" || !this.areQuiet(this.everySample, rows, 0, n, situation);
    const every = all ? 1 : this.dueEvery;
    for (let k = every - 1 - (firstIndex % every); k < n; k += every) {
      const index = firstIndex + k;
      let system = this.system;
      if (!all) {
        if (!isDue(this.slower, index + 1)) continue;
        const isQuiet = this.areQuiet(this.guarded, rows, k, k + 1, situation);
        system = isQuiet ? this.unguarded : this.slower;
      }
      const row = rows[k] as Float64Array;
      this.state = stepProtection(system, this.state, row, index, situation, emit);
    }
  }

  /** Nothing of `watched` is on its way, and no reading of the rows from `from` up to `end` begins it. */
  private areQuiet(
    watched: readonly Watched[],
    rows: readonly Float64Array[],
    from: number,
    end: number,
    situation: Situation,
  ): boolean {
    for (let w = 0; w < watched.length; w++) {
      const { index, program, guards } = watched[w] as Watched;
      const monitor = this.state.monitors[index];
      if (guards === null || monitor === undefined) return false;
      // one that is off may still stand as it stood in tune mode: it is asked once and begins anew
      if (monitor.kind !== "noPickup" || monitor.alarmSinceScan >= 0) return false;
      if (program.def.role === "off") continue;
      for (let g = 0; g < guards.length; g++) {
        const { column, over, level } = guards[g] as Guard;
        const limit = level(situation);
        for (let k = from; k < end; k++) {
          const value = (rows[k] as Float64Array)[column] as number;
          if (over ? value > limit : value < limit) return false;
        }
      }
    }
    return true;
  }
}

/** Greatest common divisor. */
function commonPart(a: number, b: number): number {
  return b === 0 ? a : commonPart(b, a % b);
}

function isDue(system: ProtectionSystem, ended: number): boolean {
  for (const { scanSamples } of system.groups) if (ended % scanSamples === 0) return true;
  return false;
}

function guardsOf(program: MonitorProgram, { context }: ProtectionSystem): readonly Guard[] | null {
  if (!program.isPlain || program.def.path === "comparator") return null;
  const guards: Guard[] = [];
  const columnOf = (quantity: string): number => {
    const sensor = SENSOR_NAMES.find((name) => name === quantity);
    return sensor === undefined ? -1 : context.rowIndex(sensor, program.def.smoothingS);
  };
  for (const c of program.criteria) {
    guards.push({
      column: columnOf(c.quantity),
      over: c.over,
      level: (situation) => levelsOf(c, situation).pickup,
    });
  }
  const { alarm } = program;
  if (alarm !== null) {
    guards.push({ column: columnOf(alarm.quantity), over: alarm.over, level: () => alarm.level });
  }
  return guards.some((g) => g.column < 0) ? null : guards;
}

/** Sensors of monitors that do not scan at whole blocks alone; drive only where it is looked at. */
export function readEverySample(
  monitors: readonly MonitorDef[],
  sampleNs: number,
): readonly SensorName[] {
  const isAtBlockEnds = (m: MonitorDef): boolean => stepsCovering(m.scanS, sampleNs) % BLOCK === 0;
  return monitors
    .filter((m) => !isAtBlockEnds(m))
    .flatMap((m) => {
      const sensors = smoothingsOf([m]).map((s) => s.sensor);
      return readsDrive(m) ? sensors : sensors.filter((s) => s !== "driveForwardW");
    });
}

/** Whether arming or any quantity of a monitor needs the drive. */
function readsDrive({ arming, criteria, alarm, reset }: MonitorDef): boolean {
  const conditions = [
    ...criteria.flatMap((c) => [c, ...c.when]),
    ...arming.when,
    ...reset.when,
    ...(alarm === null ? [] : [alarm]),
  ];
  return (
    arming.kind !== "always" ||
    conditions.some((c) => sensorsOf(c.quantity).includes("driveForwardW"))
  );
}
