/** Every chosen monitor at one point of a sheet: from where on it operates, when, and what that is worth. */
import type { MonitorDef } from "../../../project/protection";
import type { CoordinationSheet, StressPoint } from "../../../study/coordination/coordinate";
import {
  compareMargins,
  monitorMargin,
  operatesFrom,
  type Requirement,
} from "../../../study/coordination/margins";
import { StrokeSample } from "./strokes";
import { marginWords, operateWords, sizeWords, timeOr, VERDICT_WORDS } from "./words";

export interface PointTableProps {
  readonly sheet: CoordinationSheet;
  readonly point: StressPoint;
  readonly monitors: readonly MonitorDef[];
  readonly chosen: readonly boolean[];
  readonly required: Requirement;
}

export function PointTable({ sheet, point, monitors, chosen, required }: PointTableProps) {
  const rows = monitors
    .map((def, index) => ({ def, index, margin: monitorMargin(point, index, required) }))
    .filter(({ index }) => chosen[index])
    .sort(
      (a, b) =>
        (a.margin.clearS?.nominal ?? Infinity) - (b.margin.clearS?.nominal ?? Infinity) ||
        Number(point.monitors[a.index]?.latestS == null) -
          Number(point.monitors[b.index]?.latestS == null) ||
        compareMargins(a.margin, b.margin),
    );
  return (
    <section className="table-wide" aria-label={`Monitors at ${sizeWords(sheet.stress, point.x)}`}>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">Monitor</th>
            <th scope="col">Picks up</th>
            <th scope="col">Operates after</th>
            <th scope="col">Cleared</th>
            <th scope="col">Margin</th>
            <th scope="col" className="from">
              Operates from
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ def, index, margin }) => {
            const m = point.monitors[index];
            const from = operatesFrom(sheet, index);
            // silent, or off the air before there is anything to guard
            const isSilent = m?.latestS == null || m.latestS === 0;
            return (
              <tr key={def.id} className={isSilent ? "silent" : ""}>
                <th scope="row">
                  <span className="named">
                    <StrokeSample index={index} />
                    {def.name}
                    {def.role === "acting" ? "" : `, ${def.role}`}
                  </span>
                </th>
                <td>{timeOr(m?.pickupS, "no pickup")}</td>
                <td>{operateWords(m?.earliestS ?? null, m?.latestS ?? null)}</td>
                <td>{cleared(isSilent, margin.clearS?.nominal ?? null)}</td>
                <td>
                  {isSilent ? "–" : marginWords(margin)}
                  {margin.margin !== null && margin.verdict !== "late"
                    ? `, ${VERDICT_WORDS[margin.verdict]}`
                    : ""}
                </td>
                <td className="from">
                  {from === null ? "nowhere" : sizeWords(sheet.stress, from)}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

function cleared(isSilent: boolean, nominalS: number | null): string {
  if (isSilent) return "–";
  return timeOr(nominalS, "does not end it");
}
