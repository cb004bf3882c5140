/** What is said about a file that cannot be used: where, what, why, and what to do. */

export type ProblemCode =
  | "emptyFile"
  | "tooLarge"
  | "tooDeep"
  | "tooMany"
  | "notJson"
  | "duplicateKey"
  | "notFinite"
  | "wrongFormat"
  | "wrongVersion"
  | "wrongType"
  | "missingKey"
  | "unknownKey"
  | "unknownWord"
  | "outOfRange"
  | "notWhole"
  | "notPassive"
  | "wrongPlace"
  | "wrongOrder"
  | "repeatedId"
  | "unknownMonitor"
  | "doesNotDivide"
  | "noBand";

export interface Problem {
  readonly code: ProblemCode;
  /** Path inside the file, `station.tube.mu` or `scenario[3].atS`; empty for the file as a whole. */
  readonly place: string;
  /** Both from 1; a column counts UTF-16 units, as editors do. */
  readonly line: number;
  readonly column: number;
  /** The text found there, shortened. */
  readonly quoted: string;
  /** Cause, without a full stop. */
  readonly message: string;
  /** What to do about it, without a full stop. */
  readonly remedy: string;
}

/** Something that was accepted and changed or may surprise. */
export interface Notice {
  readonly place: string;
  readonly message: string;
}

export type PathStep = string | number;

/** A problem before its position is looked up. `at: "key"` marks the name, not the value. */
export interface Finding {
  readonly code: ProblemCode;
  readonly path: readonly PathStep[];
  readonly at: "key" | "value";
  readonly message: string;
  readonly remedy: string;
}

/** A finding about a value. */
export function finding(
  code: ProblemCode,
  path: readonly PathStep[],
  message: string,
  remedy: string,
): Finding {
  return { code, path, at: "value", message, remedy };
}

/** Most problems that are listed; the rest is counted. */
export const MAX_LISTED = 20;

/** Looking for problems ends at about so many: a file with more is not a project with slips of the pen. */
export const MAX_FOUND = 1000;

/** `["scenario", 3, "atS"]` as `scenario[3].atS`; names that are no plain words are quoted. */
export function placeOf(path: readonly PathStep[]): string {
  let place = "";
  for (const step of path) {
    if (typeof step === "number") place += `[${step}]`;
    else if (/^[A-Za-z_][A-Za-z0-9_]*$/.test(step)) place += place === "" ? step : `.${step}`;
    else place += `[${JSON.stringify(shorten(step, 40))}]`;
  }
  return place;
}

/** Text cut to a length, on one line. */
export function shorten(text: string, most: number): string {
  const end = text.search(/[\r\n]/);
  const line = end < 0 ? text : text.slice(0, end);
  return line.length <= most && end < 0 ? line : `${line.slice(0, most - 1).trimEnd()}…`;
}

/** Longest run in seconds: two hours, well over any demonstration. */
export const LONGEST_S = 7200;
