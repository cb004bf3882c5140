/** What stands on a coordination sheet's axes: regions, curves with dash and mark, names, crossings, the margin as a dimension. */
import { useCallback, useEffect, useId, useRef } from "react";
import { usePlotArea, useXAxisScale, useYAxisScale } from "recharts";
import type { CoordinationSheet } from "../../../study/coordination/coordinate";
import type { Crossing, SchemeMargin } from "../../../study/coordination/margins";
import { formatTime } from "../../../units/format";
import { boxOf, DamageLetters, DamageNames, damageNames } from "./DamageLabels";
import { type BoxPx, freeBox } from "./letterPlaces";
import { type Curve, clampS, LAST_S, type Place, type Region, type SheetCurves } from "./sheetData";
import { strokeOf } from "./strokes";
import { marginWords } from "./words";

export interface SheetDrawing {
  readonly sheet: CoordinationSheet;
  readonly curves: SheetCurves;
  /** What is read out just now. */
  readonly at: Place | null;
  readonly margin: SchemeMargin | null;
  readonly crossings: readonly Crossing[];
  /** When a person alone would have opened the key. */
  readonly operatorS: number;
  /** A size of its own, such as the part's maintaining voltage. */
  readonly own: { readonly x: number; readonly word: string } | null;
  /** Letters stand for the names of the damage curves. */
  readonly lettered: boolean;
  /** Of figures and words on the sheet. */
  readonly textPx: number;
  readonly onRead: (x: number) => void;
}

/** Sizes of the margin's figure, by that of the other words: see the style sheet. */
const FIGURE_PX = { screen: 28, projector: 40 };

/** Where the figure stands along the dimension, in the order of liking. */
const ALONG = [0.5, 0.7, 0.3, 0.85, 0.15];
/** Between the dimension and its figure. */
const BESIDE_PX = 10;

interface FigureBox extends BoxPx {
  /** Its end beside the dimension. */
  readonly endX: number;
  readonly baselineY: number;
  readonly isLeft: boolean;
}

/** Beside the dimension, clear of other words: on its right while there is room, at the middle before its ends. */
function figurePlace(
  words: string,
  dimension: { readonly x: number; readonly fromY: number; readonly toY: number },
  { plot, textPx, others }: { plot: BoxPx; textPx: number; others: readonly BoxPx[] },
): FigureBox | null {
  const { x, fromY, toY } = dimension;
  const figurePx = textPx > 12 ? FIGURE_PX.projector : FIGURE_PX.screen;
  const sides = x > plot.x + 0.8 * plot.width ? [true, false] : [false, true];
  const tried = sides.flatMap((isLeft) =>
    ALONG.map((share): FigureBox => {
      const endX = x + (isLeft ? -BESIDE_PX : BESIDE_PX);
      const baselineY = fromY + share * (toY - fromY) + textPx;
      const box = boxOf(words, endX, baselineY, figurePx);
      return { ...box, x: isLeft ? endX - box.width : endX, endX, baselineY, isLeft };
    }),
  );
  const inside = tried.filter((box) => box.x >= plot.x && box.x + box.width <= plot.x + plot.width);
  return freeBox(inside.length > 0 ? inside : tried, others);
}

/** Regions, curves, marks and the dimension, on the scales of the axes they stand on. */
export function SheetLayers(props: SheetDrawing) {
  const { curves, at, margin, crossings, own, operatorS, lettered, textPx, onRead } = props;
  const operator = [(1 - OPERATOR_BAND) * operatorS, (1 + OPERATOR_BAND) * operatorS] as const;
  const id = useId();
  const plot = usePlotArea();
  const xScale = useXAxisScale();
  const yScale = useYAxisScale();
  const px = useCallback((x: number): number => Number(xScale?.(x)), [xScale]);
  const py = useCallback((s: number): number => Number(yScale?.(clampS(s))), [yScale]);
  const reads = usePointer(props.sheet.axis, onRead, plot !== undefined);
  if (plot === undefined || xScale === undefined || yScale === undefined) return null;
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
  const operatorWords = `operator, ${formatTime(operator[0], 2)} to ${formatTime(operator[1], 2)}`;
  const operatorY = py(operator[0]) + textPx;
  const operatorBox = boxOf(operatorWords, left + 5, operatorY, textPx);
  const names = lettered
    ? []
    : damageNames({ curves: curves.damage, clearing: curves.clearing, px, py, plot, textPx });
  const dimension =
    at === null || margin === null || clearS === null || hurt === null
      ? null
      : { x: px(at.x), fromY: py(clearS), toY: py(hurt.nominalS ?? LAST_S) };
  const figureWords = margin === null ? "" : marginWords(margin);
  const figure =
    dimension === null
      ? null
      : figurePlace(figureWords, dimension, {
          plot,
          textPx,
          others: [operatorBox, ...names.map((name) => name.box)],
        });
  return (
    <g fontSize={textPx}>
      <defs>
        <clipPath id={`${id}clip`}>
          <rect x={left} y={top} width={width} height={height} />
        </clipPath>
        <Hatch id={`${id}heat`} turnDeg={45} stroke="hatch-heat" />
        <Hatch id={`${id}operator`} turnDeg={-45} stroke="hatch-operator" />
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
        <rect
          x={left}
          y={py(operator[1])}
          width={width}
          height={py(operator[0]) - py(operator[1])}
          fill={`url(#${id}operator)`}
        />
        <path className="actuator-band" d={area(curves.actuatorBand)} />
        {curves.damage.map((d) => (
          <path key={d.key} className={`damage ${d.milestone}`} d={path(d.curve)} />
        ))}
        {curves.monitors.map(({ index, curve }) => (
          <MonitorLine key={index} index={index} d={path(curve)} curve={curve} px={px} py={py} />
        ))}
        <path className="clearing" d={path(curves.clearing)} />
      </g>
      <text className="operator-name" x={left + 5} y={operatorY}>
        {operatorWords}
      </text>
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
      <DamageNames names={names} />
      {at !== null && (
        <g className="cursor">
          <path d={`M${r1(px(at.x))} ${top}V${bottom}`} />
          <path className="cursor-head" d={`M${r1(px(at.x))} ${top}l-6 -9h12z`} />
        </g>
      )}
      {dimension !== null && figure !== null && (
        <g className="dimension">
          <path
            d={`M${r1(dimension.x)} ${r1(dimension.fromY)}V${r1(dimension.toY)}`}
            markerStart={`url(#${id}arrow)`}
            markerEnd={`url(#${id}arrow)`}
          />
          <text
            className="dimension-figure"
            x={figure.endX}
            y={figure.baselineY}
            textAnchor={figure.isLeft ? "end" : "start"}
          >
            {figureWords}
          </text>
        </g>
      )}
      {lettered && (
        <DamageLetters
          curves={curves.damage}
          words={[...(figure === null ? [] : [figure]), operatorBox]}
          {...{ px, py, plot, textPx }}
        />
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
/** People differ by a fifth: 2 to 3 s round 2.5 s, common practice, no source. */
const OPERATOR_BAND = 0.2;

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
