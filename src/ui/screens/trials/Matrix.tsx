/**
 * A matrix of cells, each with its shape, its word and its margin as a figure and as a length on one logarithmic scale: the
 * same margin has the same length everywhere; the margin by the early edge of the estimates stands under it. Arrow keys go from cell to cell; one of them is in the tab order.
 */
import { memo, useId, useRef, useState } from "react";
import { formatRatio } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { CellMark } from "./CellMark";
import { cellWords, type JudgedMargins, MISSING } from "./cellWords";

export interface MatrixCell extends JudgedMargins {
  /** Number of its case. */
  readonly index: number;
}

export type MatrixRows = ReadonlyMap<string, ReadonlyMap<string, MatrixCell>>;

/** Cells by their rows and columns, rows in the order in which they come. */
export function matrixRows(
  cells: readonly (MatrixCell & { readonly row: string; readonly column: string })[],
): MatrixRows {
  const rows = new Map<string, Map<string, MatrixCell>>();
  for (const cell of cells) {
    const row = rows.get(cell.row) ?? new Map<string, MatrixCell>();
    row.set(cell.column, cell);
    rows.set(cell.row, row);
  }
  return rows;
}

export interface MatrixProps {
  /** Over the names of the rows. */
  readonly head: string;
  readonly rows: MatrixRows;
  readonly columns: readonly string[];
  /** The margin that was asked for. */
  readonly required: number;
  readonly chosen: number | null;
  /** What stands where no case has a result, and what it means. */
  readonly missing: (row: string, column: string) => string;
  readonly missingWords: string;
  readonly onChoose: (index: number) => void;
}

export function Matrix(props: MatrixProps) {
  const { head, rows, columns, required, chosen, missing, missingWords, onChoose } = props;
  const meaning = useId();
  const table = useRef<HTMLTableElement | null>(null);
  const [at, setAt] = useState({ row: 0, column: 0 });
  const names = [...rows.keys()];
  const isMissing = names.some((name) =>
    columns.some(
      (title) => rows.get(name)?.has(title) !== true && missing(name, title) === MISSING,
    ),
  );
  const row = Math.min(at.row, Math.max(names.length - 1, 0));
  const column = Math.min(at.column, Math.max(columns.length - 1, 0));
  const steps: Readonly<Record<string, readonly [number, number]>> = {
    ArrowUp: [row - 1, column],
    ArrowDown: [row + 1, column],
    ArrowLeft: [row, column - 1],
    ArrowRight: [row, column + 1],
    Home: [row, 0],
    End: [row, columns.length - 1],
  };
  const go = ([toRow, toColumn]: readonly [number, number]): void => {
    const r = Math.min(Math.max(toRow, 0), names.length - 1);
    const c = Math.min(Math.max(toColumn, 0), columns.length - 1);
    setAt({ row: r, column: c });
    table.current?.querySelector<HTMLElement>(`[data-cell="${r}-${c}"]`)?.focus();
  };
  return (
    <>
      {isMissing && (
        <p className="note" id={meaning}>
          {missingWords}
        </p>
      )}
      <div className="matrix-scroll">
        <table
          className="matrix"
          ref={table}
          aria-describedby={isMissing ? meaning : undefined}
          onKeyDown={(event) => {
            const step = steps[event.key];
            if (step === undefined) return;
            event.preventDefault();
            go(step);
          }}
        >
          <ColumnHeads words={[head, ...columns]} />
          <tbody>
            {names.map((name, r) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                {columns.map((title, c) => {
                  const cell = rows.get(name)?.get(title);
                  return (
                    <td key={title}>
                      {cell === undefined ? (
                        <span className="note">{missing(name, title)}</span>
                      ) : (
                        <CellButton
                          index={cell.index}
                          kind={cell.kind}
                          margin={cell.margin}
                          marginEarly={cell.marginEarly}
                          required={required}
                          at={`${r}-${c}`}
                          label={`${name}, ${title}`}
                          isChosen={cell.index === chosen}
                          isInOrder={r === row && c === column}
                          onChoose={onChoose}
                        />
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

interface CellButtonProps extends MatrixCell {
  readonly required: number;
  readonly at: string;
  readonly label: string;
  readonly isChosen: boolean;
  readonly isInOrder: boolean;
  readonly onChoose: (index: number) => void;
}

const CellButton = memo(function CellButton(props: CellButtonProps) {
  const { index, kind, margin, required, at, label, isChosen, isInOrder, onChoose } = props;
  const ratio = margin === null ? "" : formatRatio(margin);
  const words = cellWords(props, required);
  const figures = [
    ...(ratio === "" ? [] : [`margin ${ratio}`]),
    ...(words.early === "" ? [] : [words.early.replace("early", "early edge")]),
  ];
  return (
    <button
      type="button"
      className={`cell ${kind}`}
      data-cell={at}
      tabIndex={isInOrder ? 0 : -1}
      aria-pressed={isChosen}
      aria-label={`${label}: ${[words.kind, ...figures].join(", ")}`}
      onClick={() => onChoose(index)}
    >
      <span className="cell-head">
        <CellMark kind={kind} />
        <b>{ratio}</b>
      </span>
      <span className="cell-word">{words.kind}</span>
      {words.early !== "" && (
        <span className={words.isWorseEarly ? "cell-word worse" : "cell-word"}>{words.early}</span>
      )}
      <span
        className="cell-bar"
        style={{ inlineSize: `${margin === null ? 0 : 100 * barShare(margin)}%` }}
      />
    </button>
  );
});

/** A margin of ten thousand fills the cell. */
function barShare(margin: number): number {
  return Math.min(Math.max(Math.log10(margin) / 4, 0), 1);
}
