/**
 * Why not shorter: false trips an hour on a logarithmic scale, and the time the arc burns until the monitor operates, side by
 * side for each value of one setting and, told apart by their fill, of the other. Every bar has its figure; whiskers are the exact
 * Poisson interval at 95 % of the false trips, a table has it in figures.
 */
import { memo } from "react";
import type { WindowRow, WindowSummary } from "../../../study/trials/windowSummary";
import { windowRows } from "../../../study/trials/windowSummary";
import { formatNumber, formatTime } from "../../../units/format";
import { niceScale } from "../../instruments/niceScale";
import { TableReveal } from "../../instruments/TableReveal";
import { useElementSize } from "../../instruments/useElementSize";
import { AXIS, everyHowMany, TICK_TEXT, widestPx } from "./chartLooks";
import { settingWords, valueWords } from "./settingWords";

const FIGURE = { fill: "var(--ink)", fontSize: "var(--fs-label)", fontWeight: 640 } as const;
/** Fills by the order of the second setting's values: solid, outlined, then lighter. */
const FILLS = [
  { fill: "var(--ink)" },
  { fill: "var(--guard-soft)", stroke: "var(--guard)", strokeWidth: 2 },
  { fill: "var(--sheet)", stroke: "var(--ink)", strokeWidth: 2 },
  { fill: "var(--sheet)", stroke: "var(--ink)", strokeWidth: 2, strokeDasharray: "4 3" },
  { fill: "var(--heat-soft)", stroke: "var(--heat)", strokeWidth: 2 },
] as const;
/** A count of none stands on the floor of the logarithmic scale, under one trip in a hundred hours. */
const NONE_PER_HOUR = 0.009;

interface Known {
  readonly summary: WindowSummary;
}

export const WindowCharts = memo(function WindowCharts({ summary }: Known) {
  const { x, y } = summary;
  const rows = windowRows(summary);
  const sentence = rows.map((r) => sentenceOf(r, summary)).join("; ");
  const shown = y.values.slice(0, FILLS.length);
  return (
    <>
      <div className="chart-head">
        <span className="note">Whiskers: 95 % interval, if trips came independently.</span>
        <TableReveal label="False trips an hour with their intervals, and operate times">
          <RowsTable rows={rows} summary={summary} />
        </TableReveal>
      </div>
      <ul className="legend window-legend">
        {shown.map((yv, j) => (
          <li key={yv} className="legend-item">
            <svg width="22" height="12" aria-hidden="true">
              <rect x="1" y="1" width="20" height="10" {...FILLS[j]} />
            </svg>
            {settingWords(y.path)} {valueWords(y.path, yv)}
          </li>
        ))}
      </ul>
      {shown.length < y.values.length && (
        <p className="note">
          Drawn for {shown.length} of {y.values.length} values; the table below has all.
        </p>
      )}
      <div className="charts window-charts">
        <Bars
          title="False trips"
          unit="an hour, on a scale of tenfold steps"
          across={settingWords(x.path)}
          groups={groupsOf(summary, rows, shown, (r) => ({
            value: r.falseTripsPerHour,
            interval: r.low === null || r.high === null ? null : [r.low, r.high],
          }))}
          scale={tenfoldScale(Math.max(...rows.map((r) => r.high ?? 0), 10 * NONE_PER_HOUR))}
          label={`False trips an hour. ${sentence}.`}
        />
        <Bars
          title="The arc burns until it operates"
          unit="ms, half of the strikes sooner"
          across={settingWords(x.path)}
          groups={groupsOf(summary, rows, shown, (r) => ({
            value: r.operateMedianS === null ? null : 1e3 * r.operateMedianS,
            interval: null,
          }))}
          scale={evenScale(Math.max(...rows.map((r) => 1e3 * (r.operateMedianS ?? 0))))}
          label={`Time until it operates. ${sentence}.`}
        />
      </div>
    </>
  );
});

function sentenceOf(r: WindowRow, { x, y }: WindowSummary): string {
  const trips =
    r.falseTripsPerHour === null
      ? "no use yet"
      : `${rateWords(r.falseTripsPerHour)} false trips an hour (95 %: ${intervalWords(r)})`;
  const operates =
    r.operateMedianS === null ? "not operated" : `operates after ${formatTime(r.operateMedianS)}`;
  return `${settingWords(x.path)} ${valueWords(x.path, r.x)}, ${settingWords(y.path)} ${valueWords(y.path, r.y)}: ${trips}, ${operates}`;
}

