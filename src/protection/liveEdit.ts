/**
 * Changing a monitor while it runs. A new pickup, delay, time multiplier or time constant keeps a running count; a new
 * kind of timing, curve or role clears it. A new pickup takes its drop-off along.
 */
import type { Criterion, MonitorDef, Timing } from "../project/protection";
import type { MonitorChange } from "../project/scenario";
import { type Emit, protectionEvent } from "./events";
import { CRITERION_AT_REST, type MonitorState } from "./interpreter/monitorState";
import { compileMonitor, type MonitorProgram, movedDropOff } from "./interpreter/program";
import { startMonitor } from "./interpreter/stepMonitor";
import { type ProtectionState, type ProtectionSystem, systemOf } from "./protectionState";

export type LiveEdit =
  | { readonly ok: true; readonly system: ProtectionSystem; readonly state: ProtectionState }
  | { readonly ok: false; readonly problems: readonly string[] };

/** Applies a change to one monitor; answers the new system together with the state that goes with it. */
export function configureMonitor(
  system: ProtectionSystem,
  state: ProtectionState,
  monitorId: string,
  change: MonitorChange,
  atNs: number,
  emit: Emit,
): LiveEdit {
  const i = system.programs.findIndex((p) => p.def.id === monitorId);
  const program = system.programs[i];
  const monitor = state.monitors[i];
  if (program === undefined || monitor === undefined)
    return { ok: false, problems: [`there is no monitor "${monitorId}"`] };
  const changed = changedDefinition(program.def, change);
  if (!changed.ok) return changed;
  const next = compileMonitor(changed.def, system.context);
  const programs = system.programs.map((p, k) => (k === i ? next : p));
  const kept = carriedState(program, next, monitor);
  const monitors = state.monitors.map((m, k) => (k === i ? kept : m));
  emit(
    protectionEvent("configured", atNs, monitorId, changed.def.role, {
      criterion: change.criterion ?? -1,
      reason: kept === monitor ? "a running count is kept" : "its count is cleared",
    }),
  );
  return { ok: true, system: systemOf(programs, system.context), state: { ...state, monitors } };
}

type ChangedDefinition =
  | { readonly ok: true; readonly def: MonitorDef }
  | { readonly ok: false; readonly problems: readonly string[] };

/** The definition after a change; refuses a criterion that is not there and a delay for a timing that has none. */
export function changedDefinition(def: MonitorDef, change: MonitorChange): ChangedDefinition {
  const index = change.criterion ?? 0;
  const criterion = def.criteria[index];
  if (criterion === undefined)
    return { ok: false, problems: [`${def.name} has no criterion ${index + 1}`] };
  let timing: Timing = change.timing ?? criterion.timing;
  if (change.delayS !== undefined) {
    if (!Number.isFinite(change.delayS) || change.delayS < 0)
      return { ok: false, problems: [`${def.name}: ${change.delayS} s is no delay`] };
    if (timing.kind !== "definite")
      return { ok: false, problems: [`${def.name}: only definite time has a delay`] };
    timing = { kind: "definite", delayS: change.delayS };
  }
  if (change.pickup !== undefined && !Number.isFinite(change.pickup))
    return { ok: false, problems: [`${def.name}: a pickup must be a number`] };
  const pickup = change.pickup ?? criterion.pickup;
  const dropOff = change.pickup === undefined ? criterion.dropOff : movedDropOff(criterion, pickup);
  const edited: Criterion = { ...criterion, pickup, dropOff, timing };
  const criteria = def.criteria.map((c, k) => (k === index ? edited : c));
  return { ok: true, def: { ...def, role: change.role ?? def.role, criteria } };
}

/** The state that goes on under a new program: kept where the counting still means the same, else cleared. */
export function carriedState(
  before: MonitorProgram,
  after: MonitorProgram,
  state: MonitorState,
): MonitorState {
  const a = before.def;
  const b = after.def;
  const isSameMonitor =
    a.role === b.role &&
    a.path === b.path &&
    before.scanNs === after.scanNs &&
    a.criteria.length === b.criteria.length;
  if (!isSameMonitor)
    return state.kind === "operate" && a.role === b.role ? state : startMonitor(after);
  const keeps = a.criteria.map((c, i) => countsAlike(c, b.criteria[i] as Criterion));
  if (keeps.every((keep) => keep)) return state;
  const criteria = state.criteria.map((c, i) => (keeps[i] ? c : CRITERION_AT_REST));
  if (state.kind !== "pickup" || criteria.some((c) => c.picked)) return { ...state, criteria };
  return { ...state, criteria, kind: "noPickup" };
}

function countsAlike(a: Criterion, b: Criterion): boolean {
  if (a.quantity !== b.quantity || a.side !== b.side) return false;
  if (a.timing.kind !== b.timing.kind) return false;
  return (
    a.timing.kind !== "inverse" || b.timing.kind !== "inverse" || a.timing.curve === b.timing.curve
  );
}
