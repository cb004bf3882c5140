/**
 * Load line, sweep of the drive, circle of constant SWR: charts with a sentence and a table each. Loaded when the screen
 * has its first working point, with the chart library.
 */
import { memo } from "react";
import type { CircleResult, DriveResult, Point } from "../../../../shells/study/protocol";
import type { LinePoint, TubeCurve } from "../../../../study/loadLine";
import { formatNumber, formatPercent, formatQuantity } from "../../../../units/format";
import { useEdit, useStudy } from "../stationContext";
import { circleSummary, driveSummary, gainDb, lineSummary } from "../words";
import { Chart, type ChartSeries } from "./Chart";
import { SmallCharts, StudySection } from "./StudySection";

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
    <StudySection
      title="Load line over the tube's curves"
      tableLabel="Load line over one cycle"
      heads={["Angle", "Plate to cathode", "Grid to cathode", "Plate current", "Grid current"]}
      rows={line.map((p) => ({
        key: p.angleRad,
        name: degrees(p.angleRad),
        cells: (
          <>
            <td>{formatQuantity(p.plateV, "V")}</td>
            <td>{formatQuantity(p.gridV, "V")}</td>
            <td>{formatQuantity(p.plateA, "A")}</td>
            <td>{formatQuantity(p.gridA, "A")}</td>
          </>
        ),
      }))}
      summary={summary}
    >
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
    </StudySection>
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
    <StudySection
      title="Against drive"
      tableLabel="Working point against drive"
      heads={["Drive", ...POINT_HEADS]}
      rows={rows.map((r) => ({
        key: r.driveW,
        name: formatQuantity(r.driveW, "W"),
        cells: <PointCells point={r.point} />,
      }))}
      summary={summary}
    >
      <SmallCharts
        common={common}
        against={`against drive. ${summary}`}
        charts={[
          { title: "Gain", yUnit: "dB", series: of(gainDb), fromZero: false },
          {
            title: "Plate current",
            yUnit: "A",
            series: of((p) => p.plateCurrentA),
            markY: { at: ratedPlateA, word: "rating" },
          },
          {
            title: "Grid current",
            yUnit: "mA",
            series: of((p) => 1e3 * p.gridCurrentA),
            markY: { at: 1e3 * ratedGridA, word: "rating" },
          },
          { title: "Efficiency", yUnit: "%", series: of((p) => 100 * p.efficiency) },
        ]}
      />
    </StudySection>
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
    <StudySection
      title={`Round a circle of SWR ${formatNumber(swr)}`}
      tableLabel={`Working point round SWR ${formatNumber(swr)}`}
      heads={["Phase", "Plate load", ...POINT_HEADS, "Output, tuned up", "Grid current, tuned up"]}
      rows={rows.map((r) => ({
        key: r.phaseRad,
        name: degrees(r.phaseRad),
        cells: (
          <>
            <td>{formatQuantity(r.plateOhm, "Ω")}</td>
            <PointCells point={r.asTuned} />
            <td>{tunedUp(r, (p) => formatQuantity(p.outputW, "W"))}</td>
            <td>{tunedUp(r, (p) => formatQuantity(p.gridCurrentA, "A"))}</td>
          </>
        ),
      }))}
      summary={summary}
      legend={<CircleLegend />}
    >
      <SmallCharts
        common={common}
        against={`round the circle. ${summary}`}
        charts={[
          { title: "Output", yUnit: "W", series: of((p) => p.outputW) },
          { title: "Gain", yUnit: "dB", series: of(gainDb), fromZero: false },
          {
            title: "Plate RF, peak",
            yUnit: "kV",
            series: of((p) => p.plateRfPeakV / 1e3),
            markY: { at: ratings.plateRfPeakV / 1e3, word: "rating" },
            fromZero: false,
          },
          {
            title: "Grid current",
            yUnit: "mA",
            series: of((p) => 1e3 * p.gridCurrentA),
            markY: { at: 1e3 * ratings.gridCurrentA, word: "rating" },
          },
        ]}
      />
    </StudySection>
  );
});

function tunedUp({ retuned }: CircleResult, words: (point: Point) => string): string {
  return retuned === null ? "cannot be tuned" : words(retuned);
}

function CircleLegend() {
  return (
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
  );
}

const POINT_HEADS = [
  "Output",
  "Gain",
  "Plate current",
  "Grid current",
  "Plate RF, peak",
  "Efficiency",
] as const;

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
