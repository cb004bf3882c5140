/** One quantity of a finished race, this run beside the run left alone, on the race's time axis. Loaded when first opened. */
import { useMemo, useState } from "react";
import {
  CartesianGrid,
  Legend,
  Line,
  LineChart,
  ReferenceLine,
  ResponsiveContainer,
  Tooltip,
  XAxis,
  YAxis,
} from "recharts";
import type { RaceReport, TrackPoints } from "../../../shells/bench/protocol";
import { CHANNEL_COUNT, CHANNELS, type ChannelName } from "../../../simulation/channels";
import { formatNumber, formatQuantity, formatTime, quantityParts } from "../../../units/format";
import { PREFIXES } from "../../../units/prefixes";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { shownQuantity } from "../../instruments/shownQuantity";
import { Sheet } from "./Sheet";

const SHOWN: readonly { readonly name: ChannelName; readonly words: string }[] = [
  { name: "plateCurrentA", words: "Plate current" },
  { name: "gridCurrentA", words: "Grid current" },
  { name: "outputW", words: "Output" },
  { name: "reflectedW", words: "Reflected power" },
  { name: "plateRfPeakV", words: "Plate RF, peak" },
  { name: "plateV", words: "Plate voltage" },
  { name: "plateDissipationW", words: "Plate dissipation" },
  { name: "arcW", words: "Arc power" },
  { name: "edgeK", words: "Plate edge temperature" },
];

interface Point {
  readonly tS: number;
  readonly run: number | null;
  readonly alone: number | null;
}

function valueAt(points: TrackPoints, sinceNs: number, channel: number): number | null {
  const k = points.sinceNs.indexOf(sinceNs);
  return k < 0 ? null : (points.rows[k * CHANNEL_COUNT + channel] as number);
}

/** Both runs on the union of their instants. */
function pointsOf(report: RaceReport, channel: number): readonly Point[] {
  const instants = [...new Set([...report.acting.sinceNs, ...report.alone.sinceNs])].sort(
    (a, b) => a - b,
  );
  return instants.map((ns) => ({
    tS: ns / 1e9,
    run: valueAt(report.acting, ns, channel),
    alone: valueAt(report.alone, ns, channel),
  }));
}

const DECADES = [1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1, 10];

export default function FrozenEvent({
  report,
  onClose,
}: {
  readonly report: RaceReport;
  readonly onClose: () => void;
}) {
  const [index, setIndex] = useState(0);
  const shown = SHOWN[index] ?? (SHOWN[0] as (typeof SHOWN)[number]);
  const channel = CHANNELS.findIndex((c) => c.name === shown.name);
  const unit = CHANNELS[channel]?.unit ?? "";
  const data = useMemo(() => pointsOf(report, channel), [report, channel]);
  // one prefix for the whole axis
  const largest = Math.max(...data.flatMap((p) => [Math.abs(p.run ?? 0), Math.abs(p.alone ?? 0)]));
  const largestUnit = quantityParts(largest, unit).unit;
  const prefix = PREFIXES.find((p) => `${p.prefix}${unit}` === largestUnit)?.prefix ?? "";
  const clearingS = report.race.clearingS;
  const format = (v: unknown): string => (typeof v === "number" ? formatQuantity(v, unit) : "–");
  return (
    <Sheet title="Frozen event" onClose={onClose} wide>
      <label className="frozen-choice">
        <span>Quantity</span>
        <select value={index} onChange={(e) => setIndex(Number(e.currentTarget.value))}>
          {SHOWN.map((s, i) => (
            <option key={s.name} value={i}>
              {s.words}
            </option>
          ))}
        </select>
      </label>
      <p className="note">
        {shown.words} from the strike, this run and the same fault left alone; logarithmic time.
        {clearingS === null ? "" : ` Cleared after ${formatTime(clearingS)}.`}
      </p>
      <div className="frozen-chart">
        <ResponsiveContainer width="100%" height={320}>
          <LineChart data={[...data]} margin={{ top: 8, right: 16, bottom: 8, left: 24 }}>
            <CartesianGrid stroke="var(--rule)" />
            <XAxis
              dataKey="tS"
              type="number"
              scale="log"
              domain={[5e-8, 10]}
              ticks={DECADES}
              tickFormatter={(v: number) => formatTime(v, 1)}
              stroke="var(--ink-2)"
            />
            <YAxis
              tickFormatter={(v: number) =>
                unit === "" ? formatNumber(v) : shownQuantity(v, unit, { figures: 2, prefix })
              }
              stroke="var(--ink-2)"
              width={72}
            />
            <Tooltip
              isAnimationActive={false}
              contentStyle={{ background: "var(--sheet)", borderColor: "var(--ink)" }}
              itemStyle={{ color: "var(--ink)" }}
              formatter={(v) => format(v)}
              labelFormatter={(v) => (typeof v === "number" ? formatTime(v) : "")}
            />
            <Legend />
            {clearingS !== null && (
              <ReferenceLine
                x={clearingS}
                stroke="var(--guard)"
                label={{ value: "cleared", position: "insideTopLeft", fill: "var(--ink)" }}
              />
            )}
            <Line
              name="left alone"
              dataKey="alone"
              stroke="var(--heat)"
              strokeDasharray="5 4"
              dot={false}
              isAnimationActive={false}
              connectNulls
            />
            <Line
              name="this run"
              dataKey="run"
              stroke="var(--ink)"
              strokeWidth={1.75}
              dot={false}
              isAnimationActive={false}
              connectNulls
            />
          </LineChart>
        </ResponsiveContainer>
      </div>
      <details>
        <summary>Table</summary>
        <table>
          <ColumnHeads words={["From the strike", "This run", "Left alone"]} />
          <tbody>
            {data
              .filter((_, i) => i % 6 === 0)
              .map((p) => (
                <tr key={p.tS}>
                  <th scope="row">{formatTime(p.tS)}</th>
                  <td>{format(p.run)}</td>
                  <td>{format(p.alone)}</td>
                </tr>
              ))}
          </tbody>
        </table>
      </details>
    </Sheet>
  );
}
