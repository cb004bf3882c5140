/**
 * What a comparator's monitor does between crossings: it watches the scanned reading to know when its condition has
 * gone. The comparator itself decides in `sensing/comparatorTap`; the scanned reading lags it, so it is asked from the
 * scan after the crossing on.
 */
import type { CriterionState, MonitorState } from "./interpreter/monitorState";
import type { CompiledCriterion, MonitorProgram } from "./interpreter/program";
import { levelsOf } from "./interpreter/stepMonitor";
import { isPicked } from "./interpreter/timing";
import type { Situation } from "./situation";

/** One scan of a monitor on the comparator path. */
export function watchComparator(
  program: MonitorProgram,
  state: MonitorState,
  row: Float64Array,
  scan: number,
  situation: Situation,
): MonitorState {
  if (state.kind !== "operate" || scan <= state.atScan) return state;
  const before = state.criteria[0] as CriterionState;
  const c = program.criteria[0] as CompiledCriterion;
  const { pickup, dropOff } = levelsOf(c, situation);
  if (isPicked(c.over, pickup, dropOff, c.read(row), before.picked) === before.picked) return state;
  return { ...state, criteria: [{ ...before, picked: !before.picked }] };
}
