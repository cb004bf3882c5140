/** Bring your own tube: figures of a data sheet in, the law that meets them out, with how far it misses each of them. */
import { useEffect, useId, useState } from "react";
import { findRegisteredTube, REGISTERED_TUBES } from "../../../project/tubes";
import type { FittedTube } from "../../../study/tubeFit";
import { PickField } from "../../forms/PickField";
import { Refusal } from "../../forms/Refusal";
import { scaleOf } from "../../forms/scales";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { Sheet } from "../bench/Sheet";
import { FitResult } from "./FitResult";
import {
  emptyRow,
  FIT_COLUMNS,
  type FitMode,
  type FitRow,
  pasted,
  pointsOf,
  type RowProblem,
  rowsOfType,
} from "./fitRows";
import { setStation, useStation, useStudy } from "./stationContext";
import "./fit.css";

const START: Readonly<Record<FitMode, readonly FitRow[]>> = {
  operation: [emptyRow("operation"), emptyRow("operation")],
  curve: Array.from({ length: 4 }, () => emptyRow("curve")),
};

export default function TubeFitSheet({ onClose }: { readonly onClose: () => void }) {
  const { edit, study } = useStation();
  const fit = useStudy((s) => s.fit);
  const isFitting = useStudy((s) => s.isFitting);
  const [mode, setMode] = useState<FitMode>("operation");
  const [rows, setRows] = useState(START);
  const [from, setFrom] = useState("");
  const [name, setName] = useState("own tube");
  const [heldMu, setHeldMu] = useState("");
  const [problems, setProblems] = useState<readonly RowProblem[]>([]);
  const [muProblem, setMuProblem] = useState("");
  const nameId = useId();
  const muId = useId();
  useEffect(() => () => study.forgetFit(), [study]);

  const put = (next: readonly FitRow[]): void => {
    setRows({ ...rows, [mode]: next });
    setProblems([]);
    study.forgetFit();
  };
  const start = (): void => {
    const read = pointsOf(rows[mode], mode);
    const mu = heldMu.trim() === "" ? null : scaleOf("").parse(heldMu);
    setProblems(read.problems);
    setMuProblem(mu?.ok === false ? `Amplification factor: ${mu.problem}` : "");
    if (read.problems.length > 0 || mu?.ok === false) return;
    study.fit(read.points, mu?.ok === true ? { mu: mu.value } : {});
  };
  const use = (tube: FittedTube): void => {
    const { station } = edit.store.getState().project;
    const words = { field: "Tube", from: station.tube.name, to: name };
    setStation(edit, { ...station, tube: { ...station.tube, ...tube, name } }, words);
    onClose();
  };
  return (
    <Sheet title="Fit a tube to its data sheet" onClose={onClose} wide>
      <div className="fit">
        <p className="summary">
          Give columns of typical operation, cathode-driven, or points of the tube's curves. A
          column with plate load or output tells grid current and drive; one without tells the idle
          current. Tables can be pasted from a spreadsheet into any cell.
        </p>
        <div className="fit-head">
          <SegmentedChoice
            name="Points are"
            options={[
              { value: "operation", word: "Typical operation" },
              { value: "curve", word: "Curves" },
            ]}
            value={mode}
            onChoose={(next) => {
              setMode(next);
              setProblems([]);
              study.forgetFit();
            }}
          />
          {mode === "operation" && (
            <PickField
              label="Begin with"
              value={from}
              options={[
                { value: "", word: "empty rows" },
                ...REGISTERED_TUBES.filter((t) => t.columns.length > 0).map(
                  ({ type, standing }) => ({
                    value: type,
                    word: `${type}, ${standing}`,
                  }),
                ),
              ]}
              onPick={(type) => {
                setFrom(type);
                const tube = findRegisteredTube(type);
                put(tube === null ? START.operation : rowsOfType(tube));
                if (tube !== null) setHeldMu(String(tube.mu.value));
                setName(tube === null ? "own tube" : `${type}, own fit`);
                return "";
              }}
            />
          )}
        </div>
        <PointTable mode={mode} rows={rows[mode]} problems={problems} onRows={put} />
        <div className="field-buttons">
          <button
            type="button"
            className="button"
            onClick={() => put([...rows[mode], emptyRow(mode)])}
          >
            Add a point
          </button>
        </div>
        {[...problems.map((p) => p.words), ...(muProblem === "" ? [] : [muProblem])].map(
          (words) => (
            <Refusal key={words} words={words} />
          ),
        )}
        <div className="fit-head">
          <div className="field text-field">
            <label htmlFor={muId}>Amplification factor held at</label>
            <input
              id={muId}
              type="text"
              inputMode="decimal"
              autoComplete="off"
              placeholder="left to the fit"
              value={heldMu}
              onChange={(event) => setHeldMu(event.currentTarget.value)}
            />
          </div>
          <div className="field text-field">
            <label htmlFor={nameId}>Name of the tube</label>
            <input
              id={nameId}
              type="text"
              autoComplete="off"
              maxLength={100}
              value={name}
              onChange={(event) => setName(event.currentTarget.value)}
            />
          </div>
          <button type="button" className="button solid" onClick={start} disabled={isFitting}>
            {isFitting ? "Fitting" : "Fit"}
          </button>
        </div>
        {fit !== null && <FitResult fit={fit} onUse={use} />}
      </div>
    </Sheet>
  );
}

interface PointTableProps {
  readonly mode: FitMode;
  readonly rows: readonly FitRow[];
  readonly problems: readonly RowProblem[];
  readonly onRows: (rows: readonly FitRow[]) => void;
}

function PointTable({ mode, rows, problems, onRows }: PointTableProps) {
  const columns = FIT_COLUMNS[mode];
  const isWrong = (row: number, column: number): boolean =>
    problems.some((p) => p.row === row && p.column === column);
  return (
    <div className="table-wide">
      <table className="fit-points">
        <caption className="unseen">Points of the data sheet</caption>
        <thead>
          <tr>
            <th scope="col">Point</th>
            {columns.map(({ name, label, scale, optional }) => (
              <th key={name} scope="col">
                {label} <span className="unit">{scale.unit}</span>
                {optional && <small> if known</small>}
              </th>
            ))}
            <th scope="col">
              <span className="unseen">Remove</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((cells, row) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place
            <tr key={row}>
              <th scope="row">{row + 1}</th>
              {columns.map(({ name, label }, column) => (
                <td key={name}>
                  <input
                    type="text"
                    inputMode="decimal"
                    autoComplete="off"
                    aria-label={`Point ${row + 1}, ${label.toLowerCase()}`}
                    aria-invalid={isWrong(row, column)}
                    value={cells[column] ?? ""}
                    onChange={(event) => {
                      const to = event.currentTarget.value;
                      onRows(
                        rows.map((r, k) =>
                          k === row ? r.map((c, j) => (j === column ? to : c)) : r,
                        ),
                      );
                    }}
                    onPaste={(event) => {
                      const text = event.clipboardData.getData("text");
                      if (!/[\t\n;]/.test(text.trim())) return;
                      event.preventDefault();
                      onRows(pasted(rows, mode, { row, column }, text));
                    }}
                  />
                </td>
              ))}
              <td>
                <button
                  type="button"
                  className="button small"
                  aria-label={`Remove point ${row + 1}`}
                  disabled={rows.length < 2}
                  onClick={() => onRows(rows.filter((_, k) => k !== row))}
                >
                  Remove
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
