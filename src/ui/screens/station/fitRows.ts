/** Rows of a data sheet as they are typed or pasted, and the points they make. */
import type { RegisteredTube, TypicalColumn } from "../../../project/registeredTube";
import type { FittedQuantity, TubePoint } from "../../../study/tubePoints";
import { type Scale, scaleOf } from "../../forms/scales";

export type FitMode = "operation" | "curve";

export interface FitColumn {
  readonly name: string;
  readonly label: string;
  readonly scale: Scale;
  /** May stay empty. */
  readonly optional: boolean;
}

function column(name: string, label: string, unit: string, optional = false): FitColumn {
  return { name, label, scale: scaleOf(unit), optional };
}

export const FIT_COLUMNS: Readonly<Record<FitMode, readonly FitColumn[]>> = {
  operation: [
    column("tubes", "Tubes", ""),
    column("plateV", "Plate voltage", "V"),
    column("cathodeV", "Cathode bias", "V"),
    column("idleA", "Idle current", "mA", true),
    column("plateCurrentA", "Plate current", "mA"),
    column("gridCurrentA", "Grid current", "mA", true),
    column("driveW", "Drive", "W", true),
    column("plateLoadOhm", "Plate load", "Ω", true),
    column("outputW", "Output", "W", true),
  ],
  curve: [
    column("gridV", "Grid to cathode", "V"),
    column("plateV", "Plate to cathode", "V"),
    column("plateCurrentA", "Plate current", "mA"),
    column("gridCurrentA", "Grid current", "mA", true),
  ],
};

export const QUANTITY_WORDS: Readonly<Record<FittedQuantity, readonly [string, string]>> = {
  idleA: ["idle current", "A"],
  plateCurrentA: ["plate current", "A"],
  gridCurrentA: ["grid current", "A"],
  driveW: ["drive", "W"],
  outputW: ["output", "W"],
};

/** Cells of one row, in the order of the columns. */
export type FitRow = readonly string[];

export function emptyRow(mode: FitMode): FitRow {
  return FIT_COLUMNS[mode].map(({ name }) => (name === "tubes" ? "1" : ""));
}

/** A pasted table laid over the rows from one cell on; new rows are added as they are needed. */
export function pasted(
  rows: readonly FitRow[],
  mode: FitMode,
  at: { readonly row: number; readonly column: number },
  text: string,
): readonly FitRow[] {
  const lines = text
    .replace(/\s+$/, "")
    .split(/\r?\n/)
    .map((line) => line.split(/\t|;/).map((cell) => cell.trim()));
  const next = rows.map((row) => [...row]);
  for (const [r, cells] of lines.entries()) {
    const row = at.row + r;
    while (next.length <= row) next.push([...emptyRow(mode)]);
    for (const [c, cell] of cells.entries()) {
      const own = next[row] as string[];
      if (at.column + c < own.length) own[at.column + c] = cell;
    }
  }
  return next;
}

export interface RowProblem {
  readonly row: number;
  readonly column: number;
  readonly words: string;
}

/** The points of all rows that say anything, or what cannot be read. */
export function pointsOf(
  rows: readonly FitRow[],
  mode: FitMode,
): { readonly points: readonly TubePoint[]; readonly problems: readonly RowProblem[] } {
  const columns = FIT_COLUMNS[mode];
  const problems: RowProblem[] = [];
  const points: TubePoint[] = [];
  for (const [row, cells] of rows.entries()) {
    const isBlank = cells.every((cell, k) => cell.trim() === "" || columns[k]?.name === "tubes");
    if (isBlank) continue;
    const values: Record<string, number | null> = {};
    for (const [k, { name, label, scale, optional }] of columns.entries()) {
      const typed = (cells[k] ?? "").trim();
      if (typed === "" && optional) {
        values[name] = null;
        continue;
      }
      const read = scale.parse(typed);
      if (read.ok) values[name] = read.value;
      else {
        const words = `Point ${row + 1}, ${label.toLowerCase()}: ${read.problem}`;
        problems.push({ row, column: k, words });
      }
    }
    points.push({ kind: mode, ...values } as unknown as TubePoint);
  }
  return { points, problems };
}

/** The columns of a registered type, as rows to begin with. */
export function rowsOfType({ columns }: RegisteredTube): readonly FitRow[] {
  return columns.map((given: TypicalColumn) =>
    FIT_COLUMNS.operation.map(({ name, scale }) => {
      if (name === "tubes") return String(given.tubes);
      const figure = given[name as Exclude<keyof TypicalColumn, "tubes">];
      return figure === null ? "" : scale.format(figure.value);
    }),
  );
}
