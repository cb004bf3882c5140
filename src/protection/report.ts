/** Turns the difference between two states of one monitor into events. */
import type { MonitorRole } from "../project/protection";
import { formatTime } from "../units/format";
import { type Emit, protectionEvent } from "./events";
import type { CriterionState, MonitorState } from "./interpreter/monitorState";
import type { CompiledCriterion, MonitorProgram } from "./interpreter/program";
import { levelsOf, watchedValue } from "./interpreter/stepMonitor";
import { conditionValue } from "./interpreter/timing";
import type { Situation } from "./situation";

/** Emits arming, pickup, drop-off, alarm and operate, in that order. */
export function reportChange(
  program: MonitorProgram,
  before: MonitorState,
  after: MonitorState,
  row: Float64Array,
  atNs: number,
  role: MonitorRole,
  situation: Situation,
  emit: Emit,
): void {
  const id = program.def.id;
  if (before.kind === "notArmed" && after.kind !== "notArmed")
    emit(protectionEvent("armed", atNs, id, role));
  for (let i = 0; i < after.criteria.length; i++) {
    const was = (before.criteria[i] as CriterionState).picked;
    const next = after.criteria[i] as CriterionState;
    if (was === next.picked) continue;
    const c = program.criteria[i] as CompiledCriterion;
    const levels = levelsOf(c, situation);
    emit(
      protectionEvent(next.picked ? "pickup" : "dropOff", atNs, id, role, {
        criterion: i,
        quantity: c.quantity,
        value: finiteOrNull(watchedValue(program, i, next, row)),
        level: next.picked ? levels.pickup : levels.dropOff,
        reason: next.picked ? "" : dropOffReason(program, before, after),
      }),
    );
  }
  const alarm = program.alarm;
  if (alarm !== null && before.alarmed !== after.alarmed)
    emit(
      protectionEvent(after.alarmed ? "alarm" : "alarmDropOff", atNs, id, role, {
        quantity: alarm.quantity,
        value: finiteOrNull(conditionValue(alarm, row, after.criteria)),
        level: after.alarmed ? alarm.level : alarm.dropOff,
      }),
    );
  if (after.kind === "operate" && before.kind !== "operate") {
    const c = program.criteria[after.criterion] as CompiledCriterion;
    emit(
      protectionEvent("operate", atNs, id, role, {
        criterion: after.criterion,
        quantity: c.quantity,
        value: after.value,
        level: levelsOf(c, situation).pickup,
      }),
    );
  }
  if (after.kind === "notArmed" && before.kind !== "notArmed")
    emit(protectionEvent("notArmed", atNs, id, role));
}

function dropOffReason(program: MonitorProgram, before: MonitorState, after: MonitorState): string {
  if (after.kind === "notArmed") return "not armed any more";
  if (after.kind === "noPickup" && before.heldSinceScan >= 0)
    return `count held for ${formatTime(program.def.arming.holdS)} without drive, then discarded`;
  return "";
}

function finiteOrNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
