/**
 * Golden traces: the few signals of a named run that matter, kept in tests/golden/<name>.csv. They guard against
 * unnoticed change and prove nothing. `npm run golden` writes them anew; the difference is read before it is kept.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect } from "vitest";
import { expectWithin } from "./expectWithin";
import { ROOT } from "./root";

/** Columns of equal length by name with unit suffix, for example plateCurrentA. */
export type Columns = Readonly<Record<string, ArrayLike<number>>>;

/** One line of names, then one line a row, six significant digits. */
export function csvOf(columns: Columns): string {
  const names = Object.keys(columns);
  const length = columns[names[0] ?? ""]?.length ?? 0;
  const lines = [names.join(",")];
  for (let row = 0; row < length; row++) {
    lines.push(names.map((name) => Number(columns[name]?.[row]).toPrecision(6)).join(","));
  }
  return `${lines.join("\n")}\n`;
}

/**
 * Compares columns with the kept trace. Each value may differ by `relative` of itself, or of 1 % of the column's
 * largest value where it is smaller than that; six digits alone cost 5e-6.
 */
export function expectGolden(
  name: string,
  columns: Columns,
  relative: number,
  reason: string,
): void {
  const file = resolve(ROOT, "tests/golden", `${name}.csv`);
  if (process.env.QUIETARC_GOLDEN === "write") {
    mkdirSync(resolve(ROOT, "tests/golden"), { recursive: true });
    writeFileSync(file, csvOf(columns));
  }
  if (!existsSync(file)) throw new Error(`no golden trace ${name}: run npm run golden and read it`);
  compareWithCsv(readFileSync(file, "utf8"), columns, relative, reason);
}

/** The comparison itself, apart from the file. */
export function compareWithCsv(
  csv: string,
  columns: Columns,
  relative: number,
  reason: string,
): void {
  const [header, ...rows] = csv.trimEnd().split("\n");
  const names = header?.split(",") ?? [];
  expect(Object.keys(columns)).toEqual(names);
  const kept = rows.map((row) => row.split(",").map(Number));
  names.forEach((name, k) => {
    const values = columns[name] ?? [];
    expect(values.length, `rows of ${name}`).toBe(kept.length);
    const largest = Math.max(...kept.map((row) => Math.abs(row[k] as number)), 0);
    kept.forEach((row, i) => {
      const expected = row[k] as number;
      const scale = Math.max(Math.abs(expected), 0.01 * largest);
      expectWithin(values[i] as number, expected, relative * scale, `${name}, row ${i}: ${reason}`);
    });
  });
}
