/** The drawn part of a field for a number: label, box, unit, and under it what is said of what was typed. */
import { type ComponentProps, type ReactNode, useId } from "react";

export interface NumberBoxProps
  extends Pick<ComponentProps<"input">, "placeholder" | "onFocus" | "onBlur" | "onKeyDown"> {
  readonly label: string;
  /** What stands in the box. */
  readonly text: string;
  readonly unit: string;
  /** More figures than the usual box shows: a wider one takes the unit's room. */
  readonly isLong?: boolean;
  /** Why what was typed is not taken; empty where it is. */
  readonly refusal: string;
  /** What a value that is taken is not good for. */
  readonly warning?: string;
  /** Beside the refusal: other readings of what was typed. */
  readonly children?: ReactNode;
  readonly onType: (typed: string) => void;
}

export function NumberBox(props: NumberBoxProps) {
  const { label, text, unit, isLong = false, refusal, warning = "", ...others } = props;
  const { children, onType, ...box } = others;
  const id = useId();
  const says = refusal === "" ? (warning === "" ? undefined : "status") : "alert";
  return (
    <div className={`field${refusal === "" ? "" : " refused"}${isLong ? " long-figure" : ""}`}>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autoComplete="off"
        spellCheck={false}
        value={text}
        aria-invalid={refusal !== ""}
        aria-describedby={`${id}-unit ${id}-says`}
        onChange={(event) => onType(event.currentTarget.value)}
        {...box}
      />
      <span className="field-unit" id={`${id}-unit`}>
        {unit}
      </span>
      <span className="field-says" id={`${id}-says`} role={says}>
        {refusal === "" ? warning : refusal}
        {refusal !== "" && children}
      </span>
    </div>
  );
}