function rateWords(perHour: number | null): string {
  if (perHour === null) return "none";
  return perHour === 0 ? "0" : formatNumber(perHour, 2);
}

function intervalWords({ low, high }: WindowRow): string {
  return low === null ? "none" : `${rateWords(low)} to ${rateWords(high)}`;
}

function RowsTable({
  rows,
  summary: { x, y },
}: {
  readonly rows: readonly WindowRow[];
  readonly summary: WindowSummary;
}) {
  const time = (s: number | null): string => (s === null ? "not operated" : formatTime(s));
  return (
    <table className="figures">
      <thead>
        <tr>
          <th scope="col">{settingWords(x.path)}</th>
          <th scope="col">{settingWords(y.path)}</th>
          <th scope="col">False trips an hour</th>
          <th scope="col">95 %</th>
          <th scope="col">Half operate by</th>
          <th scope="col">95 % by</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((r) => (
          <tr key={`${r.x} ${r.y}`}>
            <th scope="row">{valueWords(x.path, r.x)}</th>
            <td>{valueWords(y.path, r.y)}</td>
            <td>{rateWords(r.falseTripsPerHour)}</td>
            <td>{intervalWords(r)}</td>
            <td>{time(r.operateMedianS)}</td>
            <td>{time(r.operate95S)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

interface BarFigure {
  /** Null where nothing is known. */
  readonly value: number | null;
  readonly interval: readonly [number, number] | null;
}

/** One group for each value of the first setting, in it a bar for each of the second. */
interface BarGroup {
  readonly x: number;
  readonly name: string;
  readonly bars: readonly BarFigure[];
}

function groupsOf(
  { x }: WindowSummary,
  rows: readonly WindowRow[],
  shown: readonly number[],
  figure: (row: WindowRow) => BarFigure,
): readonly BarGroup[] {
  return x.values.map((xv) => ({
    x: xv,
    name: valueWords(x.path, xv),
    bars: shown.map((yv) => {
      const row = rows.find((r) => r.x === xv && r.y === yv);
      return row === undefined ? { value: null, interval: null } : figure(row);
    }),
  }));
}

/** Shares of the height, from the floor. */
interface BarScale {
  readonly shareOf: (value: number) => number;
  readonly ticks: readonly number[];
}

/** Logarithmic, without figures of its own: each bar has one. What is less than can be seen stands on the floor. */
function tenfoldScale(most: number): BarScale {
  const floor = Math.log10(0.95 * NONE_PER_HOUR);
  const top = Math.log10(1.2 * most);
  const shareOf = (v: number) => (Math.log10(Math.max(v, NONE_PER_HOUR)) - floor) / (top - floor);
  return { shareOf, ticks: [] };
}

function evenScale(most: number): BarScale {
  const { high, ticks } = niceScale(0, most);
  return { shareOf: (v) => v / high, ticks };
}

interface BarsProps {
  readonly title: string;
  readonly unit: string;
  readonly across: string;
  readonly groups: readonly BarGroup[];
  readonly scale: BarScale;
  readonly label: string;
}

const HEIGHT_PX = 250;
/** Over the highest bar: its figure, lying or upright. */
const TOP_PX = 22;
const TOP_UPRIGHT_PX = 46;
const FLOOR_PX = HEIGHT_PX - 44;
const RIGHT_PX = 8;
/** Free of each group's width, and between its bars. */
const BETWEEN_GROUPS = 0.2;
const BETWEEN_BARS_PX = 4;
const WHISKER_PX = 7;

function Bars({ title, unit, across, groups, scale, label }: BarsProps) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(520);
  const leftPx = scale.ticks.length === 0 ? 10 : 40;
  const groupPx = Math.max(widthPx - leftPx - RIGHT_PX, 0) / groups.length;
  const count = groups[0]?.bars.length ?? 0;
  const barPx = Math.max(
    ((1 - BETWEEN_GROUPS) * groupPx - (count - 1) * BETWEEN_BARS_PX) / count,
    1,
  );
  const figures = groups.flatMap(({ bars }) => bars.map(figureOf));
  const isUpright = widestPx(figures) > barPx + BETWEEN_BARS_PX;
  const names = groups.map(({ name }) => name);
  const every = everyHowMany(names, groupPx);
  const topPx = isUpright ? TOP_UPRIGHT_PX : TOP_PX;
  const y = (value: number): number => FLOOR_PX - scale.shareOf(value) * (FLOOR_PX - topPx);
  const barX = (group: number, bar: number): number =>
    leftPx + (group + BETWEEN_GROUPS / 2) * groupPx + bar * (barPx + BETWEEN_BARS_PX);
  return (
    <figure className="chart">
      <figcaption>
        {title} <span className="unit">{unit}</span>
      </figcaption>
      <div role="img" aria-label={label} ref={ref}>
        <svg width={widthPx} height={HEIGHT_PX} aria-hidden="true">
          {scale.ticks.map((tick) => (
            <g key={tick}>
              <path d={`M${leftPx - 6} ${y(tick)}h6`} {...AXIS} />
              <text x={leftPx - 8} y={y(tick) + 4} textAnchor="end" {...TICK_TEXT}>
                {tickWords(tick)}
              </text>
            </g>
          ))}
          {groups.map(({ x, name, bars }, i) => (
            <g key={x}>
              {bars.map((bar, j) => (
                <OneBar
                  // biome-ignore lint/suspicious/noArrayIndexKey: a bar is told by the place of its setting
                  key={j}
                  bar={bar}
                  look={FILLS[j]}
                  x={barX(i, j)}
                  widthPx={barPx}
                  y={y}
                  isUpright={isUpright}
                />
              ))}
              <path d={`M${leftPx + (i + 0.5) * groupPx} ${FLOOR_PX}v5`} {...AXIS} />
              {i % every === 0 && (
                <text
                  x={leftPx + (i + 0.5) * groupPx}
                  y={FLOOR_PX + 18}
                  textAnchor="middle"
                  {...TICK_TEXT}
                >
                  {name}
                </text>
              )}
            </g>
          ))}
          <path d={`M${leftPx} ${topPx}V${FLOOR_PX}H${widthPx - RIGHT_PX}`} {...AXIS} />
          <text x={widthPx - RIGHT_PX} y={HEIGHT_PX - 4} textAnchor="end" {...TICK_TEXT}>
            {across}
          </text>
        </svg>
      </div>
    </figure>
  );
}

function figureOf({ value }: BarFigure): string {
  if (value === null) return "";
  return value === 0 ? "0" : formatNumber(value, 2);
}

function tickWords(tick: number): string {
  return String(Number(tick.toPrecision(3)));
}

interface OneBarProps {
  readonly bar: BarFigure;
  readonly look: (typeof FILLS)[number] | undefined;
  readonly x: number;
  readonly widthPx: number;
  readonly y: (value: number) => number;
  readonly isUpright: boolean;
}

/** Its figure stands over its whisker. */
function OneBar({ bar, look, x, widthPx, y, isUpright }: OneBarProps) {
  const { value, interval } = bar;
  if (value === null) return null;
  const topY = y(value);
  const middleX = x + widthPx / 2;
  const figureY = (interval === null ? topY : y(interval[1])) - 6;
  const whiskerPx = Math.min(WHISKER_PX, widthPx / 2);
  return (
    <>
      <rect x={x} y={topY} width={widthPx} height={Math.max(FLOOR_PX - topY, 0)} {...look} />
      {interval !== null && (
        <path
          d={`M${middleX} ${y(interval[0])}V${y(interval[1])}M${middleX - whiskerPx} ${y(interval[0])}h${2 * whiskerPx}M${middleX - whiskerPx} ${y(interval[1])}h${2 * whiskerPx}`}
          stroke="var(--heat)"
          strokeWidth={2}
          fill="none"
        />
      )}
      <text
        {...FIGURE}
        {...(isUpright
          ? { transform: `translate(${middleX + 4} ${figureY}) rotate(-90)` }
          : { x: middleX, y: figureY, textAnchor: "middle" })}
      >
        {figureOf(bar)}
      </text>
    </>
  );
}
