/** The race: protection's progress above the axis, each part's way to damage below it, the margin between them. */
import { type Ref, useId, useImperativeHandle, useLayoutEffect, useMemo, useRef } from "react";
import { formatLate, formatRatio, formatTime } from "../../../units/format";
import type { SheetVariant } from "../../theme/metrics";
import { DrawingView } from "../drawing/DrawingView";
import { StateMark } from "../state/StateMark";
import type { MarkName } from "../state/stateWord";
import { TableReveal } from "../TableReveal";
import { Terms } from "../Terms";
import { useElementSize } from "../useElementSize";
import { RaceTable } from "./RaceTable";
import { xOf } from "./raceAxis";
import { layoutRace, NOW_KEY, nowWord, type RaceDrawing } from "./raceLayout";
import type { RaceView } from "./raceView";

export interface RaceChartProps {
  readonly view: RaceView;
  readonly variant: SheetVariant;
  /** "room": no taller than its box, quiet lanes fold into one line. "content": as tall as it needs to be. */
  readonly fit: "room" | "content";
  /** Offered as a button when given. */
  readonly onSavePicture?: () => void;
  readonly handle?: Ref<RaceHandle>;
}

/** Drawn straight on the page, without React: the mark of now and its time. */
export interface RaceHandle {
  moveNow(nowS: number): void;
}

const LEGEND: readonly { readonly mark: MarkName; readonly word: string }[] = [
  { mark: "pickup", word: "pickup" },
  { mark: "operate", word: "operate" },
  { mark: "trip", word: "trip" },
  { mark: "shadow", word: "shadow, ahead" },
];

/** The verdict in figures, for the small sheet where it comes before the drawing. */
export function RaceVerdict({ view }: { readonly view: RaceView }) {
  const { spine, operator } = view;
  return (
    <p className="verdict">
      <b>{spine.margin === null ? "–" : formatRatio(spine.margin)}</b>
      <span>
        {spine.margin === null || spine.clearingS === null || spine.onsetS === null
          ? spine.noMarginWord
          : `${view.standing === "forecast" ? "margin if struck" : "margin"}: ${spine.clearingWord} ${formatTime(spine.clearingS)}, melt onset at ${formatTime(spine.onsetS)}`}
        {spine.marginEarly !== null && (
          <small>{`early edge ${spine.marginEarly < 1 ? formatLate(spine.marginEarly) : formatRatio(spine.marginEarly)}`}</small>
        )}
      </span>
      {operator.margin !== null && (
        <span>
          <b className="verdict-small">
            {operator.margin < 1 ? formatRatio(1 / operator.margin) : formatRatio(operator.margin)}
          </b>
          {operator.margin < 1 ? " too late: operator alone" : " in time: operator alone"}
        </span>
      )}
    </p>
  );
}

export function RaceChart({ view, variant, fit, onSavePicture, handle }: RaceChartProps) {
  const { ref, widthPx, heightPx: roomPx } = useElementSize<HTMLDivElement>(908);
  const maxHeightPx = fit === "room" && roomPx > 0 ? roomPx : null;
  const titleId = useId();
  const layout = useMemo(
    () => layoutRace(view, { widthPx, maxHeightPx, variant }),
    [view, widthPx, maxHeightPx, variant],
  );
  const { drawing, heightPx } = layout;
  const picture = useRef<SVGSVGElement | null>(null);
  const mover = useMemo<RaceHandle>(
    () => ({
      moveNow: (nowS) => {
        if (picture.current !== null) putNow(picture.current, layout, nowS);
      },
    }),
    [layout],
  );
  useImperativeHandle(handle, () => mover, [mover]);
  // what was moved by hand is put back to where the new drawing has it
  useLayoutEffect(() => {
    if (view.nowS !== null) mover.moveNow(view.nowS);
  }, [mover, view.nowS]);
  return (
    <section className={`race fit-${fit}`} aria-labelledby={titleId} data-standing={view.standing}>
      <div className="zone-head">
        <h2 id={titleId}>{view.title}</h2>
        <span className="note race-note">{view.note}</span>
        <span className="legend">
          {LEGEND.filter(({ mark }) => view.standing === "live" || mark === "shadow").map(
            ({ mark, word }) => (
              <span key={mark} className="legend-item">
                <StateMark mark={mark} sizePx={11} /> {word}
              </span>
            ),
          )}
        </span>
        {onSavePicture !== undefined && (
          <button type="button" className="button small" onClick={onSavePicture}>
            Save picture
          </button>
        )}
        <Terms />
        <TableReveal label="The race as a table">
          <RaceTable view={view} />
        </TableReveal>
      </div>
      {variant === "phone" && <RaceVerdict view={view} />}
      <div ref={ref} className="drawing-box">
        <svg
          ref={picture}
          width={widthPx}
          height={heightPx}
          viewBox={`0 0 ${widthPx} ${heightPx}`}
          role="img"
          aria-label={view.summary}
        >
          <DrawingView drawing={drawing} />
        </svg>
      </div>
    </section>
  );
}

function putNow(picture: SVGSVGElement, { nowX, axis }: RaceDrawing, nowS: number): void {
  if (nowX === null) return;
  const byPx = Math.round((xOf(axis, nowS) - nowX) * 10) / 10;
  const transform = byPx === 0 ? "" : `translateX(${byPx}px)`;
  for (const node of picture.querySelectorAll<SVGElement>(`[data-key="${NOW_KEY}"]`)) {
    if (node.style.transform !== transform) node.style.transform = transform;
    if (node.tagName === "text") {
      const word = nowWord(nowS);
      if (node.textContent !== word) node.textContent = word;
    }
  }
}
