/** One control: name, typed value, slider, minus and plus. Right and up increase. One gesture is one commit. */
import { type KeyboardEvent, useId, useRef } from "react";
import { QuantityInput, type QuantityInputProps } from "./QuantityInput";

export interface ControlFieldProps
  extends Pick<
    QuantityInputProps,
    | "name"
    | "value"
    | "minimum"
    | "maximum"
    | "format"
    | "formatFull"
    | "parse"
    | "unit"
    | "disabled"
  > {
  /** Fine step, SI; Page keys and Shift take ten. */
  readonly step: number;
  /** A mark under the track: resonance, the design point. */
  readonly markAt?: number | null;
  readonly hint?: string;
  /** Every move of a drag, at once. */
  readonly onChange: (value: number) => void;
  /** End of a gesture: the value that stays, and where it came from. */
  readonly onCommit: (value: number, from: number) => void;
}

function held(value: number, minimum: number, maximum: number): number {
  return Math.min(Math.max(value, minimum), maximum);
}

/** Whole fine steps from the lower end, so that stepping up and down again comes home. */
export function steppedValue(
  value: number,
  steps: number,
  step: number,
  minimum: number,
  maximum: number,
): number {
  const count = Math.round((value - minimum) / step) + steps;
  return held(minimum + count * step, minimum, maximum);
}

export function ControlField(props: ControlFieldProps) {
  const {
    name,
    value,
    minimum,
    maximum,
    step,
    format,
    formatFull,
    parse,
    unit,
    disabled = false,
    markAt = null,
    hint = "",
    onChange,
    onCommit,
  } = props;
  const id = useId();
  const gestureFrom = useRef<number | null>(null);
  const latest = useRef(value);
  latest.current = gestureFrom.current === null ? value : latest.current;
  const fraction = (held(value, minimum, maximum) - minimum) / (maximum - minimum);

  const move = (next: number) => {
    gestureFrom.current ??= value;
    latest.current = held(next, minimum, maximum);
    onChange(latest.current);
  };
  const finish = () => {
    if (gestureFrom.current === null) return;
    const from = gestureFrom.current;
    gestureFrom.current = null;
    onCommit(latest.current, from);
  };
  const stepBy = (steps: number) => {
    move(steppedValue(value, steps, step, minimum, maximum));
    finish();
  };
  const key = (event: KeyboardEvent<HTMLInputElement>) => {
    const coarse = event.shiftKey ? 10 : 1;
    const moves: Readonly<Record<string, number>> = {
      ArrowRight: coarse,
      ArrowUp: coarse,
      ArrowLeft: -coarse,
      ArrowDown: -coarse,
      PageUp: 10,
      PageDown: -10,
    };
    const steps = moves[event.key];
    if (steps !== undefined) move(steppedValue(value, steps, step, minimum, maximum));
    else if (event.key === "Home") move(minimum);
    else if (event.key === "End") move(maximum);
    else return;
    event.preventDefault();
  };
  return (
    <div className="control">
      <div className="control-head">
        <span id={`${id}-name`} className="control-name">
          {name}
        </span>
        <QuantityInput
          name={name}
          value={value}
          minimum={minimum}
          maximum={maximum}
          format={format}
          formatFull={formatFull}
          parse={parse}
          unit={unit}
          disabled={disabled}
          onCommit={(next) => {
            onChange(next);
            onCommit(next, value);
          }}
        />
      </div>
      <div className="control-slide">
        <button
          type="button"
          className="button step"
          aria-label={`${name} down`}
          disabled={disabled || value <= minimum}
          onClick={() => stepBy(-1)}
        >
          {"\u2212"}
        </button>
        <span className="track">
          <span className="track-fill" style={{ width: `${fraction * 100}%` }} />
          {markAt !== null && (
            <span
              className="track-mark"
              style={{
                left: `${((held(markAt, minimum, maximum) - minimum) / (maximum - minimum)) * 100}%`,
              }}
            />
          )}
          <input
            type="range"
            min={minimum}
            max={maximum}
            step="any"
            value={value}
            disabled={disabled}
            aria-labelledby={`${id}-name`}
            aria-valuetext={formatFull(value)}
            onChange={(event) => move(event.currentTarget.valueAsNumber)}
            onPointerUp={finish}
            onKeyDown={key}
            onKeyUp={finish}
            onBlur={finish}
          />
        </span>
        <button
          type="button"
          className="button step"
          aria-label={`${name} up`}
          disabled={disabled || value >= maximum}
          onClick={() => stepBy(1)}
        >
          +
        </button>
      </div>
      {hint !== "" && <p className="hint">{hint}</p>}
    </div>
  );
}
