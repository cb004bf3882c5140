/**
 * Protection as one object: all monitors, the trip logic over them, and nothing that is not sensed.
 *
 * A trip is an acting monitor's operation together with its actions. Inhibited, everything is evaluated and logged, and
 * nothing acts.
 */
import type { MonitorRole } from "../project/protection";
import { watchComparator } from "./comparatorWatch";
import { type Emit, KEY_DOWN_LIMIT_ID, protectionEvent } from "./events";
import { type MonitorState, type Operate, persists } from "./interpreter/monitorState";
import type { MonitorProgram } from "./interpreter/program";
import { resetMonitor, startMonitor, stepMonitor } from "./interpreter/stepMonitor";
import { isSelfResetDue, type Latch } from "./latch";
import {
  KEY_DOWN_LIMIT_ACTIONS,
  type ProtectionState,
  type ProtectionSystem,
  releasedActions,
  roleOf,
  type ScanGroup,
} from "./protectionState";
import { reportChange } from "./report";
import type { Situation } from "./situation";
import { applyTrips, selfResets } from "./tripping";

/** Longest key-down in tune mode, s; common practice, no source. */
export const TUNE_KEY_DOWN_LIMIT_S = 15;

/**
 * One sample. `sampleIndex` counts from 0 and is judged at its end; a monitor whose scan is k samples runs at every
 * k-th end, counted from t = 0. The same state comes back when nothing changed.
 */
export function stepProtection(
  system: ProtectionSystem,
  state: ProtectionState,
  row: Float64Array,
  sampleIndex: number,
  situation: Situation,
  emit: Emit,
): ProtectionState {
  const ended = sampleIndex + 1;
  const atNs = ended * system.context.sampleNs;
  let next = state;
  let operated: number[] | null = null;
  let isDue = false;
  const { groups, programs } = system;
  let monitors: MonitorState[] | null = null;
  for (let g = 0; g < groups.length; g++) {
    const { scanSamples, indices } = groups[g] as ScanGroup;
    if (ended % scanSamples !== 0) continue;
    const scan = ended / scanSamples;
    for (let k = 0; k < indices.length; k++) {
      const i = indices[k] as number;
      const program = programs[i] as MonitorProgram;
      const before = state.monitors[i] as MonitorState;
      const role = roleOf(program.def, situation);
      let after = before;
      if (role === "off") {
        if (before.kind === "pickup" || before.kind === "operate") after = startMonitor(program);
      } else {
        after =
          program.def.path === "comparator"
            ? watchComparator(program, before, row, scan, situation)
            : stepMonitor(program, before, row, scan, situation);
        if (after !== before)
          reportChange(program, before, after, row, atNs, role, situation, emit);
      }
      const latch = state.latches[i] as Latch;
      if (after.kind === "operate" && latch.kind === "free") {
        if (role === "acting" && !situation.inhibited) {
          operated ??= [];
          operated.push(i);
        } else if (!persists(after)) after = resetMonitor(program, after);
      }
      if (after !== before) {
        monitors ??= state.monitors.slice();
        monitors[i] = after;
      }
      if (latch.kind === "trip") isDue ||= isSelfResetDue(latch, program.def.reset, atNs);
    }
  }
  if (monitors !== null) next = { ...next, monitors };
  if (isDue) next = selfResets(system, next, row, atNs, situation, emit);
  if (operated !== null) next = applyTrips(system, next, operated, atNs, emit);
  return superviseKeyDown(system, next, atNs, situation, emit);
}

/** The comparator path: monitor `monitorId` passed its pickup at `atNs`, between scans, with `value` on its tap. */
export function operated(
  system: ProtectionSystem,
  state: ProtectionState,
  monitorId: string,
  atNs: number,
  value: number,
  situation: Situation,
  emit: Emit,
): ProtectionState {
  const i = system.programs.findIndex((p) => p.def.id === monitorId);
  const program = system.programs[i];
  const before = state.monitors[i];
  if (program === undefined || before === undefined) throw new Error(`no monitor ${monitorId}`);
  const role = roleOf(program.def, situation);
  if (role === "off" || before.kind === "operate") return state;
  const atScan = Math.ceil(atNs / program.scanNs);
  const after: Operate = {
    ...before,
    kind: "operate",
    criteria: before.criteria.map((c) => ({ ...c, picked: true, sinceScan: atScan })),
    atScan,
    criterion: 0,
    value,
  };
  reportComparator(program, atNs, value, role, emit);
  const monitors = state.monitors.map((m, k) => (k === i ? after : m));
  const next = { ...state, monitors };
  const acts = role === "acting" && !situation.inhibited && state.latches[i]?.kind === "free";
  return acts ? applyTrips(system, next, [i], atNs, emit) : next;
}

function superviseKeyDown(
  system: ProtectionSystem,
  state: ProtectionState,
  atNs: number,
  situation: Situation,
  emit: Emit,
): ProtectionState {
  if (state.keyDownLimited) {
    if (situation.keyDown) return state;
    const next = { ...state, keyDownLimited: false };
    // a latched trip may still hold the drive
    const actions = releasedActions(system, state, next);
    emit(protectionEvent("keyDownLimitOver", atNs, KEY_DOWN_LIMIT_ID, "acting", { actions }));
    return next;
  }
  if (situation.mode !== "tune" || !situation.keyDown) return state;
  if (atNs - situation.keyDownAtNs < TUNE_KEY_DOWN_LIMIT_S * 1e9) return state;
  emit(
    protectionEvent("keyDownLimit", atNs, KEY_DOWN_LIMIT_ID, "acting", {
      actions: situation.inhibited ? [] : KEY_DOWN_LIMIT_ACTIONS,
      reason: `key down for ${TUNE_KEY_DOWN_LIMIT_S} s in tune mode: the drive is opened until the key opens`,
    }),
  );
  return { ...state, keyDownLimited: true };
}

function reportComparator(
  program: MonitorProgram,
  atNs: number,
  value: number,
  role: MonitorRole,
  emit: Emit,
): void {
  const c = program.criteria[0];
  const facts = {
    criterion: 0,
    quantity: c?.quantity ?? null,
    value,
    level: c?.operate.pickup ?? null,
  };
  emit(protectionEvent("pickup", atNs, program.def.id, role, facts));
  emit(protectionEvent("operate", atNs, program.def.id, role, facts));
}
