/** Back-up: what is left of the scheme when something in it has failed, alone and in pairs, the worst first. */
import { useState } from "react";
import { FAULTS } from "../../../project/faults";
import type { FaultName, PartName } from "../../../project/scenario";
import type { BackupOutcome, BackupRow, BackupSummary } from "../../../study/trials/backupSummary";
import { countOf, formatRatio, formatTime } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { PART_WORDS, upperFirst } from "../bench/views/words";
import { CellMark, KIND_WORDS } from "./CellMark";
import { ChosenCell } from "./ChosenCell";
import { cellWords, MISSING, missingWords } from "./cellWords";
import { Facts } from "./Facts";
import { Matrix, matrixRows } from "./Matrix";
import { OpenCase } from "./openCase";
import { useTrial } from "./trialsContext";
import { WideTable } from "./WideTable";

export function BackupResult() {
  const outcomes = useTrial("backup", (s) => s.outcomes) as readonly (BackupOutcome | null)[];
  const summary = useTrial("backup", (s) => s.summary) as BackupSummary | null;
  const standing = useTrial("backup", (s) => s.standing);
  const [chosen, setChosen] = useState<number | null>(null);
  const [pairs, setPairs] = useState(false);
  const hasPairs = useTrial("backup", (s) => s.asked?.options?.pairs !== false);
  if (standing === "idle") {
    return (
      <p className="note">
        Nothing has been run. Every monitor, actuator and detector is failed in turn and, unless
        each alone is asked for, two at a time; what is damaged in which fault stands here.
      </p>
    );
  }
  const nameOf = new Map(summary?.rows.map((r) => [r.failed.join(), rowName(r)]));
  const wanted = (failed: readonly string[]): boolean => (pairs ? true : failed.length < 2);
  const cells = outcomes.flatMap((o, index) =>
    o === null || !wanted(o.failed)
      ? []
      : [
          {
            index,
            kind: o.kind,
            margin: o.margin,
            marginEarly: o.marginEarly,
            row: nameOf.get(o.failed.join()) ?? rowName({ names: o.failed }),
            column: faultName(o),
          },
        ],
  );
  const columns = [...new Set(cells.map((c) => c.column))];
  const told = chosen === null ? null : (outcomes[chosen] ?? null);
  const required = summary?.requiredMargin ?? 0;
  return (
    <>
      {summary !== null && <Worst summary={summary} />}
      {hasPairs && (
        <label className="check">
          <input
            type="checkbox"
            checked={pairs}
            onChange={(e) => setPairs(e.currentTarget.checked)}
          />{" "}
          Show pairs of failures too
        </label>
      )}
      <Matrix
        head="Failed beforehand"
        rows={matrixRows(cells)}
        columns={columns}
        required={required}
        chosen={chosen}
        missing={() => MISSING}
        missingWords={missingWords(standing)}
        onChoose={setChosen}
      />
      {told !== null && chosen !== null && (
        <ChosenCell index={chosen}>
          <h3>
            <CellMark kind={told.kind} /> {faultName(told)}:{" "}
            {nameOf.get(told.failed.join()) ?? told.failed.join(", ")}
          </h3>
          <p className="summary">
            {upperFirst(cellWords(told, required).kindInFull)}: {told.reason}.
          </p>
          <Facts
            facts={[
              ["First to trip", told.firstTrip?.name ?? "not operated"],
              ["Ended after", told.endedS === null ? "never" : formatTime(told.endedS)],
              ["Margin, nominal", told.margin === null ? "none" : formatRatio(told.margin)],
              [
                "Margin, early edge",
                told.marginEarly === null ? "none" : formatRatio(told.marginEarly),
              ],
            ]}
          />
          <OpenCase kind="backup" index={chosen} />
        </ChosenCell>
      )}
      {summary !== null && <BackupTable rows={summary.rows.filter((r) => wanted(r.failed))} />}
    </>
  );
}

function rowName({ names }: Pick<BackupRow, "names">): string {
  return names.length === 0 ? "nothing failed" : names.join(" and ");
}

function faultName({ fault, part }: { fault: FaultName; part: PartName }): string {
  return `${FAULTS[fault].name}, ${PART_WORDS[part]}`;
}

function Worst({ summary }: { readonly summary: BackupSummary }) {
  const { rows, done, count } = summary;
  const intact = rows.find((r) => r.failed.length === 0);
  const open = new Set(intact?.open.map((o) => `${o.fault} ${o.part}`));
  const singles = rows.filter((r) => r.failed.length === 1);
  const losing = singles.filter((r) => r.open.some((o) => !open.has(`${o.fault} ${o.part}`)));
  return (
    <p className="summary">
      {done < count && `${done} of ${countOf(count, "case")} so far. `}
      {losing.length === 0
        ? "No single failure opens a fault that the whole scheme covers."
        : `${losing.length} of ${singles.length} single failures open a fault that the whole scheme covers: ${losing.map(rowName).join("; ")}.`}
    </p>
  );
}

/** Faults that nothing ends any more. */
function lostOf({ open }: BackupRow): BackupRow["open"] {
  return open.filter(({ kind }) => kind === "notCovered");
}

function worstWords(row: BackupRow): string {
  const [lost] = lostOf(row);
  if (lost !== undefined) return `${KIND_WORDS.notCovered}, ${faultName(lost)}`;
  const { worstMargin, worstFault } = row;
  if (worstMargin === null || worstFault === null) return "none";
  return `${formatRatio(worstMargin)}, ${faultName(worstFault)}`;
}

function BackupTable({ rows }: { readonly rows: readonly BackupRow[] }) {
  const worstFirst = [...rows].sort(
    (a, b) =>
      lostOf(b).length - lostOf(a).length ||
      (a.worstMargin ?? Infinity) - (b.worstMargin ?? Infinity),
  );
  return (
    <WideTable caption="Worst first">
      <ColumnHeads
        words={[
          "Failed beforehand",
          "Worst margin, nominal",
          "By the early edge",
          "Thin, late or not covered",
          "Takes over",
        ]}
      />
      <tbody>
        {worstFirst.map((r) => (
          <tr key={r.failed.join()}>
            <th scope="row">{rowName(r)}</th>
            <td>{worstWords(r)}</td>
            <td>{r.worstMarginEarly === null ? "none" : formatRatio(r.worstMarginEarly)}</td>
            <td className="wraps">
              {r.open.length === 0
                ? "none"
                : r.open.map((o) => `${faultName(o)} (${KIND_WORDS[o.kind]})`).join("; ")}
            </td>
            <td className="wraps">
              {r.takesOver.length === 0
                ? lostOf(r).length > 0
                  ? "nobody"
                  : "nobody has to"
                : r.takesOver.map((t) => `${t.monitor} for ${faultName(t)}`).join("; ")}
            </td>
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
}
