/** A typed quantity: what was typed stays as typed until it is read, and the reading is shown before it is used. */
import { useId, useState } from "react";
import type { ParsedQuantity } from "../../../units/parseQuantity";

export interface QuantityInputProps {
  readonly name: string;
  /** SI. */
  readonly value: number;
  readonly minimum: number;
  readonly maximum: number;
  /** Number without its unit, as it stands in the field. */
  readonly format: (value: number) => string;
  /** Number with its unit, for messages. */
  readonly formatFull: (value: number) => string;
  readonly parse: (typed: string) => ParsedQuantity;
  readonly unit: string;
  readonly disabled?: boolean;
  readonly labelledBy?: string;
  readonly onCommit: (value: number) => void;
}

/** Words of a refusal may lie behind a bar that stands on the page; a document without layout cannot scroll. */
function bringIntoView(words: HTMLElement | null): void {
  words?.scrollIntoView?.({ block: "nearest" });
}

export function QuantityInput(props: QuantityInputProps) {
  const {
    name,
    value,
    minimum,
    maximum,
    format,
    formatFull,
    parse,
    unit,
    disabled = false,
    labelledBy,
    onCommit,
  } = props;
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const [refused, setRefused] = useState(false);
  const parsed = draft === null ? null : parse(draft);
  const outside = parsed?.ok === true && (parsed.value < minimum || parsed.value > maximum);
  const message =
    parsed === null
      ? ""
      : !parsed.ok
        ? parsed.problem
        : outside
          ? `${name} ${parsed.echo} is outside ${formatFull(minimum)} to ${formatFull(maximum)}.`
          : "";
  const commit = () => {
    if (parsed === null) return;
    if (parsed.ok && !outside) {
      setDraft(null);
      onCommit(parsed.value);
    } else setRefused(true);
  };
  return (
    <span className="quantity">
      <input
        type="text"
        inputMode="decimal"
        autoComplete="off"
        spellCheck={false}
        value={draft ?? format(value)}
        disabled={disabled}
        aria-label={labelledBy === undefined ? `${name}, ${unit}` : undefined}
        aria-labelledby={labelledBy}
        aria-invalid={message !== ""}
        aria-describedby={draft === null ? undefined : `${id}-says`}
        onChange={(event) => {
          setDraft(event.currentTarget.value);
          setRefused(false);
        }}
        onBlur={() => {
          if (message === "") commit();
        }}
        onKeyDown={(event) => {
          if (event.key === "Enter") commit();
          if (event.key === "Escape") {
            setDraft(null);
            setRefused(false);
          }
        }}
      />
      <span className="unit">{unit}</span>
      {draft !== null && (
        <span
          key={refused ? "refused" : "typed"}
          id={`${id}-says`}
          className={message === "" ? "reading-echo" : "reading-echo wrong"}
          role={refused ? "alert" : "status"}
          ref={refused ? bringIntoView : undefined}
        >
          {message === "" && parsed?.ok === true ? `= ${parsed.echo}` : message}
          {parsed?.ok === false &&
            parsed.suggestions.map((suggestion) => (
              <button
                key={suggestion}
                type="button"
                className="button small"
                onPointerDown={(event) => event.preventDefault()}
                onClick={() => {
                  setDraft(suggestion);
                  setRefused(false);
                }}
              >
                {suggestion}
              </button>
            ))}
        </span>
      )}
    </span>
  );
}
