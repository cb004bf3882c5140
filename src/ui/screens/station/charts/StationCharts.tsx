/**
 * Load line, sweep of the drive, circle of constant SWR: charts with a sentence and a table each. Loaded when the screen
 * has its first working point, with the chart library.
 */
import { memo } from "react";
import type { CircleResult, DriveResult, Point } from "../../../../shells/study/protocol";
import type { LinePoint, TubeCurve } from "../../../../study/loadLine";
import { formatNumber, formatPercent, formatQuantity } from "../../../../units/format";
import { TableReveal } from "../../../instruments/TableReveal";
import { useEdit, useStudy } from "../stationContext";
import { circleSummary, driveSummary, gainDb, lineSummary } from "../words";
import { Chart, type ChartSeries } from "./Chart";

function StationCharts() {
  const line = useStudy((s) => s.line);
  const curves = useStudy((s) => s.curves);
  const drive = useStudy((s) => s.drive);
  const circle = useStudy((s) => s.circle);
  const driveW = useStudy((s) => s.sweepDriveW);
  const swr = useStudy((s) => s.swr);
  const ratings = useEdit((s) => s.project.station.ratings);
  return (
    <>
      <LoadLine line={line} curves={curves} />
      <DriveCharts
        rows={drive}
        driveW={driveW}
        ratedGridA={ratings.gridCurrentA}
        ratedPlateA={ratings.plateCurrentA}
      />
      <CircleCharts rows={circle} swr={swr} ratings={ratings} />
    </>
  );
}

/** Nothing of what is typed redraws them, only what was found. */
export default memo(StationCharts);

