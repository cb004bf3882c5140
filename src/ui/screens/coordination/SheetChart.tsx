/**
 * A coordination sheet: time from the first instant against the size of the stress, both logarithmic. Axes and their scales
 * are the chart library's; what stands on them is drawn by `SheetLayers`. The words beside it say the same.
 */
import { createContext, memo, useContext } from "react";
import { CartesianGrid, Line, LineChart, ResponsiveContainer, XAxis, YAxis } from "recharts";
import { formatTime } from "../../../units/format";
import { useElementSize } from "../../instruments/useElementSize";
import { DamageList, isLettered } from "./DamageLabels";
import { type SheetDrawing, SheetLayers } from "./SheetLayers";
import { FIRST_S, LAST_S } from "./sheetData";
import { STRESS_WORDS } from "./words";

export interface SheetChartProps extends Omit<SheetDrawing, "lettered"> {
  readonly label: string;
  readonly heightPx: number;
}

/** Until it is laid out. */
const USUAL_WIDTH_PX = 1000;

const DECADES_S = [1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1, 10, 100];

const LayersContext = createContext<SheetDrawing | null>(null);

export function SheetChart(props: SheetChartProps) {
  const { sheet, curves, label, heightPx, textPx } = props;
  const { ref, widthPx } = useElementSize<HTMLElement>(USUAL_WIDTH_PX);
  const lettered = isLettered(curves.damage, widthPx, textPx);
  return (
    <figure className="sheet-chart" ref={ref}>
      <figcaption>Time from the first instant</figcaption>
      <div role="img" aria-label={label}>
        <LayersContext value={{ ...props, lettered }}>
          <Axes fromX={sheet.axis[0]} toX={sheet.axis[1]} heightPx={heightPx} textPx={textPx} />
        </LayersContext>
      </div>
      <p className="axis-name">{STRESS_WORDS[sheet.stress].axis}</p>
      {lettered && <DamageList curves={curves.damage} />}
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
  return props === null ? null : <SheetLayers {...props} />;
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
