/** One quantity against another: a title with the unit, lines, and marks where something stands. The words say the same. */
import {
  CartesianGrid,
  Line,
  LineChart,
  ReferenceLine,
  ResponsiveContainer,
  Tooltip,
  XAxis,
  YAxis,
} from "recharts";
import { formatNumber } from "../../../../units/format";
import { niceScale } from "../../../instruments/niceScale";

export interface ChartSeries {
  readonly name: string;
  readonly dashed?: boolean;
  readonly thin?: boolean;
  readonly points: readonly { readonly x: number; readonly y: number | null }[];
}

export interface ChartProps {
  readonly title: string;
  readonly xUnit: string;
  readonly yUnit: string;
  readonly series: readonly ChartSeries[];
  readonly xDomain: readonly [number, number];
  readonly xTicks?: readonly number[];
  /** From zero unless the quantity has none. */
  readonly fromZero?: boolean;
  readonly markX?: { readonly at: number; readonly word: string } | null;
  readonly markY?: { readonly at: number; readonly word: string } | null;
  readonly heightPx?: number;
  readonly label: string;
}

const TICK = { fill: "var(--ink-2)", fontSize: "var(--fs-note)" } as const;
const MARK = { fill: "var(--ink-2)", fontSize: "var(--fs-note)" } as const;

export function Chart(props: ChartProps) {
  const { title, xUnit, yUnit, series, xDomain, xTicks, fromZero = true, label } = props;
  const { markX = null, markY = null, heightPx = 190 } = props;
  const ys = series.flatMap((s) => s.points.flatMap((p) => (p.y === null ? [] : [p.y])));
  const most = Math.max(...ys, markY?.at ?? Number.NEGATIVE_INFINITY);
  const least = fromZero ? 0 : Math.min(...ys, markY?.at ?? Number.POSITIVE_INFINITY);
  const y = niceScale(least, most);
  const x = niceScale(xDomain[0], xDomain[1]);
  const xs = xTicks ?? x.ticks.filter((t) => t >= xDomain[0] && t <= xDomain[1]);
  return (
    <figure className="chart">
      <figcaption>
        {title} <span className="unit">{yUnit}</span>
      </figcaption>
      <div role="img" aria-label={label}>
        <ResponsiveContainer width="100%" height={heightPx}>
          <LineChart margin={{ top: 6, right: 14, bottom: 14, left: 0 }} accessibilityLayer={false}>
            <CartesianGrid stroke="var(--rule)" strokeWidth={0.75} />
            <XAxis
              dataKey="x"
              type="number"
              domain={[...xDomain]}
              allowDataOverflow
              ticks={[...xs]}
              tickFormatter={(v: number) => tickText(v)}
              tick={TICK}
              stroke="var(--ink-3)"
              label={{ value: xUnit, position: "insideBottomRight", offset: -8, ...TICK }}
            />
            <YAxis
              domain={[y.low, y.high]}
              ticks={[...y.ticks]}
              tickFormatter={(v: number) => tickText(v)}
              tick={TICK}
              stroke="var(--ink-3)"
              width={46}
            />
            <Tooltip
              isAnimationActive={false}
              cursor={{ stroke: "var(--edge)" }}
              contentStyle={{
                background: "var(--sheet)",
                border: "1px solid var(--ink)",
                borderRadius: 2,
                color: "var(--ink)",
              }}
              formatter={(v) => (typeof v === "number" ? `${formatNumber(v)} ${yUnit}` : "–")}
              labelFormatter={(v) => (typeof v === "number" ? `${formatNumber(v)} ${xUnit}` : "")}
            />
            {markX !== null && (
              <ReferenceLine
                x={markX.at}
                stroke="var(--edge)"
                strokeDasharray="2 3"
                label={{ value: markX.word, position: "insideTopRight", ...MARK }}
              />
            )}
            {markY !== null && (
              <ReferenceLine
                y={markY.at}
                stroke="var(--ink)"
                strokeWidth={1.75}
                label={{ value: markY.word, position: "insideBottomLeft", ...MARK }}
              />
            )}
            {series.map((s) => (
              <Line
                key={s.name}
                name={s.name}
                data={[...s.points]}
                dataKey="y"
                stroke={s.thin ? "var(--ink-3)" : s.dashed ? "var(--guard)" : "var(--ink)"}
                strokeWidth={s.thin ? 1 : 2}
                {...(s.dashed ? { strokeDasharray: "6 4" } : {})}
                dot={false}
                activeDot={s.thin ? false : { r: 3 }}
                isAnimationActive={false}
              />
            ))}
          </LineChart>
        </ResponsiveContainer>
      </div>
    </figure>
  );
}

/** Short figures on an axis: whole where they can be. */
function tickText(v: number): string {
  const rounded = Number(v.toPrecision(3));
  return String(rounded).replace("-", "\u2212");
}
