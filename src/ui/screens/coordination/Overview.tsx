/** All stresses at the worst point of each, worst first; and every monitor in each of them, for reading. */
import type { MonitorDef } from "../../../project/protection";
import type { Project } from "../../../project/types";
import type { CoordinationSheet, StressPoint } from "../../../study/coordination/coordinate";
import {
  compareMargins,
  type Requirement,
  type SchemeMargin,
  schemeMargin,
  worstPoint,
} from "../../../study/coordination/margins";
import { judgedRange, STRESS_NAMES, type StressName } from "../../../study/coordination/stress";
import { formatRatio } from "../../../units/format";
import { TableReveal } from "../../instruments/TableReveal";
import { PointTable } from "./PointTable";
import { damageWords, marginWords, STRESS_WORDS, sizeWords, timeOr, VERDICT_WORDS } from "./words";

export interface OverviewProps {
  readonly project: Project;
  readonly sheets: ReadonlyMap<StressName, CoordinationSheet>;
  readonly whole: ReadonlySet<StressName>;
  readonly chosen: readonly boolean[];
  readonly required: Requirement;
  readonly shown: StressName;
  readonly onShow: (stress: StressName, x: number) => void;
}

interface Row {
  readonly sheet: CoordinationSheet;
  readonly point: StressPoint;
  readonly margin: SchemeMargin;
}

export function Overview(props: OverviewProps) {
  const { project, sheets, whole, chosen, required, shown, onShow } = props;
  const { monitors, station } = project;
  const rows = STRESS_NAMES.flatMap((stress): Row[] => {
    const sheet = sheets.get(stress);
    if (sheet === undefined) return [];
    const at = worstPoint(sheet, judgedRange(stress, station), chosen, required);
    const point = sheet.points[at];
    if (point === undefined) return [];
    return [{ sheet, point, margin: schemeMargin(point, chosen, required) }];
  }).sort((a, b) => compareMargins(a.margin, b.margin));
  const waiting = STRESS_NAMES.filter((s) => !rows.some((r) => r.sheet.stress === s));
  return (
    <section aria-labelledby="overview-title">
      <div className="sheet-head">
        <h3 id="overview-title">All stresses, worst first</h3>
        {rows.length > 0 && (
          <TableReveal label="Every monitor in every stress, worst first" word="Every monitor">
            {rows.map((row) => (
              <EveryMonitor key={row.sheet.stress} row={row} {...{ monitors, chosen, required }} />
            ))}
          </TableReveal>
        )}
      </div>
      <ul className="overview">
        {rows.map(({ sheet, point, margin }) => (
          <li key={sheet.stress}>
            <button
              type="button"
              className="overview-row"
              aria-pressed={sheet.stress === shown}
              onClick={() => onShow(sheet.stress, point.x)}
            >
              <span className="overview-name">{STRESS_WORDS[sheet.stress].name}</span>
              <b>{marginWords(margin)}</b>
              <span className="overview-what">
                {sizeWords(sheet.stress, point.x)}
                {margin.first < 0 ? "" : `: ${monitors[margin.first]?.name}`}
                {margin.marginEarly === null || margin.hurt?.milestone !== "onset"
                  ? ""
                  : `; early estimate ${formatRatio(margin.marginEarly)}`}
              </span>
              <span className={`verdict ${margin.verdict}`}>
                {VERDICT_WORDS[margin.verdict]}
                {whole.has(sheet.stress) ? "" : ", so far"}
              </span>
            </button>
          </li>
        ))}
        {waiting.map((stress) => (
          <li key={stress} className="overview-wait">
            {STRESS_WORDS[stress].name}: being worked out
          </li>
        ))}
      </ul>
    </section>
  );
}

function EveryMonitor({
  row,
  monitors,
  chosen,
  required,
}: {
  readonly row: Row;
  readonly monitors: readonly MonitorDef[];
  readonly chosen: readonly boolean[];
  readonly required: Requirement;
}) {
  const { sheet, point, margin } = row;
  return (
    <>
      <h3 className="every-head">
        {STRESS_WORDS[sheet.stress].name}, {sizeWords(sheet.stress, point.x)}: {marginWords(margin)}
        {margin.hurt === null
          ? ""
          : `, ${damageWords(margin.hurt)} after ${timeOr(margin.hurt.nominalS, "")}`}
      </h3>
      <PointTable {...{ sheet, point, monitors, chosen, required }} />
    </>
  );
}
