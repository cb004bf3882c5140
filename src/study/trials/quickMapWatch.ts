/**
 * The monitors over a block of samples: the one interpreter, asked only at instants at which it could answer anything but
 * "as before".
 *
 * A monitor is due at the ends of its own scans. One that is due at every sample is left alone for a block only if it is of
 * the plain kind (armed at any time, definite time), has nothing picked up and no alarm under way, and every reading of the
 * block is on the quiet side of its pickups and its alarm level: the interpreter's own short way, which then answers the
 * same state [tests]. In tune mode every sample is asked, for the limit of the key-down time.
 */
import type { Emit } from "../../protection/events";
import type { MonitorProgram } from "../../protection/interpreter/program";
import { levelsOf } from "../../protection/interpreter/stepMonitor";
import {
  type ProtectionState,
  type ProtectionSystem,
  startProtection,
} from "../../protection/protectionState";
import { SENSOR_NAMES } from "../../protection/sensing/sensing";
import type { Situation } from "../../protection/situation";
import { stepProtection } from "../../protection/supervisor";

/** A plain reading against a level. */
interface Guard {
  readonly column: number;
  readonly over: boolean;
  readonly level: (situation: Situation) => number;
}

interface EverySample {
  readonly index: number;
  readonly program: MonitorProgram;
  /** Null: it has to be asked. */
  readonly guards: readonly Guard[] | null;
}

export class QuickWatch {
  private state: ProtectionState;
  /** The same without what is due at every sample. */
  private readonly slower: ProtectionSystem;
  private readonly everySample: readonly EverySample[];

  constructor(private readonly system: ProtectionSystem) {
    this.state = startProtection(system);
    this.slower = { ...system, groups: system.groups.filter((g) => g.scanSamples > 1) };
    const indices = system.groups.find((g) => g.scanSamples === 1)?.indices ?? [];
    this.everySample = indices.map((index) => {
      const program = system.programs[index] as MonitorProgram;
      return { index, program, guards: guardsOf(program, system) };
    });
  }

  /** `n` samples after `firstIndex` of them; `rows` one view a sample, all in one array. */
  step(
    rows: readonly Float64Array[],
    n: number,
    firstIndex: number,
    situation: Situation,
    emit: Emit,
  ): void {
    const all = situation.mode === "tune" || !this.isQuiet(rows, n, situation);
    const { system, slower } = this;
    for (let k = 0; k < n; k++) {
      const index = firstIndex + k;
      if (all) {
        this.state = stepProtection(
          system,
          this.state,
          rows[k] as Float64Array,
          index,
          situation,
          emit,
        );
      } else if (isDue(slower, index + 1)) {
        this.state = stepProtection(
          slower,
          this.state,
          rows[k] as Float64Array,
          index,
          situation,
          emit,
        );
      }
    }
  }

  private isQuiet(rows: readonly Float64Array[], n: number, situation: Situation): boolean {
    for (const { index, program, guards } of this.everySample) {
      const monitor = this.state.monitors[index];
      if (guards === null || monitor === undefined) return false;
      if (program.def.role === "off") continue;
      if (monitor.kind !== "noPickup" || monitor.alarmSinceScan >= 0) return false;
      for (const { column, over, level } of guards) {
        const limit = level(situation);
        for (let k = 0; k < n; k++) {
          const value = (rows[k] as Float64Array)[column] as number;
          if (over ? value > limit : value < limit) return false;
        }
      }
    }
    return true;
  }
}

function isDue(system: ProtectionSystem, ended: number): boolean {
  for (const { scanSamples } of system.groups) if (ended % scanSamples === 0) return true;
  return false;
}

function guardsOf(program: MonitorProgram, { context }: ProtectionSystem): readonly Guard[] | null {
  if (!program.isPlain) return null;
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
