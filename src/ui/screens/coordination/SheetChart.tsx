/**
 * A coordination sheet: time from the first instant against the size of the stress, both logarithmic. Axes and their scales
 * are the chart library's; what stands on them is drawn here. The words beside it say the same.
 */
import { createContext, memo, useContext, useEffect, useId, useRef } from "react";
import {
  CartesianGrid,
  Line,
  LineChart,
  ResponsiveContainer,
  usePlotArea,
  useXAxisScale,
  useYAxisScale,
  XAxis,
  YAxis,
} from "recharts";
import type { CoordinationSheet } from "../../../study/coordination/coordinate";
import type { Crossing, SchemeMargin } from "../../../study/coordination/margins";
import { formatTime } from "../../../units/format";
import {
  type Curve,
  clampS,
  type DamageCurve,
  FIRST_S,
  LAST_S,
  type Place,
  type Region,
  type SheetCurves,
} from "./sheetData";
import { strokeOf } from "./strokes";
import { damageWords, marginWords, STRESS_WORDS } from "./words";

export interface SheetChartProps {
  readonly sheet: CoordinationSheet;
  readonly curves: SheetCurves;
  /** What is read out just now. */
  readonly at: Place | null;
  readonly margin: SchemeMargin | null;
  readonly crossings: readonly Crossing[];
  /** A size of its own, such as the part's maintaining voltage. */
  readonly own: { readonly x: number; readonly word: string } | null;
  readonly label: string;
  readonly heightPx: number;
  /** Of figures and words on the sheet. */
  readonly textPx: number;
  readonly onRead: (x: number) => void;
}

const DECADES_S = [1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1, 10, 100];

const LayersContext = createContext<SheetChartProps | null>(null);

export function SheetChart(props: SheetChartProps) {
  const { sheet, label, heightPx, textPx } = props;
  return (
    <figure className="sheet-chart">
      <figcaption>Time from the first instant</figcaption>
      <div role="img" aria-label={label}>
        <LayersContext value={props}>
          <Axes fromX={sheet.axis[0]} toX={sheet.axis[1]} heightPx={heightPx} textPx={textPx} />
        </LayersContext>
      </div>
      <p className="axis-name">{STRESS_WORDS[sheet.stress].axis}</p>
    </figure>
  );
}

interface AxesProps {
  readonly fromX: number;
  readonly toX: number;
  readonly heightPx: number;
  readonly textPx: number;
}

/** What the chart library draws; what stands on it changes without it. */
const Axes = memo(function Axes({ fromX, toX, heightPx, textPx }: AxesProps) {
  const tick = { fill: "var(--ink-2)", fontSize: textPx };
  return (
    <ResponsiveContainer width="100%" height={heightPx}>
      <LineChart
        data={[
          { x: fromX, s: FIRST_S },
          { x: toX, s: LAST_S },
        ]}
        margin={{ top: 14, right: 16, bottom: 2, left: 0 }}
        accessibilityLayer={false}
      >
        <CartesianGrid stroke="var(--rule)" strokeWidth={0.75} />
        <XAxis
          dataKey="x"
          type="number"
          scale="log"
          domain={[fromX, toX]}
          allowDataOverflow
          ticks={ticksBetween(fromX, toX)}
          interval={0}
          tickFormatter={(v: number) => String(Number(v.toPrecision(2)))}
          tick={tick}
          stroke="var(--ink-3)"
          height={textPx * 2}
        />
        <YAxis
          type="number"
          scale="log"
          domain={[FIRST_S, LAST_S]}
          allowDataOverflow
          ticks={DECADES_S}
          interval={0}
          tickFormatter={(v: number) => formatTime(v, 1)}
          tick={tick}
          stroke="var(--ink-3)"
          width={textPx * 5}
        />
        {/* gives the axes their scales; the curves have corners and gaps of their own */}
        <Line dataKey="s" stroke="none" dot={false} activeDot={false} isAnimationActive={false} />
        <LayersHere />
      </LineChart>
    </ResponsiveContainer>
  );
});

function LayersHere() {
  const props = useContext(LayersContext);
  return props === null ? null : <Layers {...props} />;
}

