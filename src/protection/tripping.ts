/**
 * Trips and self-resets: what follows when acting monitors have operated, and when their latches let go.
 *
 * First up is the first trip since everything was last reset; of two at one instant the one that picked up first, then
 * the one whose id sorts first, so that the order in which monitors are polled never shows.
 */
import { type Emit, protectionEvent } from "./events";
import { type MonitorState, type Operate, persists } from "./interpreter/monitorState";
import type { MonitorProgram } from "./interpreter/program";
import { conditionsHold } from "./interpreter/timing";
import { isSelfResetDue, type Latch, latchTrip, selfReset } from "./latch";
import {
  type ProtectionState,
  type ProtectionSystem,
  withLatch,
  withReset,
} from "./protectionState";
import type { Situation } from "./situation";

/** Latches the monitors at `indices`, which operated at `atNs`, and commands their actions. */
export function applyTrips(
  system: ProtectionSystem,
  state: ProtectionState,
  indices: readonly number[],
  atNs: number,
  emit: Emit,
): ProtectionState {
  const ordered = [...indices].sort((a, b) => earlierPickup(system, state, a, b));
  let next = state;
  for (const i of ordered) {
    const program = system.programs[i] as MonitorProgram;
    const monitor = next.monitors[i] as Operate;
    const { def } = program;
    const firstUp = next.firstUp === null;
    const { latch, lockoutReason } = latchTrip(next.latches[i] as Latch, def.reset, atNs, firstUp);
    if (firstUp) next = { ...next, firstUp: { monitorId: def.id, atNs } };
    next = withLatch(next, i, latch, monitor);
    const facts = {
      criterion: monitor.criterion,
      quantity: program.criteria[monitor.criterion]?.quantity ?? null,
      value: monitor.value,
      firstUp,
    };
    emit(protectionEvent("trip", atNs, def.id, "acting", { ...facts, actions: def.actions }));
    if (lockoutReason !== "")
      emit(protectionEvent("lockout", atNs, def.id, "acting", { ...facts, reason: lockoutReason }));
  }
  return next;
}

function earlierPickup(
  system: ProtectionSystem,
  state: ProtectionState,
  a: number,
  b: number,
): number {
  const pickedAtNs = (i: number): number => {
    const m = state.monitors[i] as Operate;
    return (
      (m.criteria[m.criterion]?.sinceScan ?? 0) * (system.programs[i] as MonitorProgram).scanNs
    );
  };
  const difference = pickedAtNs(a) - pickedAtNs(b);
  if (difference !== 0) return difference;
  const idOf = (i: number): string => (system.programs[i] as MonitorProgram).def.id;
  return idOf(a) < idOf(b) ? -1 : 1;
}

/** Lets go of every latch whose time has come and whose condition has gone. */
export function selfResets(
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
    const monitor = next.monitors[i] as MonitorState;
    if (!isSelfResetDue(latch, program.def.reset, atNs) || persists(monitor)) continue;
    if (!conditionsHold(program.resetWhen, row, monitor.criteria)) continue;
    next = withReset(system, next, i, selfReset(latch, atNs), "selfReset", atNs, situation, emit);
  }
  return next;
}
