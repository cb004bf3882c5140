/** A choice in a form: its label, its box, and under it why the last choice was not taken. */
import { type ComponentProps, useId } from "react";

export interface SelectFieldProps extends Pick<ComponentProps<"select">, "onFocus" | "onBlur"> {
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly word: string }[];
  /** Why the last choice was not taken; empty where it was. */
  readonly refusal: string;
  readonly onChoose: (value: string) => void;
}

export function SelectField(props: SelectFieldProps) {
  const { label, value, options, refusal, onChoose, onFocus, onBlur } = props;
  const id = useId();
  return (
    <div className="field text-field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        onFocus={onFocus}
        onBlur={onBlur}
        onChange={(event) => onChoose(event.currentTarget.value)}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.word}
          </option>
        ))}
      </select>
      {refusal !== "" && (
        <span className="field-says" role="alert">
          {refusal}
        </span>
      )}
    </div>
  );
}
