/** The gauge as a line of figures, where there is no room for scales. Same view, same handle. */
import { type Ref, useEffect, useImperativeHandle, useMemo, useRef } from "react";
import { NO_BREAK_SPACE } from "../../../units/format";
import { StateLabel } from "../state/StateMark";
import { gaugeFigures, gaugeSentence } from "./Gauge";
import type { GaugeFrame, GaugeHandle, GaugeView } from "./gaugeView";

export interface GaugeReadingProps {
  readonly view: GaugeView;
  readonly initial: GaugeFrame;
  readonly handle?: Ref<GaugeHandle>;
}

export function GaugeReading({ view, initial, handle }: GaugeReadingProps) {
  const box = useRef<HTMLDivElement | null>(null);
  const number = useRef<HTMLSpanElement | null>(null);
  const unit = useRef<HTMLSpanElement | null>(null);
  const last = useRef(initial);
  const drawer = useMemo<GaugeHandle>(
    () => ({
      draw(frame, figures) {
        last.current = frame;
        if (!figures || number.current === null || unit.current === null) return;
        const parts = gaugeFigures(view, frame.value);
        if (number.current.textContent !== parts.number) number.current.textContent = parts.number;
        const unitText = `${NO_BREAK_SPACE}${parts.unit}`;
        if (unit.current.textContent !== unitText) unit.current.textContent = unitText;
        box.current?.setAttribute(
          "aria-label",
          `${view.name}: ${gaugeSentence(view, frame.value)}`,
        );
      },
    }),
    [view],
  );
  useImperativeHandle(handle, () => drawer, [drawer]);
  useEffect(() => drawer.draw(last.current, true), [drawer]);
  const figures = gaugeFigures(view, last.current.value);
  return (
    <div
      ref={box}
      className="reading"
      role="group"
      aria-label={`${view.name}: ${gaugeSentence(view, last.current.value)}`}
    >
      <span className="reading-name">{view.name}</span>
      <span className="reading-value">
        <span ref={number}>{figures.number}</span>
        <span ref={unit} className="unit">{`${NO_BREAK_SPACE}${figures.unit}`}</span>
      </span>
      <StateLabel mark={view.state} word={view.noReading ?? view.stateWord} isNew={view.isNew} />
      <span className="note">{view.beforeWord === "" ? view.pickupWord : view.beforeWord}</span>
    </div>
  );
}
