/** All points of one sheet as a table: what the chart draws, in figures. */
import type { MonitorDef } from "../../../project/protection";
import type { CoordinationSheet, StressPoint } from "../../../study/coordination/coordinate";
import { type Requirement, schemeMargin } from "../../../study/coordination/margins";
import { TableReveal } from "../../instruments/TableReveal";
import type { SheetCurves } from "./sheetData";
import { damageWords, marginWords, STRESS_WORDS, sizeWords, timeOr } from "./words";

export interface SheetPointsProps {
  readonly sheet: CoordinationSheet;
  readonly curves: SheetCurves;
  readonly monitors: readonly MonitorDef[];
  readonly chosen: readonly boolean[];
  readonly required: Requirement;
}

export function SheetPoints({ sheet, curves, monitors, chosen, required }: SheetPointsProps) {
  const { name } = STRESS_WORDS[sheet.stress];
  return (
    <TableReveal label={`${name}: all points`}>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">Size</th>
            {curves.monitors.map(({ index }) => (
              <th key={index} scope="col">
                {monitors[index]?.name} operates
              </th>
            ))}
            <th scope="col">Cleared</th>
            {curves.damage.map(({ key, part, milestone }) => (
              <th key={key} scope="col">
                {damageWords({ part, milestone, nominalS: null, earlyS: null, lateS: null })}
              </th>
            ))}
            <th scope="col">Margin</th>
          </tr>
        </thead>
        <tbody>
          {sheet.points.map((point) => {
            const margin = schemeMargin(point, chosen, required);
            return (
              <tr key={point.x}>
                <th scope="row">{sizeWords(sheet.stress, point.x)}</th>
                {curves.monitors.map(({ index }) => (
                  <td key={index}>{timeOr(point.monitors[index]?.latestS, "does not operate")}</td>
                ))}
                <td>{timeOr(margin.clearS?.nominal, "not cleared")}</td>
                {curves.damage.map(({ key, part, milestone }) => (
                  <td key={key}>{damageCell(point, part, milestone)}</td>
                ))}
                <td>{marginWords(margin)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </TableReveal>
  );
}

/** The nominal time, and the band where there is one. */
function damageCell(point: StressPoint, part: string, milestone: string): string {
  const d = point.damage.find((one) => one.part === part && one.milestone === milestone);
  if (d === undefined || d.nominalS === null)
    return d?.earlyS == null ? "none" : `none; early estimate ${timeOr(d.earlyS, "")}`;
  if (d.earlyS === d.nominalS) return timeOr(d.nominalS, "");
  return `${timeOr(d.nominalS, "")} (${timeOr(d.earlyS, "")} to ${timeOr(d.lateS, "never")})`;
}
