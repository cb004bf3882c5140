/** A choice that fills several fields at once; says why it was not taken. */
import { useState } from "react";
import { SelectField, type SelectFieldProps } from "./SelectField";

interface PickFieldProps extends Pick<SelectFieldProps, "label" | "value" | "options"> {
  /** Answers why not, or an empty text. */
  readonly onPick: (value: string) => string;
}

export function PickField({ onPick, ...field }: PickFieldProps) {
  const [refusal, setRefusal] = useState("");
  return (
    <SelectField {...field} refusal={refusal} onChoose={(value) => setRefusal(onPick(value))} />
  );
}
