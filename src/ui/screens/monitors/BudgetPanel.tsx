/** The detection budget of the chosen monitor: a row a stage with its cost in the best and the worst case, drawn along time. */
import { useId, useState } from "react";
import { defaultDropOff } from "../../../protection/interpreter/program";
import { scaleOf } from "../../forms/scales";
import { type BudgetRow, budgetView, spanWords, type Wanted } from "./budgetView";
import { typedUnit } from "./monitorFields";
import { useEdit, useStudy } from "./monitorsContext";

export interface BudgetPanelProps {
  readonly index: number;
  readonly criterion: number;
}

export function BudgetPanel({ index, criterion }: BudgetPanelProps) {
  const project = useEdit((s) => s.project);
  const bands = useStudy((s) => s.bands);
  const course = useStudy((s) => s.before?.alone.course ?? null);
  const [level, setLevel] = useState<{ readonly of: string; readonly value: number } | null>(null);
  const own = project.monitors[index]?.criteria[criterion];
  if (own === undefined) return null;
  const of = `${own.quantity} ${own.side}`;
  const chosen = level?.of === of ? level.value : null;
  const wanted: Wanted =
    chosen === null ? { kind: "race", course } : { kind: "level", level: chosen };
  const view = budgetView(project, index, criterion, bands, wanted);
  const past = own.pickup + 4 * (own.pickup - defaultDropOff(own.quantity, own.side, own.pickup));
  return (
    <section aria-labelledby="budget-title" className="budget">
      <h3 id="budget-title">Detection budget</h3>
      <LevelChoice
        unit={typedUnit(own.quantity)}
        level={chosen}
        first={past}
        onLevel={(value) => setLevel(value === null ? null : { of, value })}
      />
      {view === null ? (
        <p className="note">It is being worked out.</p>
      ) : (
        <>
          <p className="summary">{view.summary}</p>
          {view.operate !== null && (
            <table className="figures budget-table">
              <caption className="unseen">Detection budget, stage by stage</caption>
              <thead>
                <tr>
                  <th scope="col">Stage</th>
                  <th scope="col">Best</th>
                  <th scope="col">Worst</th>
                  <th scope="col" className="budget-time">
                    <span className="unseen">Along time</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {view.rows.map((row) => (
                  <Row key={row.key} row={row} endS={endOf(view.rows)} />
                ))}
                <TotalRow name="Operates" span={view.operate} endS={endOf(view.rows)} />
                {view.acted !== null && (
                  <TotalRow name="Has acted" span={view.acted} endS={endOf(view.rows)} />
                )}
              </tbody>
            </table>
          )}
          {view.operate !== null && (
            <p className="note">
              Best above, worst below. Noise and converter steps are left out; it is taken to be
              armed.
            </p>
          )}
        </>
      )}
    </section>
  );
}

function endOf(rows: readonly BudgetRow[]): number {
  return Math.max(
    1e-9,
    ...rows.map((r) => (r.fromWorstS ?? 0) + (r.fromWorstS === null ? 0 : r.worstS)),
  );
}

function Row({ row, endS }: { readonly row: BudgetRow; readonly endS: number }) {
  const { fromBestS, fromWorstS, bestS, worstS } = row;
  return (
    <tr>
      <th scope="row">
        {row.name}
        <small className="budget-note">{row.why}</small>
      </th>
      <td>{spanWords({ bestS, worstS: bestS })}</td>
      <td>{spanWords({ bestS: worstS, worstS })}</td>
      <td className="budget-time">
        {fromBestS !== null && fromWorstS !== null && (
          <Bars endS={endS} best={[fromBestS, bestS]} worst={[fromWorstS, worstS]} />
        )}
      </td>
    </tr>
  );
}

interface TotalRowProps {
  readonly name: string;
  readonly span: { readonly bestS: number; readonly worstS: number };
  readonly endS: number;
}

function TotalRow({ name, span, endS }: TotalRowProps) {
  return (
    <tr className="total">
      <th scope="row">{name}</th>
      <td>{spanWords({ bestS: span.bestS, worstS: span.bestS })}</td>
      <td>{spanWords({ bestS: span.worstS, worstS: span.worstS })}</td>
      <td className="budget-time">
        <Bars endS={endS} best={[0, span.bestS]} worst={[0, span.worstS]} />
      </td>
    </tr>
  );
}

type Bar = readonly [fromS: number, lengthS: number];

/** Two bars without words: only lengths matter, so they may be drawn in any width. */
function Bars({
  endS,
  best,
  worst,
}: {
  readonly endS: number;
  readonly best: Bar;
  readonly worst: Bar;
}) {
  const bar = ([fromS, lengthS]: Bar) => ({
    x: (100 * fromS) / endS,
    width: lengthS > 0 ? Math.max((100 * lengthS) / endS, 0.6) : 0,
  });
  return (
    <svg className="bars" viewBox="0 0 100 14" preserveAspectRatio="none" aria-hidden="true">
      <rect className="bar-best" y="1" height="5" {...bar(best)} />
      <rect className="bar-worst" y="8" height="5" {...bar(worst)} />
    </svg>
  );
}

interface LevelChoiceProps {
  readonly unit: string;
  /** Null while the present race's fault is taken. */
  readonly level: number | null;
  readonly first: number;
  readonly onLevel: (level: number | null) => void;
}

function LevelChoice({ unit, level, first, onLevel }: LevelChoiceProps) {
  const id = useId();
  const scale = scaleOf(unit);
  const [draft, setDraft] = useState<string | null>(null);
  const [refusal, setRefusal] = useState("");
  return (
    <div className="level-choice">
      <label htmlFor={`${id}-kind`}>The quantity</label>
      <select
        id={`${id}-kind`}
        value={level === null ? "race" : "level"}
        onChange={(event) => {
          setDraft(null);
          setRefusal("");
          onLevel(event.currentTarget.value === "race" ? null : Number(first.toPrecision(3)));
        }}
      >
        <option value="race">does what the present fault does</option>
        <option value="level">steps to a level</option>
      </select>
      {level !== null && (
        <span className="level-box">
          <input
            aria-label="Level it steps to"
            type="text"
            inputMode="decimal"
            autoComplete="off"
            value={draft ?? scale.format(level)}
            aria-invalid={refusal !== ""}
            aria-describedby={`${id}-says`}
            onChange={(event) => {
              const typed = event.currentTarget.value;
              setDraft(typed);
              const read = scale.parse(typed);
              setRefusal(read.ok ? "" : read.problem);
              if (read.ok) onLevel(read.value);
            }}
            onBlur={() => {
              if (refusal === "") setDraft(null);
            }}
          />
          <span className="unit">{unit}</span>
        </span>
      )}
      <span id={`${id}-says`} className="field-says" role={refusal === "" ? undefined : "alert"}>
        {refusal}
      </span>
    </div>
  );
}
