/**
 * Protection as one object: all monitors, the trip logic over them, and nothing that is not sensed.
 *
 * A trip is an acting monitor's operation together with its actions. First up is the first trip since everything was
 * last reset; of two at one instant the one that picked up first, then the one whose id sorts first, so that the order
 * in which monitors are polled never shows. Inhibited, everything is evaluated and logged, and nothing acts.
 *
 * All state is a plain immutable value: a snapshot is a reference. The compiled system belongs to it, since a live edit
 * makes a new one.
 */
import type { ActuatorName, MonitorDef, MonitorRole } from "../project/types";
import { type Emit, KEY_DOWN_LIMIT_ID, protectionEvent } from "./events";
import { type MonitorState, type Operate, persists } from "./interpreter/monitorState";
import { type CompileContext, compileMonitor, type MonitorProgram } from "./interpreter/program";
import { resetMonitor, startMonitor, stepMonitor } from "./interpreter/stepMonitor";
import { conditionsHold } from "./interpreter/timing";
import {
  FREE_LATCH,
  isSelfResetDue,
  type Latch,
  latchTrip,
  selfReset,
  unionOfActions,
} from "./latch";
import { reportChange } from "./report";
import type { Situation } from "./situation";
import { watchComparator } from "./comparatorWatch";

/** Longest key-down in tune mode, s; common practice, no source. */
export const TUNE_KEY_DOWN_LIMIT_S = 15;
const KEY_DOWN_LIMIT_ACTIONS: readonly ActuatorName[] = ["driveInhibit"];

/** Monitors that share a scan. */
interface ScanGroup {
  readonly scanSamples: number;
  readonly indices: readonly number[];
}

export interface ProtectionSystem {
  readonly programs: readonly MonitorProgram[];
  readonly groups: readonly ScanGroup[];
  readonly context: CompileContext;
  readonly notices: readonly string[];
}

export interface FirstUp {
  readonly monitorId: string;
  readonly atNs: number;
}

export interface ProtectionState {
  /** In the order of the definitions, like `latches`. */
  readonly monitors: readonly MonitorState[];
  readonly latches: readonly Latch[];
  readonly firstUp: FirstUp | null;
  /** The tune-mode limit has opened the drive until the key opens. */
  readonly keyDownLimited: boolean;
}

/** Compiles all monitors of a project. */
export function compileProtection(
  monitors: readonly MonitorDef[],
  context: CompileContext,
): ProtectionSystem {
  return systemOf(
    monitors.map((def) => compileMonitor(def, context)),
    context,
  );
}

/** A system from programs; used again after a live edit. */
export function systemOf(
  programs: readonly MonitorProgram[],
  context: CompileContext,
): ProtectionSystem {
  const scans = [...new Set(programs.map((p) => p.scanSamples))].sort((a, b) => a - b);
  const groups = scans.map((scanSamples) => ({
    scanSamples,
    indices: programs.flatMap((p, i) => (p.scanSamples === scanSamples ? [i] : [])),
  }));
  return { programs, groups, context, notices: programs.flatMap((p) => p.notices) };
}

/** Nothing picked up, nothing tripped. */
export function startProtection(system: ProtectionSystem): ProtectionState {
  return {
    monitors: system.programs.map(startMonitor),
    latches: system.programs.map(() => FREE_LATCH),
    firstUp: null,
    keyDownLimited: false,
  };
}

/** A monitor's role in this mode. */
export function roleOf(def: MonitorDef, situation: Situation): MonitorRole {
  return situation.mode === "tune" ? def.tuneRole : def.role;
}

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
  return superviseKeyDown(next, atNs, situation, emit);
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

/** Everything that tripped monitors and the key-down limit demand just now. */
export function heldActions(
  system: ProtectionSystem,
  state: ProtectionState,
): readonly ActuatorName[] {
  const lists = state.latches.map((latch, i) =>
    latch.kind === "free" ? [] : (system.programs[i]?.def.actions ?? []),
  );
  return unionOfActions(state.keyDownLimited ? [...lists, KEY_DOWN_LIMIT_ACTIONS] : lists);
}

/** What `before` demanded and `after` no longer does. */
export function releasedActions(
  system: ProtectionSystem,
  before: ProtectionState,
  after: ProtectionState,
): readonly ActuatorName[] {
  const still = heldActions(system, after);
  return heldActions(system, before).filter((name) => !still.includes(name));
}

/** Replaces one latch and one monitor, and forgets the first up once nothing is tripped. */
export function withLatch(
  state: ProtectionState,
  index: number,
  latch: Latch,
  monitor: MonitorState,
): ProtectionState {
  const latches = state.latches.map((l, k) => (k === index ? latch : l));
  const monitors = state.monitors.map((m, k) => (k === index ? monitor : m));
  const firstUp = latches.some((l) => l.kind !== "free") ? state.firstUp : null;
  return { ...state, latches, monitors, firstUp };
}

function applyTrips(
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
    const { latch, lockoutReason } = latchTrip(
      next.latches[i] as Latch,
      def.reset,
      atNs,
      firstUp,
    );
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
    return (m.criteria[m.criterion]?.sinceScan ?? 0) * (system.programs[i] as MonitorProgram).scanNs;
  };
  const difference = pickedAtNs(a) - pickedAtNs(b);
  if (difference !== 0) return difference;
  const idOf = (i: number): string => (system.programs[i] as MonitorProgram).def.id;
  return idOf(a) < idOf(b) ? -1 : 1;
}

function selfResets(
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
    const before = next;
    next = withLatch(next, i, selfReset(latch, atNs), resetMonitor(program, monitor));
    const actions = releasedActions(system, before, next);
    const role = roleOf(program.def, situation);
    emit(protectionEvent("selfReset", atNs, program.def.id, role, { actions }));
  }
  return next;
}

function superviseKeyDown(
  state: ProtectionState,
  atNs: number,
  situation: Situation,
  emit: Emit,
): ProtectionState {
  if (state.keyDownLimited) {
    if (situation.keyDown) return state;
    const actions = KEY_DOWN_LIMIT_ACTIONS;
    emit(protectionEvent("keyDownLimitOver", atNs, KEY_DOWN_LIMIT_ID, "acting", { actions }));
    return { ...state, keyDownLimited: false };
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
