/** Why not shorter: false trips an hour, and the time the arc burns until the monitor operates, over one setting for each value of the other. */
import { type WindowSummary, windowRows } from "../../../study/trials/windowSummary";
import { formatNumber, formatTime } from "../../../units/format";
import { Chart, type ChartSeries } from "../station/charts/Chart";
import { settingWords, valueWords } from "./settingWords";

export default function WindowCharts({ summary }: { readonly summary: WindowSummary }) {
  const { x, y } = summary;
  const rows = windowRows(summary);
  const isTime = /confirmation|smoothing|scan/.test(x.path);
  const scale = isTime ? 1e3 : 1;
  const xs = x.values.map((v) => v * scale);
  const xDomain = [Math.min(...xs), Math.max(...xs)] as const;
  const lines = (value: (row: (typeof rows)[number]) => number | null): readonly ChartSeries[] =>
    y.values.map((yv, j) => ({
      name: valueWords(y.path, yv),
      dashed: j > 0,
      points: rows
        .filter((r) => r.y === yv)
        .map((r) => ({ x: r.x * scale, y: value(r) }))
        .sort((a, b) => a.x - b.x),
    }));
  const ends = [rows[0], rows.at(-1)];
  const sentence = ends
    .map((r) =>
      r === undefined
        ? ""
        : `${valueWords(x.path, r.x)} of ${settingWords(x.path)} with ${valueWords(y.path, r.y)} of ${settingWords(y.path)}: ${r.falseTripsPerHour === null ? "no use" : `${formatNumber(r.falseTripsPerHour, 2)} false trips an hour`}, ${r.operateMedianS === null ? "not operated" : `operates after ${formatTime(r.operateMedianS)}`}`,
    )
    .join("; ");
  const common = {
    xUnit: `${isTime ? "ms" : "dB"}, ${settingWords(x.path)}`,
    xDomain,
    xTicks: xs,
    heightPx: 220,
  };
  return (
    <>
      <p className="note">
        Solid: {valueWords(y.path, y.values[0] ?? 0)} of {settingWords(y.path)}
        {y.values.length > 1 &&
          `; dashed: ${y.values
            .slice(1)
            .map((v) => valueWords(y.path, v))
            .join(", ")}`}
      </p>
      <div className="charts window-charts">
        <Chart
          {...common}
          title="False trips"
          yUnit="an hour"
          series={lines((r) => r.falseTripsPerHour)}
          label={`False trips an hour. ${sentence}.`}
        />
        <Chart
          {...common}
          title="The arc burns before it operates"
          yUnit="ms"
          series={lines((r) => (r.operateMedianS === null ? null : 1e3 * r.operateMedianS))}
          label={`Operate time. ${sentence}.`}
        />
      </div>
    </>
  );
}