function Layers(props: SheetChartProps) {
  const { curves, at, margin, crossings, own, textPx, onRead } = props;
  const id = useId();
  const plot = usePlotArea();
  const xScale = useXAxisScale();
  const yScale = useYAxisScale();
  const reads = usePointer(props.sheet.axis, onRead, plot !== undefined);
  if (plot === undefined || xScale === undefined || yScale === undefined) return null;
  const px = (x: number): number => Number(xScale(x));
  const py = (s: number): number => Number(yScale(clampS(s)));
  const { x: left, y: top, width, height } = plot;
  const [bottom, right] = [top + height, left + width];
  const line = (points: readonly Place[]): string =>
    points.map((p, k) => `${k === 0 ? "M" : "L"}${r1(px(p.x))} ${r1(py(p.s))}`).join("");
  const path = (curve: Curve): string => curve.map(line).join("");
  const area = (regions: readonly Region[]): string =>
    regions
      .map(({ lower, upper }) => `${line(lower)}${line([...upper].reverse()).replace("M", "L")}Z`)
      .join("");
  const { hurt } = margin ?? { hurt: null };
  const clearS = margin?.clearS?.nominal ?? null;
  return (
    <g fontSize={textPx}>
      <defs>
        <clipPath id={`${id}clip`}>
          <rect x={left} y={top} width={width} height={height} />
        </clipPath>
        <Hatch id={`${id}heat`} turnDeg={45} stroke="hatch-heat" />
        <Hatch id={`${id}late`} turnDeg={-45} stroke="hatch-late" />
        <marker
          id={`${id}arrow`}
          viewBox="0 0 12 8"
          refX="11.5"
          refY="4"
          markerWidth="12"
          markerHeight="8"
          markerUnits="userSpaceOnUse"
          orient="auto-start-reverse"
        >
          <path className="arrow" d="M0 .8L12 4L0 7.2Z" />
        </marker>
      </defs>
      <g clipPath={`url(#${id}clip)`}>
        <path className="margin-region" d={area(curves.margin)} />
        <path className="onset-band" d={area(curves.onsetBand)} />
        <path d={area(curves.hurt)} fill={`url(#${id}heat)`} />
        <path className="late-region" d={area(curves.late)} fill={`url(#${id}late)`} />
        <path className="actuator-band" d={area(curves.actuatorBand)} />
        {curves.damage.map((d) => (
          <path key={d.key} className={`damage ${d.milestone}`} d={path(d.curve)} />
        ))}
        {curves.monitors.map(({ index, curve }) => (
          <MonitorLine key={index} index={index} d={path(curve)} curve={curve} px={px} py={py} />
        ))}
        <path className="clearing" d={path(curves.clearing)} />
      </g>
      {own !== null && (
        <g className="own">
          <path d={`M${r1(px(own.x))} ${top}V${bottom}`} />
          <text x={r1(px(own.x)) + 5} y={bottom - 6}>
            {own.word}
          </text>
        </g>
      )}
      {crossings.map(({ x, s }) => (
        <path
          key={x}
          className="crossing"
          d={`M${r1(px(x)) - 6} ${r1(py(s)) - 6}l12 12m0 -12l-12 12`}
        />
      ))}
      {curves.late.map((region) => (
        <LateName key={region.lower[0]?.x} {...{ region, px, bottom, right, textPx }} />
      ))}
      <DamageNames curves={curves.damage} {...{ px, py, top, right, textPx }} />
      {at !== null && (
        <g className="cursor">
          <path d={`M${r1(px(at.x))} ${top}V${bottom}`} />
          <path className="cursor-head" d={`M${r1(px(at.x))} ${top}l-6 -9h12z`} />
        </g>
      )}
      {at !== null && clearS !== null && hurt !== null && margin !== null && (
        <g className="dimension">
          <path
            d={`M${r1(px(at.x))} ${r1(py(clearS))}V${r1(py(hurt.nominalS ?? LAST_S))}`}
            markerStart={`url(#${id}arrow)`}
            markerEnd={`url(#${id}arrow)`}
          />
          <text
            className="dimension-figure"
            x={px(at.x) + (px(at.x) > left + 0.8 * width ? -10 : 10)}
            y={0.5 * (py(clearS) + py(hurt.nominalS ?? LAST_S)) + textPx}
            textAnchor={px(at.x) > left + 0.8 * width ? "end" : "start"}
          >
            {marginWords(margin)}
          </text>
        </g>
      )}
      {/* a pointer reads as the keys do, from the slider beside the chart */}
      <rect ref={reads} className="reads" x={left} y={top} width={width} height={height} />
    </g>
  );
}

/** Where somebody presses on the sheet, as a size of the stress. */
function usePointer(
  axis: CoordinationSheet["axis"],
  onRead: (x: number) => void,
  isDrawn: boolean,
) {
  const [fromX, toX] = axis;
  const rect = useRef<SVGRectElement | null>(null);
  const latest = useRef(onRead);
  latest.current = onRead;
  useEffect(() => {
    const element = rect.current;
    if (element === null || !isDrawn) return;
    const onDown = (event: PointerEvent): void => {
      const box = element.getBoundingClientRect();
      latest.current(fromX * (toX / fromX) ** ((event.clientX - box.left) / box.width));
    };
    element.addEventListener("pointerdown", onDown);
    return () => element.removeEventListener("pointerdown", onDown);
  }, [fromX, toX, isDrawn]);
  return rect;
}

