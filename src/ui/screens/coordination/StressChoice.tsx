import { STRESS_NAMES, type StressName } from "../../../study/coordination/stress";
import { STRESS_WORDS } from "./words";

export interface StressChoiceProps {
  readonly stress: StressName;
  readonly onChoose: (stress: StressName) => void;
}

/** Which sheet is looked at. */
export function StressChoice({ stress, onChoose }: StressChoiceProps) {
  return (
    <label className="stress-choice">
      <span className="control-name">Stress</span>
      <select
        value={stress}
        onChange={(event) => onChoose(event.currentTarget.value as StressName)}
      >
        {STRESS_NAMES.map((name) => (
          <option key={name} value={name}>
            {STRESS_WORDS[name].name}
          </option>
        ))}
      </select>
    </label>
  );
}
