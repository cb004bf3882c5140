/** Histograms of margin and operate time over the units, on bins of equal ratio. */
import { memo } from "react";
import type { Spread, ToleranceSummary } from "../../../study/trials/toleranceSummary";
import { countOf, dressDigits, formatRatio, formatTime } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { niceScale } from "../../instruments/niceScale";
import { TableReveal } from "../../instruments/TableReveal";
import { useElementSize } from "../../instruments/useElementSize";
import { AXIS, everyHowMany, RULE, TICK_TEXT } from "./chartLooks";

interface Known {
  readonly summary: ToleranceSummary;
}

export const SpreadCharts = memo(function SpreadCharts({ summary }: Known) {
  return (
    <div className="charts">
      <SpreadChart title="Margin" spread={summary.margin} words={formatRatio} />
      <SpreadChart title="Margin, early edge" spread={summary.marginEarly} words={formatRatio} />
      <SpreadChart title="Operate time" spread={summary.operateS} words={formatTime} />
    </div>
  );
});

interface SpreadChartProps {
  readonly title: string;
  readonly spread: Spread;
  readonly words: (value: number) => string;
}

function SpreadChart({ title, spread, words }: SpreadChartProps) {
  const { histogram, units, endless } = spread;
  if (histogram === null) return null;
  const middle = spread.percentiles[3] ?? null;
  const label = `${title} of ${countOf(units, "unit")}: half lie under ${middle === null ? "no finite value" : words(middle)}${endless > 0 ? `, ${endless} without a finite value` : ""}.`;
  return (
    <figure className="chart">
      <div className="chart-head">
        <figcaption>
          {title} <span className="unit">units</span>
        </figcaption>
        <TableReveal label={`${title}: units in each bin`}>
          <BinTable counts={histogram.counts} edges={histogram.edges} words={words} />
        </TableReveal>
      </div>
      <div role="img" aria-label={label}>
        <Histogram counts={histogram.counts} edges={histogram.edges} words={words} />
      </div>
    </figure>
  );
}

interface HistogramProps {
  readonly counts: readonly number[];
  /** One more than counts. */
  readonly edges: readonly number[];
  readonly words: (value: number) => string;
}

function BinTable({ counts, edges, words }: HistogramProps) {
  return (
    <table className="figures">
      <ColumnHeads words={["From", "To", "Units"]} />
      <tbody>
        {counts.map((count, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: as in the drawing
          <tr key={i}>
            <td>{words(edges[i] ?? 0)}</td>
            <td>{words(edges[i + 1] ?? 0)}</td>
            <td>{count}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const HEIGHT_PX = 170;
const LEFT_PX = 46;
const RIGHT_PX = 20;
const TOP_PX = 8;
const FLOOR_PX = HEIGHT_PX - 26;

function Histogram({ counts, edges, words }: HistogramProps) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(360);
  const scale = niceScale(0, Math.max(...counts, 1), 1);
  const y = (count: number): number => FLOOR_PX - (count / scale.high) * (FLOOR_PX - TOP_PX);
  const binPx = Math.max(widthPx - LEFT_PX - RIGHT_PX, 0) / counts.length;
  const x = (edge: number): number => LEFT_PX + edge * binPx;
  const figures = edges.map((edge) => words(edge));
  const every = everyHowMany(figures, binPx);
  return (
    <div ref={ref}>
      <svg width={widthPx} height={HEIGHT_PX} aria-hidden="true">
        {scale.ticks.map((tick) => (
          <g key={tick}>
            <path d={`M${LEFT_PX - 6} ${y(tick)}H${widthPx - RIGHT_PX}`} {...RULE} />
            <text x={LEFT_PX - 8} y={y(tick) + 4} textAnchor="end" {...TICK_TEXT}>
              {dressDigits(String(tick))}
            </text>
          </g>
        ))}
        {counts.map((count, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a bin is told by its place; edges may fall together
          <g key={i}>
            <rect
              x={x(i) + 0.5}
              y={y(count)}
              width={Math.max(binPx - 1, 0.5)}
              height={FLOOR_PX - y(count)}
              fill="var(--guard)"
            />
            {/* the whole column tells, not only its bar */}
            <rect x={x(i)} y={TOP_PX} width={binPx} height={FLOOR_PX - TOP_PX} fill="transparent">
              <title>{`${figures[i]} to ${figures[i + 1]}: ${countOf(count, "unit")}`}</title>
            </rect>
          </g>
        ))}
        <path d={`M${LEFT_PX} ${TOP_PX}V${FLOOR_PX}H${widthPx - RIGHT_PX}`} {...AXIS} />
        {figures.map((text, i) =>
          i % every === 0 ? (
            // biome-ignore lint/suspicious/noArrayIndexKey: as above
            <g key={i}>
              <path d={`M${x(i)} ${FLOOR_PX}v5`} {...AXIS} />
              <text x={x(i)} y={FLOOR_PX + 18} textAnchor="middle" {...TICK_TEXT}>
                {text}
              </text>
            </g>
          ) : null,
        )}
      </svg>
    </div>
  );
}
