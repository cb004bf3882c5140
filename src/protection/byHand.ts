/** What a person does to protection: acknowledge (seen; nothing is released) and reset (released, if that is safe). */
import { type Emit, protectionEvent } from "./events";
import type { CriterionState, MonitorState } from "./interpreter/monitorState";
import type { CompiledCondition, CompiledCriterion, MonitorProgram } from "./interpreter/program";
import { levelsOf, watchedValue } from "./interpreter/stepMonitor";
import { conditionValue } from "./interpreter/timing";
import { handReset, type Latch } from "./latch";
import {
  type ProtectionState,
  type ProtectionSystem,
  roleOf,
  withLatch,
  withReset,
} from "./protectionState";
import { formatReading, QUANTITY_WORDS, stillPast } from "./quantityWords";
import type { Situation } from "./situation";

/** Marks every trip as seen. Does not reset. */
export function acknowledgeProtection(
  system: ProtectionSystem,
  state: ProtectionState,
  atNs: number,
  situation: Situation,
  emit: Emit,
): ProtectionState {
  let next = state;
  for (let i = 0; i < system.programs.length; i++) {
    const { def } = system.programs[i] as MonitorProgram;
    const latch = next.latches[i] as Latch;
    if (latch.kind === "free" || latch.acknowledged) continue;
    const monitor = next.monitors[i] as MonitorState;
    next = withLatch(next, i, { ...latch, acknowledged: true }, monitor);
    emit(protectionEvent("acknowledge", atNs, def.id, roleOf(def, situation)));
  }
  return next;
}

/** Resets every tripped monitor whose condition has gone; refuses the others with a reason in words. */
export function resetProtection(
  system: ProtectionSystem,
  state: ProtectionState,
  row: Float64Array,
  atNs: number,
  situation: Situation,
  emit: Emit,
): ProtectionState {
  let next = state;
  for (let i = 0; i < system.programs.length; i++) {
    const program = system.programs[i] as MonitorProgram;
    const latch = next.latches[i] as Latch;
    if (latch.kind === "free") continue;
    const monitor = next.monitors[i] as MonitorState;
    const reason = refusal(program, monitor, row, situation);
    if (reason !== "") {
      const role = roleOf(program.def, situation);
      emit(protectionEvent("resetRefused", atNs, program.def.id, role, { reason }));
      continue;
    }
    next = withReset(system, next, i, handReset(latch), "reset", atNs, situation, emit);
  }
  return next;
}

/** Why a reset is refused now, in words; empty when it is not. */
export function refusal(
  program: MonitorProgram,
  monitor: MonitorState,
  row: Float64Array,
  situation: Situation,
): string {
  for (let i = 0; i < program.criteria.length; i++) {
    const c = program.criteria[i] as CompiledCriterion;
    const state = monitor.criteria[i] as CriterionState;
    if (!state.picked) continue;
    const value = watchedValue(program, i, state, row);
    return stillPast(c.quantity, c.over ? "over" : "under", value, levelsOf(c, situation).dropOff);
  }
  for (const condition of program.resetWhen) {
    const reason = unmet(condition, row, monitor);
    if (reason !== "") return reason;
  }
  return "";
}

function unmet(condition: CompiledCondition, row: Float64Array, monitor: MonitorState): string {
  const { quantity, level, over } = condition;
  const value = conditionValue(condition, row, monitor.criteria);
  if (over ? value > level : value < level) return "";
  const wanted = `${over ? "over" : "under"} ${formatReading(quantity, level)}`;
  return `wait until ${QUANTITY_WORDS[quantity].words} is ${wanted}; it is ${formatReading(quantity, value)}`;
}
