/**
 * The compiled monitors and the state that runs on them. All state is a plain immutable value: a snapshot is a
 * reference. The compiled system belongs to it, since a live edit makes a new one.
 */
import type { ActuatorName, MonitorDef, MonitorRole } from "../project/protection";
import { type Emit, protectionEvent } from "./events";
import type { MonitorState } from "./interpreter/monitorState";
import { type CompileContext, compileMonitor, type MonitorProgram } from "./interpreter/program";
import { resetMonitor, startMonitor } from "./interpreter/stepMonitor";
import { FREE_LATCH, type Latch, unionOfActions } from "./latch";
import type { Situation } from "./situation";

/** What the tune-mode limit of key-down time opens. */
export const KEY_DOWN_LIMIT_ACTIONS: readonly ActuatorName[] = ["driveInhibit"];

/** Monitors that share a scan. */
export interface ScanGroup {
  readonly scanSamples: number;
  readonly indices: readonly number[];
}

/** A monitor on the comparator path; its place in the list is its slot in sensing. */
export interface Comparator {
  readonly monitorId: string;
  readonly pickupA: number;
  readonly dropOffA: number;
}

export interface ProtectionSystem {
  readonly programs: readonly MonitorProgram[];
  readonly comparators: readonly Comparator[];
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
  const comparators = programs.flatMap((p): Comparator[] => {
    const [criterion] = p.def.criteria;
    if (p.def.path !== "comparator" || criterion === undefined) return [];
    return [{ monitorId: p.def.id, pickupA: criterion.pickup, dropOffA: criterion.dropOff }];
  });
  return { programs, comparators, groups, context, notices: programs.flatMap((p) => p.notices) };
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

/**
 * Puts monitor `index` at rest under `latch`, and reports as `kind` what nobody demands any more: the one way
 * out of a trip, by hand or by itself.
 */
export function withReset(
  system: ProtectionSystem,
  state: ProtectionState,
  index: number,
  latch: Latch,
  kind: "reset" | "selfReset",
  atNs: number,
  situation: Situation,
  emit: Emit,
): ProtectionState {
  const program = system.programs[index] as MonitorProgram;
  const monitor = state.monitors[index] as MonitorState;
  const next = withLatch(state, index, latch, resetMonitor(program, monitor));
  const actions = releasedActions(system, state, next);
  emit(protectionEvent(kind, atNs, program.def.id, roleOf(program.def, situation), { actions }));
  return next;
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
