/** The race in rows: every lane, every instant, for whoever reads rather than looks. */
import { formatLate, formatRatio, formatTime, NO_VALUE } from "../../../units/format";
import { ColumnHeads } from "../ColumnHeads";
import { StateLabel } from "../state/StateMark";
import { orderLanes } from "./racePlan";
import type { RaceMark, RaceView } from "./raceView";

function markWords(mark: RaceMark | null, none: string): string {
  if (mark === null) return none;
  return mark.happened ? formatTime(mark.atS) : `would be at ${formatTime(mark.atS)}`;
}

function upper(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function timeOrDash(atS: number | null): string {
  return atS === null ? NO_VALUE : formatTime(atS);
}

export function RaceTable({ view }: { readonly view: RaceView }) {
  const { spine, operator } = view;
  return (
    <div className="race-table">
      <table>
        <caption>Monitors, time from the strike</caption>
        <ColumnHeads
          words={["Monitor", "Setting", "Pickup", "Operate", "State", "What the quantity did"]}
        />
        <tbody>
          {orderLanes(view.monitors).map((lane) => (
            <tr key={lane.key}>
              <th scope="row">{lane.name}</th>
              <td>{lane.setting}</td>
              <td>{markWords(lane.pickup, "no pickup")}</td>
              <td>{markWords(lane.operate, "does not operate")}</td>
              <td>
                <StateLabel mark={lane.state} word={lane.stateWord} />
              </td>
              <td>{lane.why}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <table>
        <caption>Parts, the same fault left alone</caption>
        <ColumnHeads
          words={["Part", "Onset, early edge", "Onset", "Onset, late edge", "In words"]}
        />
        <tbody>
          {view.damage.map((lane) => (
            <tr key={lane.key}>
              <th scope="row">{lane.name}</th>
              <td>{timeOrDash(lane.onsetEarlyS)}</td>
              <td>{timeOrDash(lane.onsetS)}</td>
              <td>{timeOrDash(lane.onsetLateS)}</td>
              <td>
                {[lane.why, lane.reachedWord, lane.head, ...lane.headNotes]
                  .filter((text) => text !== "")
                  .join("; ")}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        {spine.margin === null
          ? spine.noMarginWord
          : `${upper(spine.clearingWord)} ${timeOrDash(spine.clearingS)}, margin ${formatRatio(spine.margin)}${spine.marginEarly === null ? "" : `, at the early edge ${formatRatio(spine.marginEarly)}`}.`}
        {operator.margin === null
          ? ""
          : ` Operator alone, ${formatTime(operator.nominalS)}: ${operator.margin < 1 ? formatLate(operator.margin) : `in time, ${formatRatio(operator.margin)}`}.`}
      </p>
    </div>
  );
}
