/** A choice that fills several fields at once; says why it was not taken. */
import { useId, useState } from "react";

export interface PickFieldProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly word: string }[];
  /** Answers why not, or an empty text. */
  readonly onPick: (value: string) => string;
}

export function PickField({ label, value, options, onPick }: PickFieldProps) {
  const id = useId();
  const [refusal, setRefusal] = useState("");
  return (
    <div className="field text-field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => setRefusal(onPick(event.currentTarget.value))}
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
