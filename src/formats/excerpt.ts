/** Three lines of a text round a place, with the column marked. */
import { shorten } from "./problem";

const WIDTH = 100;

/**
 * The line before, the line itself and the line after, each with its number, and a mark under the column.
 * Long lines are cut to a window round the column; tabs count as one column and are drawn as one space.
 */
export function excerpt(text: string, line: number, column: number): string {
  const lines = text.split(/\r\n|\n|\r/);
  const digits = String(Math.min(line + 1, lines.length)).length;
  const from = column > WIDTH - 20 ? column - 1 - Math.floor(WIDTH / 2) : 0;
  const rows: string[] = [];
  for (
    let number = Math.max(1, line - 1);
    number <= Math.min(lines.length, line + 1);
    number += 1
  ) {
    const whole = (lines[number - 1] ?? "").replace(/[\u0000-\u001f]/g, " ");
    const shown = shorten(whole.slice(from), WIDTH);
    rows.push(`${String(number).padStart(digits)} | ${shown}`.trimEnd());
    if (number === line) rows.push(`${" ".repeat(digits)} | ${" ".repeat(column - 1 - from)}^`);
  }
  return rows.join("\n");
}
