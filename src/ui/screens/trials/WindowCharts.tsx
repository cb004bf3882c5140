/**
 * Why not shorter: false trips an hour on a logarithmic scale, and the time the arc burns until the monitor operates, side by
 * side for each value of one setting and, told apart by their fill, of the other. Every bar has its figure; whiskers are the exact
 * Poisson interval at 95 % of the false trips, a table has it in figures.
 */
import {
  Bar,
  BarChart,
  ErrorBar,
  LabelList,
  ResponsiveContainer,
  useYAxisScale,
  XAxis,
  YAxis,
} from "recharts";
import type { WindowRow, WindowSummary } from "../../../study/trials/windowSummary";
import { windowRows } from "../../../study/trials/windowSummary";
import { formatNumber, formatTime } from "../../../units/format";
import { TableReveal } from "../../instruments/TableReveal";
import { settingWords, valueWords } from "./settingWords";

const TICK = { fill: "var(--ink-2)", fontSize: "var(--fs-note)" } as const;
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

export default function WindowCharts({ summary }: { readonly summary: WindowSummary }) {
  const { x, y } = summary;
  const rows = windowRows(summary);
  const sentence = rows.map((r) => sentenceOf(r, summary)).join("; ");
  const shown = y.values.slice(0, FILLS.length);
  const mostPerHour = Math.max(...rows.map((r) => r.high ?? 0), 10 * NONE_PER_HOUR);
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
          bars={barsOf(summary, rows, (r) =>
            r.falseTripsPerHour === 0 ? NONE_PER_HOUR : r.falseTripsPerHour,
          )}
          words={(v) => (v === NONE_PER_HOUR ? "0" : formatNumber(v, 2))}
          keys={shown.map((_, j) => `y${j}`)}
          mostPerHour={mostPerHour}
          label={`False trips an hour. ${sentence}.`}
        />
        <Bars
          title="The arc burns until it operates"
          unit="ms, half of the strikes sooner"
          across={settingWords(x.path)}
          bars={barsOf(summary, rows, (r) =>
            r.operateMedianS === null ? null : 1e3 * r.operateMedianS,
          )}
          words={(v) => formatNumber(v, 2)}
          keys={shown.map((_, j) => `y${j}`)}
          mostPerHour={null}
          label={`Time until it operates. ${sentence}.`}
        />
      </div>
    </>
  );
}

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

type BarRow = Readonly<Record<string, string | number | null | readonly [number, number]>>;

/**
 * One row for each value of the first setting, with one figure for each of the second: y0, y1, ..., and what the interval adds below
 * and above it: by0, by1, ...
 */
function barsOf(
  { x, y }: WindowSummary,
  rows: readonly WindowRow[],
  value: (row: WindowRow) => number | null,
): readonly BarRow[] {
  return x.values.map((xv) => {
    const entries = y.values.flatMap((yv, j) => {
      const row = rows.find((r) => r.x === xv && r.y === yv);
      const at = row === undefined ? null : value(row);
      const { low = null, high = null } = row ?? {};
      const by =
        at === null || low === null || high === null
          ? null
          : ([Math.max(at - Math.max(low, NONE_PER_HOUR), 0), Math.max(high - at, 0)] as const);
      return [[`y${j}`, at] as const, [`by${j}`, by] as const];
    });
    return { name: valueWords(x.path, xv), ...Object.fromEntries(entries) };
  });
}

interface BarsProps {
  readonly title: string;
  readonly unit: string;
  readonly across: string;
  readonly bars: readonly BarRow[];
  readonly words: (value: number) => string;
  /** Of the figures in a row. */
  readonly keys: readonly string[];
  /** Top of a logarithmic scale of false trips with their intervals; null for times on an even one. */
  readonly mostPerHour: number | null;
  readonly label: string;
}

function Bars({ title, unit, across, bars, words, keys, mostPerHour, label }: BarsProps) {
  const isLog = mostPerHour !== null;
  return (
    <figure className="chart">
      <figcaption>
        {title} <span className="unit">{unit}</span>
      </figcaption>
      <div role="img" aria-label={label}>
        <ResponsiveContainer width="100%" height={250}>
          <BarChart
            data={[...bars]}
            margin={{ top: 22, right: 8, bottom: 14, left: 0 }}
            accessibilityLayer={false}
          >
            <XAxis
              dataKey="name"
              tick={TICK}
              stroke="var(--ink-3)"
              label={{ value: across, position: "insideBottomRight", offset: -8, ...TICK }}
            />
            <YAxis
              {...(isLog
                ? {
                    scale: "log" as const,
                    domain: [0.95 * NONE_PER_HOUR, 1.2 * mostPerHour] as const,
                    allowDataOverflow: true,
                    tick: false,
                  }
                : { tick: TICK })}
              stroke="var(--ink-3)"
              width={isLog ? 10 : 40}
            />
            {keys.map((key, j) => (
              <Bar key={key} dataKey={key} isAnimationActive={false} {...FILLS[j]}>
                {isLog && (
                  <ErrorBar
                    dataKey={`b${key}`}
                    width={7}
                    stroke="var(--heat)"
                    strokeWidth={2}
                    isAnimationActive={false}
                  />
                )}
                <LabelList
                  dataKey={key}
                  content={({ x, width, y, value, index = -1 }) =>
                    typeof value === "number" ? (
                      <Figure
                        x={Number(x) + Number(width) / 2}
                        y={Number(y)}
                        upTo={isLog ? upperOf(bars[index], key, value) : value}
                        words={words(value)}
                      />
                    ) : null
                  }
                />
              </Bar>
            ))}
          </BarChart>
        </ResponsiveContainer>
      </div>
    </figure>
  );
}

/** Upper end of a figure's interval; the figure itself where it has none. */
function upperOf(row: BarRow | undefined, key: string, value: number): number {
  const by = row?.[`b${key}`];
  return Array.isArray(by) ? value + (by[1] as number) : value;
}

interface FigureProps {
  readonly x: number;
  /** Top of the bar, in case the scale is not known yet. */
  readonly y: number;
  /** Over its whisker. */
  readonly upTo: number;
  readonly words: string;
}

function Figure({ x, y, upTo, words }: FigureProps) {
  const scale = useYAxisScale();
  const topY = Number(scale?.(upTo) ?? y);
  return (
    <text x={x} y={topY - 6} textAnchor="middle" {...FIGURE}>
      {words}
    </text>
  );
}
