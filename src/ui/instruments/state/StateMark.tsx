import { DrawingView } from "../drawing/DrawingView";
import { STATE_SHAPES } from "./stateShapes";
import type { MarkName } from "./stateWord";

export interface StateMarkProps {
  readonly mark: MarkName;
  readonly sizePx?: number;
  /** New and not acknowledged: the shape blinks, or the word "new" stands where motion is unwelcome. */
  readonly isNew?: boolean;
}

/** The shape alone. Always set beside its word. */
export function StateMark({ mark, sizePx = 12, isNew = false }: StateMarkProps) {
  return (
    <svg
      className={isNew ? "mark blink" : "mark"}
      width={sizePx}
      height={sizePx}
      viewBox="0 0 12 12"
      aria-hidden="true"
    >
      <DrawingView drawing={STATE_SHAPES[mark]} />
    </svg>
  );
}

/** Shape and word, the usual pair. */
export function StateLabel({
  mark,
  word,
  isNew = false,
}: {
  readonly mark: MarkName;
  readonly word?: string;
  readonly isNew?: boolean;
}) {
  return (
    <span className="state-label">
      <StateMark mark={mark} isNew={isNew} />
      <span
        className={
          mark === "no pickup" || mark === "not armed" || mark === "off"
            ? "state-word quiet"
            : "state-word"
        }
      >
        {word ?? mark}
      </span>
      {isNew && <span className="new-word">new</span>}
    </span>
  );
}
