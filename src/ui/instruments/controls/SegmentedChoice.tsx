import { useId } from "react";

export interface SegmentOption<T extends string> {
  readonly value: T;
  readonly word: string;
  readonly disabled?: boolean;
}

export interface SegmentedChoiceProps<T extends string> {
  readonly name: string;
  readonly options: readonly SegmentOption<T>[];
  readonly value: T;
  readonly onChoose: (value: T) => void;
  readonly hint?: string;
  /** The name is spoken only, where a heading already says it. */
  readonly nameHidden?: boolean;
  readonly small?: boolean;
}

/** One of a few: standby or operate, key, tune mode, held or now. Native radio buttons, so the arrow keys work. */
export function SegmentedChoice<T extends string>({
  name,
  options,
  value,
  onChoose,
  hint = "",
  nameHidden = false,
  small = false,
}: SegmentedChoiceProps<T>) {
  const group = useId();
  return (
    <fieldset className={small ? "segmented small" : "segmented"}>
      <legend className={nameHidden ? "unseen" : "control-name"}>{name}</legend>
      <div className="segments">
        {options.map((option) => (
          <label
            key={option.value}
            className={option.value === value ? "segment chosen" : "segment"}
          >
            <input
              type="radio"
              name={group}
              value={option.value}
              checked={option.value === value}
              disabled={option.disabled === true}
              onChange={() => onChoose(option.value)}
            />
            <span>{option.word}</span>
          </label>
        ))}
      </div>
      {hint !== "" && <p className="hint">{hint}</p>}
    </fieldset>
  );
}
