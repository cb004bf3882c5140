/** Histograms of margin and operate time over the units, on bins of equal ratio. */
import { Bar, BarChart, CartesianGrid, ResponsiveContainer, Tooltip, XAxis, YAxis } from "recharts";
import type { Spread, ToleranceSummary } from "../../../study/trials/toleranceSummary";
import { countOf, formatRatio, formatTime } from "../../../units/format";

const TICK = { fill: "var(--ink-2)", fontSize: "var(--fs-note)" } as const;

export default function SpreadCharts({ summary }: { readonly summary: ToleranceSummary }) {
  return (
    <div className="charts">
      <SpreadChart title="Margin" spread={summary.margin} words={formatRatio} />
      <SpreadChart title="Margin, early edge" spread={summary.marginEarly} words={formatRatio} />
      <SpreadChart title="Operate time" spread={summary.operateS} words={formatTime} />
    </div>
  );
}

interface SpreadChartProps {
  readonly title: string;
  readonly spread: Spread;
  readonly words: (value: number) => string;
}

function SpreadChart({ title, spread, words }: SpreadChartProps) {
  const { histogram, units, endless } = spread;
  if (histogram === null) return null;
  const bars = histogram.counts.map((count, i) => ({
    from: words(histogram.edges[i] ?? 0),
    to: words(histogram.edges[i + 1] ?? 0),
    count,
  }));
  const middle = spread.percentiles[3] ?? null;
  const label = `${title} of ${countOf(units, "unit")}: half lie under ${middle === null ? "no finite value" : words(middle)}${endless > 0 ? `, ${endless} without a finite value` : ""}.`;
  return (
    <figure className="chart">
      <figcaption>
        {title} <span className="unit">units</span>
      </figcaption>
      <div role="img" aria-label={label}>
        <ResponsiveContainer width="100%" height={170}>
          <BarChart
            data={bars}
            margin={{ top: 6, right: 14, bottom: 4, left: 0 }}
            accessibilityLayer={false}
            barCategoryGap={1}
          >
            <CartesianGrid stroke="var(--rule)" strokeWidth={0.75} vertical={false} />
            <XAxis dataKey="from" tick={TICK} stroke="var(--ink-3)" minTickGap={18} />
            <YAxis tick={TICK} stroke="var(--ink-3)" width={46} allowDecimals={false} />
            <Tooltip
              isAnimationActive={false}
              cursor={{ fill: "var(--ahead)" }}
              contentStyle={{
                background: "var(--sheet)",
                border: "1px solid var(--ink)",
                borderRadius: 2,
                color: "var(--ink)",
              }}
              labelFormatter={(_, rows) => {
                const bar = rows[0]?.payload as (typeof bars)[number] | undefined;
                return bar === undefined ? "" : `${bar.from} to ${bar.to}`;
              }}
            />
            <Bar dataKey="count" name="units" fill="var(--guard)" isAnimationActive={false} />
          </BarChart>
        </ResponsiveContainer>
      </div>
    </figure>
  );
}
