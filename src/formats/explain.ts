/** Turns the schema's issues into sentences: what stands there, what was expected, what to do. */
import type * as z from "zod/mini";
import { isPlain } from "./fillDefaults";
import { nearestName } from "./nearest";
import { type Finding, type PathStep, placeOf, shorten } from "./problem";
import type { RangeParams } from "./schema/parts";

type Issue = z.core.$ZodIssue;

/** Findings for the issues of one failed check, at most `most`. `checked` is the value that was checked. */
export function explainIssues(issues: readonly Issue[], checked: unknown, most: number): Finding[] {
  const findings: Finding[] = [];
  for (const issue of issues) {
    if (findings.length >= most) break;
    findings.push(...explainIssue(issue, issue.path as PathStep[], checked));
  }
  return findings;
}

function explainIssue(issue: Issue, path: PathStep[], checked: unknown): Finding[] {
  switch (issue.code) {
    case "unrecognized_keys":
      return issue.keys.map((key) => unknownKey(key, path, issue.message.split(" ")));
    case "invalid_union": {
      const options = "options" in issue ? (issue.options as unknown[]).map(String) : [];
      return [wrongWord(options, path, checked)];
    }
    case "invalid_value":
      return [wrongWord(issue.values.map(String), path, checked)];
    case "custom":
      return [custom(issue.params ?? {}, path, checked)];
    default:
      return [wrongType(issue.message, path, checked)];
  }
}

/** The value at a path; `undefined` where the path leaves the value. */
export function valueAt(root: unknown, path: readonly PathStep[]): unknown {
  let value = root;
  for (const step of path) {
    if (typeof step === "number") value = Array.isArray(value) ? value[step] : undefined;
    else value = isPlain(value) && Object.hasOwn(value, step) ? value[step] : undefined;
  }
  return value;
}

function lastName(path: readonly PathStep[]): string {
  const name = path.findLast((step) => typeof step === "string");
  return typeof name === "string" ? name : "the project";
}

function shown(value: unknown): string {
  if (Array.isArray(value)) return "a list";
  if (isPlain(value)) return "an object";
  return shorten(JSON.stringify(value) ?? "nothing", 40);
}

function unknownKey(key: string, path: PathStep[], known: readonly string[]): Finding {
  const near = nearestName(key, known);
  const where = path.length === 0 ? "a project" : placeOf(path);
  return {
    code: "unknownKey",
    path: [...path, key],
    at: "key",
    message: `${JSON.stringify(shorten(key, 40))} is no name that ${where} knows`,
    remedy: near === null ? `known here: ${known.join(", ")}` : `did you mean "${near}"?`,
  };
}

function missing(path: PathStep[], expected: string): Finding {
  const name = lastName(path);
  const owner = path.slice(0, -1);
  return {
    code: "missingKey",
    path: owner,
    at: "value",
    message: `"${name}" is missing from ${owner.length === 0 ? "the project" : placeOf(owner)}`,
    remedy: `add "${name}", ${expected}`,
  };
}

function wrongType(expected: string, path: PathStep[], checked: unknown): Finding {
  const value = valueAt(checked, path);
  if (value === undefined && path.length > 0) return missing(path, expected);
  return {
    code: "wrongType",
    path,
    at: "value",
    message: `${path.length === 0 ? "the project" : placeOf(path)} is ${shown(value)}, not ${expected}`,
    remedy: `write ${expected}`,
  };
}

function wrongWord(allowed: readonly string[], path: PathStep[], checked: unknown): Finding {
  const value = valueAt(checked, path);
  const choice = `${allowed.length > 1 ? "one of " : ""}${allowed.map((word) => `"${word}"`).join(", ")}`;
  if (value === undefined) return missing(path, choice);
  if (typeof value !== "string") return wrongType(choice, path, checked);
  const near = nearestName(value, allowed);
  return {
    code: "unknownWord",
    path,
    at: "value",
    message: `${placeOf(path)} is ${shown(value)}, which is none of the words it may have`,
    remedy: near === null ? `write ${choice}` : `did you mean "${near}"? It may be ${choice}`,
  };
}

/** `from 1 to 16`, `above 0 and up to 1e-6 F`. */
export function rangeWords(range: Omit<RangeParams, "finding">): string {
  const unit = range.unit === "" ? "" : ` ${range.unit}`;
  const low = range.aboveMin ? `above ${range.min}` : `from ${range.min}`;
  const high = range.belowMax
    ? `below ${range.max}`
    : `${range.aboveMin ? "up to" : "to"} ${range.max}`;
  return range.aboveMin || range.belowMax ? `${low} and ${high}${unit}` : `${low} ${high}${unit}`;
}

/** The finding for a number outside `range`: what it is, with its unit, and what would be taken. */
export function outOfRange(
  path: readonly PathStep[],
  value: number,
  range: Omit<RangeParams, "finding">,
): Finding {
  const unit = range.unit === "" ? "" : ` ${range.unit}`;
  return {
    code: "outOfRange",
    path,
    at: "value",
    message: `${placeOf(path)} is ${value}${unit}, outside its range`,
    remedy: `give a value ${rangeWords(range)}`,
  };
}

function custom(
  params: Readonly<Record<string, unknown>>,
  path: PathStep[],
  checked: unknown,
): Finding {
  const value = valueAt(checked, path);
  if (params.finding === "range") {
    return outOfRange(path, value as number, params as unknown as RangeParams);
  }
  if (params.finding === "missing") {
    return missing([...path, String(params.name)], String(params.expected));
  }
  if (params.finding === "either") {
    return {
      code: "wrongPlace",
      path,
      at: "key",
      message: "the key is either held or sent as text, not both",
      remedy: 'keep "down", or keep "text" with "wordsPerMinute"',
    };
  }
  if (params.finding === "notWhole") {
    return {
      code: "notWhole",
      path,
      at: "value",
      message: `${placeOf(path)} is ${shown(value)}, which is not a whole number`,
      remedy: "give a whole number",
    };
  }
  return {
    code: "outOfRange",
    path,
    at: "value",
    message: `${placeOf(path)} has ${(value as string).length} characters`,
    remedy: `keep it within ${String(params.most)} characters`,
  };
}
