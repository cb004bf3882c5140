/**
 * Fault coverage as a matrix: a row for each fault at its place, a column for each condition that is chosen to be seen. A cell
 * says its margin and its word; the one chosen is told in full below, and opens on the bench.
 */
import { useMemo, useState } from "react";
import { FAULTS } from "../../../project/faults";
import type { CoverageOutcome, CoverageSummary } from "../../../study/trials/coverage";
import { feelsLoad } from "../../../study/trials/coverageCases";
import { KINDS } from "../../../study/trials/judgeCell";
import { countOf, formatQuantity, formatRatio, formatTime } from "../../../units/format";
import { DAMAGE_WORDS, PART_WORDS, upperFirst } from "../bench/views/words";
import { CellMark, KIND_WORDS } from "./CellMark";
import { ChosenCell } from "./ChosenCell";
import { cellWords, MISSING, missingWords } from "./cellWords";
import { Facts } from "./Facts";
import { Matrix, matrixRows } from "./Matrix";
import { OpenCase } from "./openCase";
import { plainWords } from "./settingWords";
import { useTrial } from "./trialsContext";

interface Cell {
  readonly index: number;
  readonly outcome: CoverageOutcome;
}

interface Filter {
  readonly driveW: number;
  readonly load: string;
}

export function CoverageResult() {
  const outcomes = useTrial("coverage", (s) => s.outcomes) as readonly (CoverageOutcome | null)[];
  const summary = useTrial("coverage", (s) => s.summary) as CoverageSummary | null;
  const standing = useTrial("coverage", (s) => s.standing);
  const [filter, setFilter] = useState<Filter | null>(null);
  const [chosen, setChosen] = useState<number | null>(null);
  const cells = useMemo(
    () =>
      outcomes.flatMap((outcome, index): Cell[] => (outcome === null ? [] : [{ index, outcome }])),
    [outcomes],
  );
  if (standing === "idle") {
    return (
      <p className="note">
        Nothing has been run. A coverage of all bands takes a minute or two; results stand here from
        the first case on.
      </p>
    );
  }
  const drives = [...new Set(cells.map((c) => c.outcome.driveW))].sort((a, b) => b - a);
  const loads = [...new Set(cells.map((c) => loadWord(c.outcome)))];
  const seen: Filter = {
    driveW: drives.includes(filter?.driveW ?? Number.NaN)
      ? (filter?.driveW ?? 0)
      : (drives[0] ?? 0),
    load: loads.includes(filter?.load ?? "") ? (filter?.load ?? "") : (loads[0] ?? ""),
  };
  const bands = [...new Set(cells.map((c) => c.outcome.band))];
  // of one band alone the loads stand side by side
  const byLoad = bands.length === 1;
  const columnOf = (o: CoverageOutcome): string => (byLoad ? loadWord(o) : o.band);
  const shown = cells.filter(
    ({ outcome }) => outcome.driveW === seen.driveW && (byLoad || loadWord(outcome) === seen.load),
  );
  // faults that no load changes are run at the matched one alone
  const loadless = new Set(
    shown.flatMap(({ outcome }) => (feelsLoad(outcome) ? [] : [rowName(outcome)])),
  );
  const rows = matrixRows(
    shown.map(({ index, outcome }) => ({
      row: rowName(outcome),
      column: columnOf(outcome),
      index,
      kind: outcome.kind,
      margin: outcome.outcome.weakestMargin,
      marginEarly: outcome.outcome.weakestMarginEarly,
    })),
  );
  const told = chosen === null ? null : (outcomes[chosen] ?? null);
  const required = summary?.requiredMargin ?? 0;
  return (
    <>
      {summary !== null && <Counts summary={summary} />}
      {summary !== null && <OpenCells cells={summary.open} onChoose={setChosen} />}
      <div className="matrix-filter">
        <label>
          Drive{" "}
          <select
            value={seen.driveW}
            onChange={(e) => setFilter({ ...seen, driveW: Number(e.currentTarget.value) })}
          >
            {drives.map((w) => (
              <option key={w} value={w}>
                {formatQuantity(w, "W")}
              </option>
            ))}
          </select>
        </label>
        {!byLoad && (
          <label>
            Load{" "}
            <select
              value={seen.load}
              onChange={(e) => setFilter({ ...seen, load: e.currentTarget.value })}
            >
              {loads.map((l) => (
                <option key={l}>{l}</option>
              ))}
            </select>
          </label>
        )}
      </div>
      <Matrix
        head="Fault"
        rows={rows}
        columns={byLoad ? [...new Set(shown.map((c) => loadWord(c.outcome)))] : bands}
        required={required}
        chosen={chosen}
        missing={(row, column) =>
          byLoad && column !== MATCHED && loadless.has(row) ? "as matched" : MISSING
        }
        missingWords={missingWords(standing)}
        onChoose={setChosen}
      />
      {told !== null && chosen !== null && <Told cell={told} index={chosen} required={required} />}
      {summary !== null && summary.leftOut.length > 0 && (
        <details className="left-out">
          <summary>Not run, and why ({summary.leftOut.length})</summary>
          <ul>
            {summary.leftOut.map((l) => (
              <li key={l.what}>
                {l.what}: {l.why}
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function rowName({ fault, part }: CoverageOutcome): string {
  return `${FAULTS[fault].name}, ${PART_WORDS[part]}`;
}

const MATCHED = "matched";

function loadWord({ swr, phaseRad }: CoverageOutcome): string {
  return swr === 1 ? MATCHED : `VSWR ${swr} at ${Math.round((phaseRad * 180) / Math.PI)}\u00b0`;
}

/** What fails, worst first, each leading to its cell's full account. */
function OpenCells({
  cells,
  onChoose,
}: {
  readonly cells: CoverageSummary["open"];
  readonly onChoose: (index: number) => void;
}) {
  if (cells.length === 0) return null;
  const worstFirst = [...cells].sort((a, b) => (a.margin ?? 0) - (b.margin ?? 0));
  return (
    <details className="open-cells">
      <summary>Thin, late or not covered, worst first ({cells.length})</summary>
      <ul>
        {worstFirst.map((c) => (
          <li key={c.index}>
            <CellMark kind={c.kind} />
            <button type="button" className="button small" onClick={() => onChoose(c.index)}>
              {plainWords(c.label)}
            </button>
            {KIND_WORDS[c.kind]}
            {c.margin !== null && `, nominal margin ${formatRatio(c.margin)}`}
            {c.marginEarly !== null && `, early edge ${formatRatio(c.marginEarly)}`}
            {c.accepted !== null && `, accepted: ${c.accepted}`}
            <p className="note">{upperFirst(c.reason)}.</p>
          </li>
        ))}
      </ul>
    </details>
  );
}

function Counts({ summary }: { readonly summary: CoverageSummary }) {
  const { counts, done, count } = summary;
  const open = counts.thin + counts.late + counts.notCovered;
  return (
    <div className="counts">
      <p className="summary">
        {done < count
          ? `${done} of ${countOf(count, "cell")} so far, `
          : `${countOf(count, "cell")}: `}
        {open > 0
          ? `${open} thin, late or not covered.`
          : done < count
            ? "none of them thin, late or not covered."
            : "every fault that damages anything is ended in time by the nominal estimates."}
      </p>
      <ul>
        {KINDS.map((kind) => (
          <li key={kind}>
            <CellMark kind={kind} /> {KIND_WORDS[kind]} <b>{counts[kind]}</b>
            {kind === "covered" && earlyWords(summary.coveredEarly)}
          </li>
        ))}
      </ul>
      <p className="note">
        A cell says two margins where the onset of melting is a band of estimates: by the nominal
        one, which gives the cell its word, and <i>early</i>, by its early edge. Required:{" "}
        {formatRatio(summary.requiredMargin)}.
      </p>
    </div>
  );
}

/** What the early edge of the estimates makes of covered cells. */
function earlyWords({ late, thin }: CoverageSummary["coveredEarly"]): string {
  const parts = [late > 0 ? `${late} late` : "", thin > 0 ? `${thin} thin` : ""];
  const words = parts.filter((w) => w !== "").join(" and ");
  return words === "" ? "" : `, of them ${words} by the early edge`;
}

interface ToldProps {
  readonly cell: CoverageOutcome;
  readonly index: number;
  readonly required: number;
}

function Told({ cell, index, required }: ToldProps) {
  const { outcome, kind, reason } = cell;
  const { firstTrip, operateS, clearingS, weakest } = outcome;
  const { weakestMargin: margin, weakestMarginEarly: marginEarly } = outcome;
  const words = cellWords({ kind, margin, marginEarly }, required);
  const time = (s: number | null): string => (s === null ? "none" : formatTime(s));
  const ratio = (r: number | null): string => (r === null ? "none" : formatRatio(r));
  return (
    <ChosenCell index={index}>
      <h3>
        <CellMark kind={kind} /> {FAULTS[cell.fault].name}, {PART_WORDS[cell.part]}, {cell.band},{" "}
        {formatQuantity(cell.driveW, "W")}, {loadWord(cell)}
      </h3>
      <p className="summary">
        {upperFirst(words.kindInFull)}: {reason}.
      </p>
      <Facts
        facts={[
          ["First to trip", firstTrip === null ? "not operated" : firstTrip.name],
          ["Operates after", time(operateS)],
          ["Cleared after", time(clearingS)],
          [
            "Weakest part",
            weakest === null
              ? "nothing is damaged"
              : `${DAMAGE_WORDS[weakest.part]}, after ${formatTime(weakest.damageS)} left alone`,
          ],
          ["Margin, nominal", ratio(outcome.weakestMargin)],
          ["Margin, early edge", ratio(outcome.weakestMarginEarly)],
          ["Arc energy", formatQuantity(outcome.arcEnergyJ, "J")],
        ]}
      />
      <OpenCase kind="coverage" index={index} />
    </ChosenCell>
  );
}
