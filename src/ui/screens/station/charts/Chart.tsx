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
              {...(xTicks === undefined ? {} : { ticks: [...xTicks] })}
              tickFormatter={(v: number) => tickText(v)}
              tick={TICK}
              stroke="var(--ink-3)"
              label={{ value: xUnit, position: "insideBottomRight", offset: -10, ...TICK }}
            />
            <YAxis
              domain={niceDomain(least, most)}
              tickCount={5}
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
                label={{ value: markX.word, position: "insideTopLeft", ...MARK }}
              />
            )}
            {markY !== null && (
              <ReferenceLine
                y={markY.at}
                stroke="var(--ink)"
                strokeWidth={1.75}
                label={{ value: markY.word, position: "insideBottomRight", ...MARK }}
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

/** Ends on round figures, so that the scale does not breathe with every keystroke. */
function niceDomain(least: number, most: number): [number, number] {
  if (!(most > least)) return [least, least + 1];
  const span = most - least;
  let step = 1;
  while (step > span / 4) step /= 10;
  while (step * 10 <= span / 4) step *= 10;
  const fit = [1, 2, 2.5, 5, 10].find((m) => m * step * 4 >= span) ?? 10;
  const by = fit * step;
  return [Math.floor(least / by) * by, Math.ceil(most / by) * by];
}