interface MonitorLineProps {
  readonly index: number;
  readonly d: string;
  readonly curve: Curve;
  readonly px: (x: number) => number;
  readonly py: (s: number) => number;
}

/** The line with its dash, and its mark some distance apart. */
function MonitorLine({ index, d, curve, px, py }: MonitorLineProps) {
  const { dash, mark } = strokeOf(index);
  const marks: Place[] = [];
  let lastX = -Infinity;
  for (const run of curve) {
    for (const p of run) {
      // monitors of one time would lie on each other: each begins a little further along
      if (p.s >= LAST_S || px(p.x) - lastX < MARK_GAP_PX + 6 * (index % 5)) continue;
      lastX = px(p.x);
      marks.push(p);
    }
  }
  return (
    <g>
      <path className="trip" d={d} strokeDasharray={dash} />
      {marks.map((p) => (
        <path
          key={p.x}
          className="trip-mark"
          d={mark}
          transform={`translate(${r1(px(p.x))} ${r1(py(p.s))})`}
        />
      ))}
    </g>
  );
}

const MARK_GAP_PX = 64;

interface LateNameProps {
  readonly region: Region;
  readonly px: (x: number) => number;
  readonly bottom: number;
  readonly right: number;
  readonly textPx: number;
}

/** Under the region where damage comes first: whether something clears at all. */
function LateName({ region, px, bottom, right, textPx }: LateNameProps) {
  const [from, to] = [region.lower[0], region.lower.at(-1)];
  if (from === undefined || to === undefined) return null;
  const isNever = region.upper.every((p) => p.s >= LAST_S);
  const middle = 0.5 * (px(from.x) + px(to.x));
  const isAtEnd = middle > right - 3 * textPx;
  return (
    <text
      className="late-name"
      x={isAtEnd ? right - 2 : middle}
      y={bottom - 2 * textPx}
      textAnchor={isAtEnd ? "end" : "middle"}
    >
      {isNever ? "not covered" : "late"}
    </text>
  );
}

interface DamageNamesProps {
  readonly curves: readonly DamageCurve[];
  readonly px: (x: number) => number;
  readonly py: (s: number) => number;
  readonly top: number;
  readonly right: number;
  readonly textPx: number;
}

/** What is hurt, at the end of each curve, no two on one line. */
function DamageNames({ curves, px, py, top, right, textPx }: DamageNamesProps) {
  const taken: number[] = [];
  return curves.map(({ key, part, milestone, curve }) => {
    const end = curve.at(-1)?.at(-1);
    if (end === undefined) return null;
    const start = curve.at(-1)?.[0] ?? end;
    // on the side the curve does not come from
    const isFalling = start.s > end.s;
    let y = py(end.s) + (isFalling ? textPx + 3 : -5);
    for (const other of taken) {
      if (Math.abs(other - y) < textPx + 1) y = other + (isFalling ? textPx + 1 : -textPx - 1);
    }
    y = Math.max(y, top + textPx);
    taken.push(y);
    const damage = { part, milestone, nominalS: null, earlyS: null, lateS: null };
    return (
      <text
        key={key}
        className="damage-name"
        x={Math.min(px(end.x), right) - 4}
        y={y}
        textAnchor="end"
      >
        {damageWords(damage)}
      </text>
    );
  });
}

function Hatch({
  id,
  turnDeg,
  stroke,
}: {
  readonly id: string;
  readonly turnDeg: number;
  readonly stroke: string;
}) {
  return (
    <pattern
      id={id}
      width="6"
      height="6"
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${turnDeg})`}
    >
      <path className={stroke} d="M0 0V6" />
    </pattern>
  );
}

function r1(value: number): number {
  return Math.round(10 * value) / 10;
}

/** 1, 2 and 5 of every decade; more on a short axis. */
function ticksBetween(from: number, to: number): number[] {
  const ticks: number[] = [];
  const figures = to / from > 15 ? [1, 2, 5] : [1, 1.5, 2, 3, 5, 7];
  for (let decade = 10 ** Math.floor(Math.log10(from)); decade <= to; decade *= 10) {
    for (const m of figures) {
      const v = m * decade;
      if (v >= from * 0.999 && v <= to * 1.001) ticks.push(v);
    }
  }
  return ticks;
}
