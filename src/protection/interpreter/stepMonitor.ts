/**
 * One scan of one compiled monitor: the interpreter. Monitors are data; this is the only code that runs them.
 *
 * Pure: it sees sensed values, its own state, the scan's number and the situation, and answers the next state. The
 * same object comes back when nothing changed, so a quiet monitor costs no memory.
 */
import type { Situation } from "../situation";
import { ARMED, type Arming, armingAt, HELD, NOT_ARMED, settlingSince } from "./arming";
import {
  CRITERION_AT_REST,
  type CriterionState,
  initialMonitorState,
  type MonitorState,
} from "./monitorState";
import type { CompiledAlarm, CompiledCriterion, Levels, MonitorProgram } from "./program";
import {
  conditionValue,
  isConfirmed,
  isPicked,
  progressOf,
  restCriterion,
  stepCriterion,
} from "./timing";

type Criteria = readonly CriterionState[];

/** The levels a criterion uses in this mode. */
export function levelsOf(criterion: CompiledCriterion, situation: Situation): Levels {
  return situation.mode === "tune" ? criterion.tune : criterion.operate;
}

/** The state after scan number `scan`, which ends at `scan * program.scanNs`. */
export function stepMonitor(
  program: MonitorProgram,
  state: MonitorState,
  row: Float64Array,
  scan: number,
  situation: Situation,
): MonitorState {
  if (program.isPlain && isStillQuiet(program, state, row, situation)) return state;
  const settlingSinceScan = settlingSince(program, state, row, scan, situation);
  const armingNow = armingAt(program, state, row, scan, situation, settlingSinceScan);
  // After an operation nothing is left to hold: without drive the condition no longer persists.
  const arming = state.kind === "operate" && armingNow === HELD ? NOT_ARMED : armingNow;

  const isCounting =
    state.kind === "pickup" || state.alarmSinceScan >= 0 || hasMemory(program, state);
  let heldSinceScan = -1;
  if (arming === HELD && isCounting) {
    heldSinceScan = state.heldSinceScan >= 0 ? state.heldSinceScan : scan;
    if (scan - heldSinceScan >= program.arming.holdScans)
      return clear(program, state, row, "noPickup", settlingSinceScan);
  }
  if (arming === NOT_ARMED && (state.kind === "pickup" || state.kind === "noPickup"))
    return clear(program, state, row, "notArmed", settlingSinceScan);

  // Scans that were held do not count: move the beginnings later by as many.
  const heldScans = arming === ARMED && state.heldSinceScan >= 0 ? scan - state.heldSinceScan : 0;
  const criteria = nextCriteria(program, state, row, scan, situation, arming, heldScans);
  const alarmSinceScan = nextAlarmSince(
    program.alarm,
    state,
    row,
    criteria,
    scan,
    arming,
    heldScans,
  );
  const alarmed = isAlarmed(program.alarm, state, alarmSinceScan, scan, arming);

  if (state.kind === "operate") {
    if (
      criteria === state.criteria &&
      settlingSinceScan === state.settlingSinceScan &&
      heldSinceScan === state.heldSinceScan &&
      alarmSinceScan === state.alarmSinceScan &&
      alarmed === state.alarmed
    )
      return state;
    return { ...state, settlingSinceScan, heldSinceScan, criteria, alarmSinceScan, alarmed };
  }
  if (arming === ARMED) {
    for (let i = 0; i < criteria.length; i++) {
      const c = program.criteria[i] as CompiledCriterion;
      const next = criteria[i] as CriterionState;
      if (!isConfirmed(c, levelsOf(c, situation), next, scan)) continue;
      const value = watchedValue(program, i, next, row);
      const kind = "operate";
      return {
        kind,
        settlingSinceScan,
        heldSinceScan,
        criteria,
        alarmSinceScan,
        alarmed,
        atScan: scan,
        criterion: i,
        value,
      };
    }
  }
  const kind = arming === NOT_ARMED ? "notArmed" : anyPicked(criteria) ? "pickup" : "noPickup";
  if (
    kind === state.kind &&
    criteria === state.criteria &&
    settlingSinceScan === state.settlingSinceScan &&
    heldSinceScan === state.heldSinceScan &&
    alarmSinceScan === state.alarmSinceScan &&
    alarmed === state.alarmed
  )
    return state;
  return { kind, settlingSinceScan, heldSinceScan, criteria, alarmSinceScan, alarmed };
}

/**
 * The short way for what is nearly always so: an unconditional monitor that remembers nothing, with no reading past its
 * pickup or alarm level. The long way would answer the same state.
 */
function isStillQuiet(
  program: MonitorProgram,
  state: MonitorState,
  row: Float64Array,
  situation: Situation,
): boolean {
  if (state.kind !== "noPickup" || state.alarmSinceScan >= 0) return false;
  const { criteria, alarm } = program;
  for (let i = 0; i < criteria.length; i++) {
    const c = criteria[i] as CompiledCriterion;
    const value = c.read(row);
    const { pickup } = levelsOf(c, situation);
    if (c.over ? value > pickup : value < pickup) return false;
  }
  if (alarm === null) return true;
  const value = alarm.read(row);
  return !(alarm.over ? value > alarm.level : value < alarm.level);
}

