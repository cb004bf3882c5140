/** Which monitors count; each with its line as on the sheet, and what it does there. */
import { memo } from "react";
import type { MonitorDef } from "../../../project/protection";
import type { CoordinationSheet } from "../../../study/coordination/coordinate";
import { operatesFrom } from "../../../study/coordination/margins";
import { StrokeSample } from "./strokes";
import { sizeWords } from "./words";

export interface MonitorChoiceProps {
  readonly monitors: readonly MonitorDef[];
  readonly chosen: readonly boolean[];
  readonly sheet: CoordinationSheet | undefined;
  readonly onCount: (id: string, isCounted: boolean) => void;
}

export const MonitorChoice = memo(function MonitorChoice(props: MonitorChoiceProps) {
  const { monitors, chosen, sheet, onCount } = props;
  return (
    <fieldset className="monitor-choice">
      <legend>Monitors that count</legend>
      <p className="note">
        As set on the bench. What is edited on the <a href="#monitors">monitors screen</a> counts
        once it is taken there.
      </p>
      {monitors.map((def, index) => {
        const from = sheet === undefined ? null : operatesFrom(sheet, index);
        const does =
          sheet === undefined || from === null
            ? "does not operate on this sheet"
            : `from ${sizeWords(sheet.stress, from)}`;
        return (
          <label key={def.id}>
            <input
              type="checkbox"
              checked={chosen[index] ?? false}
              onChange={(event) => onCount(def.id, event.currentTarget.checked)}
            />
            <StrokeSample index={index} />
            <span>
              {def.name}
              {def.role === "acting" ? "" : `, ${def.role}`} <small>{does}</small>
            </span>
          </label>
        );
      })}
    </fieldset>
  );
});
