/**
 * Why not shorter: false trips an hour on a logarithmic scale, and the time the arc burns until the monitor operates, side by
 * side for each value of one setting and, hatched by their order, of the other. Every bar has its figure.
 */
import { Bar, BarChart, LabelList, ResponsiveContainer, XAxis, YAxis } from "recharts";
import type { WindowRow, WindowSummary } from "../../../study/trials/windowSummary";
import { windowRows } from "../../../study/trials/windowSummary";
import { formatNumber, formatTime } from "../../../units/format";
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
  return (
    <>
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
          isLog
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
          isLog={false}
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
      : `${formatNumber(r.falseTripsPerHour, 2)} false trips an hour`;
  const operates =
    r.operateMedianS === null ? "not operated" : `operates after ${formatTime(r.operateMedianS)}`;
  return `${settingWords(x.path)} ${valueWords(x.path, r.x)}, ${settingWords(y.path)} ${valueWords(y.path, r.y)}: ${trips}, ${operates}`;
}

type BarRow = Readonly<Record<string, string | number | null>>;

/** One row for each value of the first setting, with one figure for each of the second: y0, y1, ... */
function barsOf(
  { x, y }: WindowSummary,
  rows: readonly WindowRow[],
  value: (row: WindowRow) => number | null,
): readonly BarRow[] {
  return x.values.map((xv) => {
    const entries = y.values.map((yv, j) => {
      const row = rows.find((r) => r.x === xv && r.y === yv);
      return [`y${j}`, row === undefined ? null : value(row)] as const;
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
  readonly isLog: boolean;
  readonly label: string;
}

function Bars({ title, unit, across, bars, words, keys, isLog, label }: BarsProps) {
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
                    domain: [0.95 * NONE_PER_HOUR, "auto"] as const,
                    tick: false,
                  }
                : { tick: TICK })}
              stroke="var(--ink-3)"
              width={isLog ? 10 : 40}
            />
            {keys.map((key, j) => (
              <Bar key={key} dataKey={key} isAnimationActive={false} {...FILLS[j]}>
                <LabelList
                  dataKey={key}
                  position="top"
                  formatter={(v) => (typeof v === "number" ? words(v) : "")}
                  {...FIGURE}
                />
              </Bar>
            ))}
          </BarChart>
        </ResponsiveContainer>
      </div>
    </figure>
  );
}