/** The state after a reset: nothing counts, heat images stay (metal does not cool because somebody pressed a button). */
export function resetMonitor(program: MonitorProgram, state: MonitorState): MonitorState {
  const criteria = state.criteria.map((c, i) =>
    program.criteria[i]?.timing.kind === "thermal"
      ? { picked: false, sinceScan: -1, memory: c.memory }
      : CRITERION_AT_REST,
  );
  return {
    ...initialMonitorState(criteria.length, restKind(program)),
    settlingSinceScan: state.settlingSinceScan,
    criteria,
  };
}

/** The state a monitor begins with. */
export function startMonitor(program: MonitorProgram): MonitorState {
  return initialMonitorState(program.criteria.length, restKind(program));
}

function restKind(program: MonitorProgram): "notArmed" | "noPickup" {
  return program.arming.isConditional ? "notArmed" : "noPickup";
}

/** What a criterion compares with its pickup: the reading, or for a thermal one the heat image. */
export function watchedValue(
  program: MonitorProgram,
  index: number,
  state: CriterionState,
  row: Float64Array,
): number {
  const c = program.criteria[index] as CompiledCriterion;
  return c.timing.kind === "thermal" ? state.memory : c.read(row);
}

/** How far the monitor is on its way to operate, 0 to 1, by its most advanced criterion; for lanes and clocks. */
export function operateProgress(
  program: MonitorProgram,
  state: MonitorState,
  scan: number,
  situation: Situation,
): number {
  if (state.kind === "operate") return 1;
  const atScan = state.heldSinceScan >= 0 ? state.heldSinceScan : scan;
  let most = 0;
  for (let i = 0; i < state.criteria.length; i++) {
    const c = program.criteria[i] as CompiledCriterion;
    most = Math.max(
      most,
      progressOf(c, levelsOf(c, situation), state.criteria[i] as CriterionState, atScan),
    );
  }
  return most;
}

function clear(
  program: MonitorProgram,
  state: MonitorState,
  row: Float64Array,
  kind: "notArmed" | "noPickup",
  settlingSinceScan: number,
): MonitorState {
  const criteria = state.criteria.map((c, i) =>
    restCriterion(program.criteria[i] as CompiledCriterion, c, row),
  );
  return {
    kind,
    settlingSinceScan,
    heldSinceScan: -1,
    criteria,
    alarmSinceScan: -1,
    alarmed: false,
  };
}

function nextCriteria(
  program: MonitorProgram,
  state: MonitorState,
  row: Float64Array,
  scan: number,
  situation: Situation,
  arming: Arming,
  heldScans: number,
): Criteria {
  let changed: CriterionState[] | null = null;
  for (let i = 0; i < state.criteria.length; i++) {
    const c = program.criteria[i] as CompiledCriterion;
    const before = state.criteria[i] as CriterionState;
    let next = before;
    if (arming === ARMED) {
      const moved = heldScans > 0 && before.picked ? later(before, heldScans) : before;
      next = stepCriterion(c, levelsOf(c, situation), moved, row, scan);
    } else if (arming === NOT_ARMED) next = restCriterion(c, before, row);
    else if (c.timing.kind === "thermal") {
      const memory = restCriterion(c, before, row).memory;
      if (memory !== before.memory) next = { ...before, memory };
    }
    if (next === before) continue;
    changed ??= state.criteria.slice();
    changed[i] = next;
  }
  return changed ?? state.criteria;
}

function later(state: CriterionState, scans: number): CriterionState {
  return { ...state, sinceScan: state.sinceScan + scans };
}

function nextAlarmSince(
  alarm: CompiledAlarm | null,
  state: MonitorState,
  row: Float64Array,
  criteria: Criteria,
  scan: number,
  arming: Arming,
  heldScans: number,
): number {
  if (alarm === null || arming === NOT_ARMED) return -1;
  if (arming === HELD) return state.alarmSinceScan;
  const value = conditionValue(alarm, row, criteria);
  const was = state.alarmSinceScan >= 0;
  if (!isPicked(alarm.over, alarm.level, alarm.dropOff, value, was)) return -1;
  return was ? state.alarmSinceScan + heldScans : scan;
}

function isAlarmed(
  alarm: CompiledAlarm | null,
  state: MonitorState,
  alarmSinceScan: number,
  scan: number,
  arming: Arming,
): boolean {
  if (alarm === null || alarmSinceScan < 0) return false;
  if (arming === HELD) return state.alarmed;
  return scan - alarmSinceScan >= alarm.delayScans;
}

/** Whether an instantaneous or inverse criterion still remembers an earlier pickup. */
function hasMemory(program: MonitorProgram, state: MonitorState): boolean {
  for (let i = 0; i < state.criteria.length; i++) {
    if ((state.criteria[i] as CriterionState).memory === 0) continue;
    const kind = (program.criteria[i] as CompiledCriterion).timing.kind;
    if (kind === "instantaneous" || kind === "inverse") return true;
  }
  return false;
}

function anyPicked(criteria: Criteria): boolean {
  for (let i = 0; i < criteria.length; i++) if ((criteria[i] as CriterionState).picked) return true;
  return false;
}