const LoadLine = memo(function LoadLine({
  line,
  curves,
}: {
  readonly line: readonly LinePoint[];
  readonly curves: readonly TubeCurve[];
}) {
  const summary = lineSummary(line);
  const mostV = Math.max(1, ...line.map((p) => p.plateV));
  const mostA = 1.25 * Math.max(0.01, ...line.map((p) => p.plateA));
  const series: ChartSeries[] = [
    ...curves.map((c) => ({
      name: `at ${formatQuantity(c.gridV, "V")} of grid`,
      thin: true,
      points: c.points.map((p) => ({ x: p.plateV / 1e3, y: p.plateA <= mostA ? p.plateA : null })),
    })),
    { name: "load line", points: line.map((p) => ({ x: p.plateV / 1e3, y: p.plateA })) },
  ];
  const grids = curves.map((c) => formatQuantity(c.gridV, "V", { figures: 2 }));
  return (
    <section aria-labelledby="line-title">
      <div className="zone-head">
        <h3 id="line-title">Load line over the tube's curves</h3>
        <TableReveal label="Load line over one cycle">
          <table className="figures">
            <thead>
              <tr>
                <th scope="col">Angle</th>
                <th scope="col">Plate to cathode</th>
                <th scope="col">Grid to cathode</th>
                <th scope="col">Plate current</th>
                <th scope="col">Grid current</th>
              </tr>
            </thead>
            <tbody>
              {line.map((p) => (
                <tr key={p.angleRad}>
                  <th scope="row">{degrees(p.angleRad)}</th>
                  <td>{formatQuantity(p.plateV, "V")}</td>
                  <td>{formatQuantity(p.gridV, "V")}</td>
                  <td>{formatQuantity(p.plateA, "A")}</td>
                  <td>{formatQuantity(p.gridA, "A")}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableReveal>
      </div>
      <p className="summary">{summary}</p>
      <Chart
        title="Plate current, all tubes"
        xUnit="kV, plate to cathode"
        yUnit="A"
        series={series}
        xDomain={[0, Math.ceil(mostV / 1000)]}
        heightPx={250}
        label={summary}
      />
      {grids.length > 0 && (
        <p className="note">
          Thin curves: grid to cathode from {grids[0]} to {grids.at(-1)} in even steps. Bold: the
          path of one cycle.
        </p>
      )}
    </section>
  );
});

const DriveCharts = memo(function DriveCharts(props: {
  readonly rows: readonly DriveResult[];
  readonly driveW: number;
  readonly ratedGridA: number;
  readonly ratedPlateA: number;
}) {
  const { rows, driveW, ratedGridA, ratedPlateA } = props;
  const summary = driveSummary(rows, driveW, ratedGridA);
  const most = rows.at(-1)?.driveW ?? 1;
  const of = (y: (p: Point) => number): ChartSeries[] => [
    {
      name: "at this drive",
      points: rows.map((r) => ({ x: r.driveW, y: r.point === null ? null : y(r.point) })),
    },
  ];
  const common = {
    xUnit: "W of drive",
    xDomain: [0, 10 * Math.ceil(most / 10)] as const,
    markX: { at: driveW, word: "chosen" },
    heightPx: 170,
  };
  return (
    <section aria-labelledby="drive-title">
      <div className="zone-head">
        <h3 id="drive-title">Against drive</h3>
        <TableReveal label="Working point against drive">
          <table className="figures">
            <thead>
              <tr>
                <th scope="col">Drive</th>
                <PointHeads />
              </tr>
            </thead>
            <tbody>
              {rows.map((r) => (
                <tr key={r.driveW}>
                  <th scope="row">{formatQuantity(r.driveW, "W")}</th>
                  <PointCells point={r.point} />
                </tr>
              ))}
            </tbody>
          </table>
        </TableReveal>
      </div>
      <p className="summary">{summary}</p>
      <div className="charts">
        <Chart
          title="Gain"
          yUnit="dB"
          series={of(gainDb)}
          fromZero={false}
          label={`Gain against drive. ${summary}`}
          {...common}
        />
        <Chart
          title="Plate current"
          yUnit="A"
          series={of((p) => p.plateCurrentA)}
          markY={{ at: ratedPlateA, word: "rating" }}
          label={`Plate current against drive. ${summary}`}
          {...common}
        />
        <Chart
          title="Grid current"
          yUnit="mA"
          series={of((p) => 1e3 * p.gridCurrentA)}
          markY={{ at: 1e3 * ratedGridA, word: "rating" }}
          label={`Grid current against drive. ${summary}`}
          {...common}
        />
        <Chart
          title="Efficiency"
          yUnit="%"
          series={of((p) => 100 * p.efficiency)}
          label={`Efficiency against drive. ${summary}`}
          {...common}
        />
      </div>
    </section>
  );
});

const CircleCharts = memo(function CircleCharts(props: {
  readonly rows: readonly CircleResult[];
  readonly swr: number;
  readonly ratings: { readonly gridCurrentA: number; readonly plateRfPeakV: number };
}) {
  const { rows, swr, ratings } = props;
  const summary = circleSummary(rows, swr);
  const of = (y: (p: Point) => number): ChartSeries[] => {
    const value = (p: Point | null): number | null => (p === null ? null : y(p));
    const closed = rows[0] === undefined ? [] : [...rows, { ...rows[0], phaseRad: 2 * Math.PI }];
    const x = (r: CircleResult): number => (180 * r.phaseRad) / Math.PI;
    return [
      { name: "settings left", points: closed.map((r) => ({ x: x(r), y: value(r.asTuned) })) },
      {
        name: "tuned up",
        dashed: true,
        points: closed.map((r) => ({ x: x(r), y: value(r.retuned) })),
      },
    ];
  };
  const common = {
    xUnit: "° of reflection",
    xDomain: [0, 360] as const,
    xTicks: [0, 90, 180, 270, 360],
    heightPx: 170,
  };
  return (
    <section aria-labelledby="circle-title">
      <div className="zone-head">
        <h3 id="circle-title">Round a circle of SWR {formatNumber(swr)}</h3>
        <TableReveal label={`Working point round SWR ${formatNumber(swr)}`}>
          <table className="figures">
            <thead>
              <tr>
                <th scope="col">Phase</th>
                <th scope="col">Plate load</th>
                <PointHeads />
                <th scope="col">Output, tuned up</th>
                <th scope="col">Grid current, tuned up</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((r) => (
                <tr key={r.phaseRad}>
                  <th scope="row">{degrees(r.phaseRad)}</th>
                  <td>{formatQuantity(r.plateOhm, "Ω")}</td>
                  <PointCells point={r.asTuned} />
                  <td>
                    {r.retuned === null
                      ? "cannot be tuned"
                      : formatQuantity(r.retuned.outputW, "W")}
                  </td>
                  <td>
                    {r.retuned === null
                      ? "cannot be tuned"
                      : formatQuantity(r.retuned.gridCurrentA, "A")}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableReveal>
      </div>
      <p className="summary">{summary}</p>
      <p className="legend-line note">
        <svg width="26" height="8" aria-hidden="true">
          <line x1="0" x2="26" y1="4" y2="4" stroke="var(--ink)" strokeWidth="2" />
        </svg>{" "}
        settings left as they are{" "}
        <svg width="26" height="8" aria-hidden="true">
          <line
            x1="0"
            x2="26"
            y1="4"
            y2="4"
            stroke="var(--guard)"
            strokeWidth="2"
            strokeDasharray="6 4"
          />
        </svg>{" "}
        tuned up at each phase
      </p>
      <div className="charts">
        <Chart
          title="Output"
          yUnit="W"
          series={of((p) => p.outputW)}
          label={`Output round the circle. ${summary}`}
          {...common}
        />
        <Chart
          title="Gain"
          yUnit="dB"
          series={of(gainDb)}
          fromZero={false}
          label={`Gain round the circle. ${summary}`}
          {...common}
        />
        <Chart
          title="Plate RF, peak"
          yUnit="kV"
          series={of((p) => p.plateRfPeakV / 1e3)}
          markY={{ at: ratings.plateRfPeakV / 1e3, word: "rating" }}
          fromZero={false}
          label={`Plate RF round the circle. ${summary}`}
          {...common}
        />
        <Chart
          title="Grid current"
          yUnit="mA"
          series={of((p) => 1e3 * p.gridCurrentA)}
          markY={{ at: 1e3 * ratings.gridCurrentA, word: "rating" }}
          label={`Grid current round the circle. ${summary}`}
          {...common}
        />
      </div>
    </section>
  );
});

function PointHeads() {
  return ["Output", "Gain", "Plate current", "Grid current", "Plate RF, peak", "Efficiency"].map(
    (name) => (
      <th key={name} scope="col">
        {name}
      </th>
    ),
  );
}

function PointCells({ point }: { readonly point: Point | null }) {
  if (point === null) return <td colSpan={6}>no settled point</td>;
  return (
    <>
      <td>{formatQuantity(point.outputW, "W")}</td>
      <td>{gainDb(point).toFixed(1)}&nbsp;dB</td>
      <td>{formatQuantity(point.plateCurrentA, "A")}</td>
      <td>{formatQuantity(point.gridCurrentA, "A")}</td>
      <td>{formatQuantity(point.plateRfPeakV, "V")}</td>
      <td>{formatPercent(point.efficiency)}</td>
    </>
  );
}

function degrees(rad: number): string {
  return `${((180 * rad) / Math.PI).toFixed(0)}°`;
}
