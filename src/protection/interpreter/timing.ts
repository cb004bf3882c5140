/**
 * One scan of one criterion: pickup with hysteresis, then its timing. One meaning for all: it operates when the
 * confirmation is complete.
 *
 *   definite       scan - since >= delay
 *   instantaneous  at least n of the last m scans picked up
 *   inverse        sum of scan / t(M) reaches 1, M = value / pickup (over) or pickup / value (under); resets by curve
 *   thermal        image x' = (value - x) / T reaches the pickup
 *
 * The scan at which a pickup is first seen starts the clock and adds nothing to it.
 */
import { travelRatePerS } from "../curves/dependentTime";
import { CRITERION_AT_REST, type CriterionState } from "./monitorState";
import type { CompiledCondition, CompiledCriterion, Levels } from "./program";

/** Whether all conditions hold; a condition without a reading does not. */
export function conditionsHold(
  conditions: readonly CompiledCondition[],
  row: Float64Array,
  criteria: readonly CriterionState[],
): boolean {
  for (let i = 0; i < conditions.length; i++) {
    const c = conditions[i] as CompiledCondition;
    const value = conditionValue(c, row, criteria);
    if (!(c.over ? value > c.level : value < c.level)) return false;
  }
  return true;
}

/** The reading, or the heat image where one is meant. */
export function conditionValue(
  condition: CompiledCondition,
  row: Float64Array,
  criteria: readonly CriterionState[],
): number {
  if (condition.image < 0) return condition.read(row);
  return (criteria[condition.image] as CriterionState).memory;
}

/** Past its pickup, or picked up before and not yet past its drop-off. No reading is no pickup. */
export function isPicked(
  over: boolean,
  pickup: number,
  dropOff: number,
  value: number,
  wasPicked: boolean,
): boolean {
  if (over) return value > pickup || (wasPicked && value >= dropOff);
  return value < pickup || (wasPicked && value <= dropOff);
}

/** The next state of an armed criterion; the same object when nothing changed. */
export function stepCriterion(
  criterion: CompiledCriterion,
  levels: Levels,
  state: CriterionState,
  row: Float64Array,
  scan: number,
): CriterionState {
  const value = criterion.read(row);
  const { pickup, dropOff } = levels;
  const timing = criterion.timing;
  const allowed = criterion.when.length === 0 || conditionsHold(criterion.when, row, []);
  let picked = allowed && isPicked(criterion.over, pickup, dropOff, value, state.picked);
  let memory = state.memory;
  switch (timing.kind) {
    case "definite":
      break;
    case "instantaneous":
      memory = ((memory << 1) | (picked ? 1 : 0)) & timing.mask;
      break;
    case "inverse": {
      const multiple = criterion.over ? value / pickup : pickup / value;
      const ratePerS = travelRatePerS(timing.curve, multiple, timing.timeMultiplier);
      // Over the pickup but not allowed or only now seen: the disc stands still.
      if (!(ratePerS > 0) || (picked && state.picked))
        memory = Math.min(1, Math.max(0, memory + ratePerS * timing.scanS));
      break;
    }
    case "thermal":
      memory = heatImage(value, memory, timing.decay);
      picked ||= allowed && isPicked(criterion.over, pickup, dropOff, memory, state.picked);
      break;
  }
  const sinceScan = picked ? (state.picked ? state.sinceScan : scan) : -1;
  if (picked === state.picked && sinceScan === state.sinceScan && memory === state.memory)
    return state;
  return { picked, sinceScan, memory };
}

/** Whether the confirmation of a criterion is complete at this scan. */
export function isConfirmed(
  criterion: CompiledCriterion,
  levels: Levels,
  state: CriterionState,
  scan: number,
): boolean {
  return state.picked && progressOf(criterion, levels, state, scan) >= 1;
}

/** How far a criterion is on its way to operate, 0 to 1. */
export function progressOf(
  criterion: CompiledCriterion,
  levels: Levels,
  state: CriterionState,
  scan: number,
): number {
  const timing = criterion.timing;
  switch (timing.kind) {
    case "definite":
      if (!state.picked) return 0;
      return timing.delayScans === 0
        ? 1
        : Math.min(1, (scan - state.sinceScan) / timing.delayScans);
    case "instantaneous":
      return Math.min(1, bitsSet(state.memory) / timing.scans);
    case "inverse":
      return state.memory;
    case "thermal": {
      const ratio = criterion.over ? state.memory / levels.pickup : levels.pickup / state.memory;
      return ratio > 0 ? Math.min(1, ratio) : 0;
    }
  }
}

/** A criterion that is not watched: its counts are clear, but a heat image goes on following the reading. */
export function restCriterion(
  criterion: CompiledCriterion,
  state: CriterionState,
  row: Float64Array,
): CriterionState {
  if (criterion.timing.kind !== "thermal")
    return state.picked || state.memory !== 0 ? CRITERION_AT_REST : state;
  const memory = heatImage(criterion.read(row), state.memory, criterion.timing.decay);
  if (!state.picked && memory === state.memory) return state;
  return { picked: false, sinceScan: -1, memory };
}

function heatImage(value: number, image: number, decay: number): number {
  return Number.isNaN(value) ? image : value + (image - value) * decay;
}

function bitsSet(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}
