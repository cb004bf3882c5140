/**
 * Window sweep: each point of two settings with its false trips an hour and the margin it leaves; points that no other beats
 * are marked. A point is chosen, told in full, and applied to the bench only by the press of a button.
 */

import { useDeferredValue, useState } from "react";
import { settingsAsTold } from "../../../state/playbackState";
import { applySettings } from "../../../study/trials/windowPaths";
import type { WindowPoint, WindowSummary } from "../../../study/trials/windowSummary";
import { countOf, formatNumber, formatRatio, formatTime } from "../../../units/format";
import { usePlayback } from "../bench/benchContext";
import { upperFirst } from "../bench/views/words";
import { AdvicePart } from "./AdvicePart";
import { ApplyButton } from "./ApplyButton";
import { Facts } from "./Facts";
import { settingWords, sweptFaultWords, valueWords } from "./settingWords";
import { useTrial } from "./trialsContext";
import { WideTable } from "./WideTable";
import { WindowCharts } from "./WindowCharts";

export function WindowResult() {
  const summary = useTrial("window", (s) => s.summary) as WindowSummary | null;
  const standing = useTrial("window", (s) => s.standing);
  const [chosen, setChosen] = useState<number | null>(null);
  // charts come in a task of their own
  const charted = useDeferredValue(summary, null);
  if (standing === "idle") {
    return (
      <p className="note">
        Nothing has been run. Two settings are swept: how soon each pair ends an arc, beside how
        often it trips on ordinary use.
      </p>
    );
  }
  if (summary === null || summary.points.length === 0)
    return <p className="note">Nothing is known yet.</p>;
  const point = chosen === null ? null : (summary.points[chosen] ?? null);
  return (
    <>
      <p className="summary">
        {formatNumber(summary.hours)} h of use and {countOf(summary.faultRuns, "strike")}
        {standing === "done" ? "" : " so far"}; {summary.front.length} of{" "}
        {countOf(summary.points.length, "point")} {summary.front.length === 1 ? "is" : "are"} on the
        front: no other has both fewer false trips and a sooner clearing.
        {summary.notRun > 0 &&
          ` ${countOf(summary.notRun, "case")} could not be run, in no figure here: ${summary.problem}.`}
      </p>
      {charted !== null && charted.points.length > 0 && <WindowCharts summary={charted} />}
      <Contour summary={summary} chosen={chosen} onChoose={setChosen} />
      {point !== null && <Told point={point} summary={summary} />}
      <AdvicePart sweep={summary} />
    </>
  );
}

interface ContourProps {
  readonly summary: WindowSummary;
  readonly chosen: number | null;
  readonly onChoose: (index: number) => void;
}

/** Darker ground: more false trips, in steps of ten; the figures say the same. */
function Contour({ summary, chosen, onChoose }: ContourProps) {
  const { x, y, points } = summary;
  return (
    <WideTable
      look="matrix contour"
      caption={
        <>
          {upperFirst(settingWords(y.path))} down, {settingWords(x.path)} across. In each point:
          false trips an hour, margin of the first fault; a heavy frame: on the front.
        </>
      }
    >
      <thead>
        <tr>
          <th scope="col">{settingWords(y.path)}</th>
          {x.values.map((v) => (
            <th key={v} scope="col">
              {valueWords(x.path, v)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {y.values.map((yv, j) => (
          <tr key={yv}>
            <th scope="row">{valueWords(y.path, yv)}</th>
            {x.values.map((xv, i) => {
              const index = j * x.values.length + i;
              const point = points[index];
              if (point === undefined) return <td key={xv}>not run</td>;
              return (
                <td key={xv}>
                  <button
                    type="button"
                    className={`cell level-${level(point)} ${point.onFront ? "front" : ""}`}
                    aria-pressed={index === chosen}
                    onClick={() => onChoose(index)}
                  >
                    <b>{rateWords(point)}</b>
                    <span className="cell-word">{marginWords(point)}</span>
                    {point.onFront && <span className="cell-word">front</span>}
                  </button>
                </td>
              );
            })}
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
}

function level({ falseTrips }: WindowPoint): number {
  const rate = falseTrips?.perHour ?? 0;
  if (rate <= 0) return 0;
  return Math.min(Math.max(Math.ceil(Math.log10(rate)) + 2, 1), 5);
}

function rateWords({ falseTrips }: WindowPoint): string {
  if (falseTrips === null) return "no use yet";
  return falseTrips.count === 0 ? "0 /h" : `${formatNumber(falseTrips.perHour, 2)} /h`;
}

function marginWords({ faults }: WindowPoint): string {
  const [first] = faults;
  if (first === undefined) return "no strike yet";
  if (first.missed > 0) return `misses ${first.missed} of ${first.runs}`;
  return first.margin === null ? "nothing melts" : `margin ${formatRatio(first.margin)}`;
}

function marginOrNone(margin: number | null): string {
  return margin === null ? "endless, nothing melts" : formatRatio(margin);
}

function Told({
  point,
  summary,
}: {
  readonly point: WindowPoint;
  readonly summary: WindowSummary;
}) {
  const project = usePlayback((s) => s.project);
  const settings = usePlayback(settingsAsTold);
  const wanted = [
    { path: summary.x.path, value: point.x },
    { path: summary.y.path, value: point.y },
  ];
  const application =
    project === null
      ? { changes: [], byHand: ["go to the bench once, so that there is a run"] }
      : applySettings({ ...project, monitors: settings }, wanted);
  const { falseTrips } = point;
  return (
    <section className="told" aria-label="The chosen point">
      <h3>
        {settingWords(summary.x.path)} {valueWords(summary.x.path, point.x)},{" "}
        {settingWords(summary.y.path)} {valueWords(summary.y.path, point.y)}
      </h3>
      <Facts
        facts={[
          [
            "False trips",
            falseTrips === null
              ? "no use played yet"
              : `${rateWords(point)}, 95 %: ${formatNumber(falseTrips.low, 2)} to ${formatNumber(falseTrips.high, 2)}, if trips came independently`,
          ],
          ...point.faults.map(
            (f) =>
              [
                `${sweptFaultWords(f.fault)}, ${f.signal}`,
                f.missed > 0
                  ? `not operated in ${f.missed} of ${f.runs}`
                  : `operates ${f.operateMedianS === null ? "never" : formatTime(f.operateMedianS)}, margin ${marginOrNone(f.margin)}, early edge ${marginOrNone(f.marginEarly)}`,
              ] as const,
          ),
        ]}
      />
      <ApplyButton application={application} word="Set this point on the bench" />
    </section>
  );
}
