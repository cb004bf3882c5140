/**
 * A panel gauge. The needle shows what a panel meter of 0.3 s would show; the figures below are the true value.
 * React draws scale, marks and words on events; the needle and figures are moved straight on the page.
 */
import { memo, type Ref, useEffect, useImperativeHandle, useMemo, useRef } from "react";
import { isSameData } from "../../../project/sameData";
import { dbNumber, NO_BREAK_SPACE, NO_VALUE, spokenQuantity } from "../../../units/format";
import { metricsOf, type SheetVariant } from "../../theme/metrics";
import { DrawingView, roleCss, textRoleCss } from "../drawing/DrawingView";
import { shownParts } from "../shownQuantity";
import { StateMark } from "../state/StateMark";
import { useElementSize } from "../useElementSize";
import { layoutGauge, needleAngleDeg } from "./gaugeLayout";
import type { GaugeFrame, GaugeHandle, GaugeView } from "./gaugeView";

export interface GaugeProps {
  readonly view: GaugeView;
  readonly variant: SheetVariant;
  /** Where the needle stands before the first frame. */
  readonly initial: GaugeFrame;
  readonly handle?: Ref<GaugeHandle>;
}

/** Figures of a gauge reading, in the prefix the gauge keeps to. */
export function gaugeFigures(
  view: GaugeView,
  value: number,
): { readonly number: string; readonly unit: string } {
  if (view.noReading !== null)
    return { number: NO_VALUE, unit: `${view.prefix ?? ""}${view.unit}` };
  if (view.unit === "dB") return { number: dbNumber(value), unit: "dB" };
  return shownParts(value, view.unit, view.prefix === undefined ? {} : { prefix: view.prefix });
}

/** Reading, pickup and state in words. */
export function gaugeSentence(view: GaugeView, value: number): string {
  if (view.noReading !== null) return `no reading, ${view.noReading}`;
  const format = view.prefix === undefined ? {} : { prefix: view.prefix };
  const reading = spokenQuantity(value, view.unit, format);
  const pickup =
    view.pickup === null
      ? "no pickup set"
      : `pickup at ${spokenQuantity(view.pickup, view.unit, format)}`;
  return `${reading}, ${pickup}, state ${view.stateWord}`;
}

/** Smaller turns, half a pixel at the tip of a needle of 70 px, wait until the figures are drawn. */
const LEAST_DEG = 0.4;
/** Turns of a needle from this on travel, smaller ones are made at once. */
const LEAP_DEG = 3;

const HOT_STATES = new Set(["trip", "operate", "lockout"]);

// views are made anew with every event of the bench; what moves comes through the handle
export const Gauge = memo(
  PlainGauge,
  (old, next) =>
    old.variant === next.variant && old.handle === next.handle && isSameData(old.view, next.view),
);

function PlainGauge({ view, variant, initial, handle }: GaugeProps) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(148);
  const needle = useRef<SVGGElement | null>(null);
  const number = useRef<SVGTSpanElement | null>(null);
  const unit = useRef<SVGTSpanElement | null>(null);
  const last = useRef<GaugeFrame>(initial);
  const layout = useMemo(
    () => layoutGauge(view, widthPx, metricsOf(variant)),
    [view, widthPx, variant],
  );
  const { minimum, maximum } = view.scale;

  const drawer = useMemo<GaugeHandle>(() => {
    let shownDeg = Number.NaN;
    let shownText = "";
    return {
      draw(frame, figures) {
        last.current = frame;
        const turnDeg = Math.round(needleAngleDeg(frame.needle, minimum, maximum) * 10) / 10;
        const leastDeg = figures ? 0.05 : LEAST_DEG;
        // not written as >=: the first angle is held against none
        if (!(Math.abs(turnDeg - shownDeg) < leastDeg) && needle.current !== null) {
          // The 120 ms of travel are for leaps; steps of a needle that moves with every frame are smooth by themselves.
          const isLeap = !(Math.abs(turnDeg - shownDeg) < LEAP_DEG);
          needle.current.style.transition = isLeap ? "" : "none";
          needle.current.style.transform = `rotate(${turnDeg}deg)`;
          shownDeg = turnDeg;
        }
        if (!figures || number.current === null || unit.current === null) return;
        if (needle.current !== null) needle.current.style.visibility = needleSight(frame);
        const parts = gaugeFigures(view, frame.value);
        const text = `${parts.number} ${parts.unit}`;
        if (text === shownText) return;
        shownText = text;
        number.current.textContent = parts.number;
        unit.current.textContent = `${NO_BREAK_SPACE}${parts.unit}`;
        const meter = ref.current;
        if (meter === null) return;
        meter.setAttribute("aria-valuenow", meterNow(frame.value, minimum, maximum));
        meter.setAttribute("aria-valuetext", gaugeSentence(view, frame.value));
      },
    };
  }, [view, minimum, maximum, ref]);
  useImperativeHandle(handle, () => drawer, [drawer]);
  useEffect(() => drawer.draw(last.current, true), [drawer]);

  const start = last.current;
  const figures = gaugeFigures(view, start.value);
  return (
    <div
      ref={ref}
      className="gauge"
      role="meter"
      aria-label={view.name}
      aria-valuemin={minimum}
      aria-valuemax={maximum}
      aria-valuenow={Number(meterNow(start.value, minimum, maximum))}
      aria-valuetext={gaugeSentence(view, start.value)}
    >
      <svg
        width={layout.widthPx}
        height={layout.heightPx}
        viewBox={`0 0 ${layout.widthPx} ${layout.heightPx}`}
        aria-hidden="true"
      >
        <DrawingView drawing={layout.frame} />
        {view.noReading === null && (
          <g transform={`translate(${layout.centreX} ${layout.centreY})`}>
            <g
              ref={needle}
              className="needle"
              style={{
                transform: `rotate(${needleAngleDeg(start.needle, minimum, maximum)}deg)`,
                visibility: needleSight(start),
              }}
            >
              <path
                d={`M0 ${-layout.needleInnerPx}V${-layout.needleOuterPx}`}
                style={roleCss(HOT_STATES.has(view.state) ? "needleDanger" : "needle")}
              />
            </g>
          </g>
        )}
        <text x="0" y={layout.valueY} style={textRoleCss("value")}>
          <tspan ref={number}>{figures.number}</tspan>
          <tspan ref={unit} style={textRoleCss("unit")}>{`${NO_BREAK_SPACE}${figures.unit}`}</tspan>
        </text>
      </svg>
      <span className="gauge-state" style={{ top: layout.stateY - metricsOf(variant).notePx }}>
        <StateMark mark={view.state} isNew={view.isNew} />
        <span className={view.state === "no pickup" ? "quiet" : "state-word"}>
          {view.noReading ?? view.stateWord}
        </span>
        {view.isNew && <span className="new-word">new</span>}
      </span>
    </div>
  );
}

/** A quantity that does not exist just now (a gain without drive) has no needle, rather than one at the stop. */
function needleSight(frame: GaugeFrame): "visible" | "hidden" {
  return Number.isNaN(frame.value) ? "hidden" : "visible";
}

function meterNow(value: number, minimum: number, maximum: number): string {
  return String(Number.isFinite(value) ? Math.min(Math.max(value, minimum), maximum) : minimum);
}
