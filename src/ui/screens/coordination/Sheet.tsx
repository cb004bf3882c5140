/** One sheet: what it says in a sentence, the chart, a slider that reads its points, and the monitors at that point. */
import { memo, useMemo } from "react";
import type { Project } from "../../../project/types";
import type { CoordinationSheet } from "../../../study/coordination/coordinate";
import {
  crossings,
  type Requirement,
  schemeMargin,
  worstPoint,
} from "../../../study/coordination/margins";
import { arcIndexOf, judgedRange, ownMaintainingV } from "../../../study/coordination/stress";
import { formatQuantity } from "../../../units/format";
import { PointTable } from "./PointTable";
import { SheetChart } from "./SheetChart";
import { SheetPoints } from "./SheetPoints";
import { nearestPoint, sheetCurves } from "./sheetData";
import { factsSentence, pointSentence, STRESS_WORDS, sizeWords } from "./words";

export interface SheetProps {
  readonly project: Project;
  readonly sheet: CoordinationSheet;
  readonly isWhole: boolean;
  readonly chosen: readonly boolean[];
  readonly required: Requirement;
  /** What was read last; null for the sheet's own choice. */
  readonly readX: number | null;
  readonly textPx: number;
  readonly heightPx: number;
  readonly onRead: (x: number) => void;
}

/** Drawn again when its own sheet has grown, not when another has. */
export const Sheet = memo(function Sheet(props: SheetProps) {
  const { project, sheet, isWhole, chosen, required, readX, textPx, heightPx, onRead } = props;
  const { stress, points } = sheet;
  const { monitors, station } = project;
  const place = arcIndexOf(stress);
  const ownV = place < 0 ? null : ownMaintainingV(station, place);
  const curves = useMemo(() => sheetCurves(sheet, chosen), [sheet, chosen]);
  const judged = judgedRange(stress, station);
  const worst = worstPoint(sheet, judged, chosen, required);
  const wantedX = readX ?? ownV ?? points[worst]?.x ?? 0;
  const at = nearestPoint(points, wantedX);
  const point = points[at];
  const crossed = crossings(sheet, chosen, required);
  if (point === undefined) return null;
  const margin = schemeMargin(point, chosen, required);
  const said = pointSentence(stress, point, margin, monitors, required);
  const worstAt = points[worst];
  const worstSaid =
    worstAt === undefined || worst === at
      ? ""
      : `Worst from ${sizeWords(stress, judged[0])} to ${sizeWords(stress, judged[1])}: ${pointSentence(stress, worstAt, schemeMargin(worstAt, chosen, required), monitors, required)}`;
  const tripping = monitors.filter((_, i) => chosen[i] && point.monitors[i]?.latestS === 0);
  const { name, what } = STRESS_WORDS[stress];
  const own = ownV === null ? null : { x: ownV, word: `this part ${formatQuantity(ownV, "V")}` };
  return (
    <section aria-labelledby="sheet-title">
      <div className="sheet-head">
        <h3 id="sheet-title">{name}</h3>
        <span className="note">
          {what}
          {isWhole ? "" : " Points are still coming."}
        </span>
        <SheetPoints {...{ sheet, curves, monitors, chosen, required }} />
      </div>
      <p className="summary">{said}</p>
      {tripping.length > 0 && (
        <p className="message">
          On the full carrier already, and not counted: {tripping.map((m) => m.name).join(", ")}.
        </p>
      )}
      <SheetChart
        {...{ sheet, curves, own, heightPx, textPx, onRead }}
        at={{ x: point.x, s: 1 }}
        margin={margin}
        crossings={crossed}
        operatorS={project.operatorS}
        label={`${name}. ${said}`}
      />
      <div className="chart-legend" aria-hidden="true">
        <Key className="clearing" word="cleared by the chosen monitors, band: scan and actuators" />
        <Key className="damage onset" word="damage; hatched: after it" />
        {place >= 0 && <Key className="onset-band" word="onset, early to late estimate" isArea />}
        <Key className="margin-region" word="margin" isArea />
        {crossed.length > 0 && <span>× where clearing takes as long as damage</span>}
      </div>
      <div className="reader">
        <label htmlFor="reader">Read at</label>
        <input
          id="reader"
          type="range"
          min={0}
          max={points.length - 1}
          step={1}
          value={at}
          aria-valuetext={said}
          onChange={(event) => onRead(points[Number(event.currentTarget.value)]?.x ?? point.x)}
        />
        <output htmlFor="reader">{sizeWords(stress, point.x)}</output>
        {worstAt !== undefined && (
          <button type="button" className="button small" onClick={() => onRead(worstAt.x)}>
            To the worst
          </button>
        )}
      </div>
      <p className="note">{factsSentence(stress, point)}</p>
      <p className="note">{worstSaid}</p>
      {point.facts !== null && <PointTable {...{ sheet, point, monitors, chosen, required }} />}
    </section>
  );
});

function Key({
  className,
  word,
  isArea = false,
}: {
  readonly className: string;
  readonly word: string;
  readonly isArea?: boolean;
}) {
  return (
    <span className="key">
      <svg width="30" height="12" viewBox="0 0 30 12" aria-hidden="true">
        {isArea ? (
          <rect className={className} width="30" height="12" />
        ) : (
          <path className={className} d="M0 6H30" />
        )}
      </svg>
      {word}
    </span>
  );
}
