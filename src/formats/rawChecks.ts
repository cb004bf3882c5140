/** What is looked at before the schema: is this a project at all, and does it hold what no project may hold. */
import { isPlain } from "./fillDefaults";
import { nearestName } from "./nearest";
import { type Finding, MAX_FOUND, type PathStep, placeOf, shorten } from "./problem";

/** Whether this is a project file of a version we read at all; if not, nothing else is worth saying. */
export function checkHeader(raw: unknown): Finding[] {
  if (!isPlain(raw)) {
    const what = Array.isArray(raw) ? "a list" : shorten(JSON.stringify(raw) ?? "", 40);
    return [
      {
        code: "wrongFormat",
        path: [],
        at: "value",
        message: `the file holds ${what}, not a project`,
        remedy: 'a project is an object: { "format": "quietarc-project", "schemaVersion": 1, ... }',
      },
    ];
  }
  const { format, schemaVersion } = raw;
  if (!Object.hasOwn(raw, "format") || format !== "quietarc-project") {
    const near = Object.keys(raw).find((key) => nearestName(key, ["format"]) !== null);
    const missing = !Object.hasOwn(raw, "format");
    return [
      {
        code: "wrongFormat",
        path: missing ? [] : ["format"],
        at: "value",
        message: missing
          ? `"format" is missing${near === undefined ? "" : `; ${JSON.stringify(shorten(near, 40))} stands there instead`}`
          : `the format is ${shorten(JSON.stringify(format), 40)}`,
        remedy: 'a project begins with "format": "quietarc-project"',
      },
    ];
  }
  if (!Object.hasOwn(raw, "schemaVersion") || schemaVersion !== 1) {
    const missing = !Object.hasOwn(raw, "schemaVersion");
    const newer = typeof schemaVersion === "number" && schemaVersion > 1;
    return [
      {
        code: "wrongVersion",
        path: missing ? [] : ["schemaVersion"],
        at: "value",
        message: missing
          ? '"schemaVersion" is missing'
          : `the file has version ${shorten(JSON.stringify(schemaVersion), 40)}; this program reads version 1`,
        remedy: newer ? "open it with a newer program" : 'write "schemaVersion": 1',
      },
    ];
  }
  return [];
}

/** Longest lists. An hour of hand movements is some thousands of entries. */
const MAX_ENTRIES = 20_000;
const MAX_MONITORS = 200;
const MAX_ITEMS = 100;
/** Most names in one object; the largest of ours has sixteen. */
const MAX_NAMES = 64;

/**
 * Numbers too large to be held, lists and objects far too long, and the one name that must not be copied: it is taken
 * out of the value.
 */
export function checkContents(raw: unknown): Finding[] {
  const findings: Finding[] = [];
  inspect(raw, [], findings);
  return findings;
}

function inspect(value: unknown, path: PathStep[], findings: Finding[]): void {
  if (findings.length >= MAX_FOUND) return;
  if (typeof value === "number" && !Number.isFinite(value)) {
    findings.push({
      code: "notFinite",
      path: [...path],
      at: "value",
      message: `${placeOf(path)} is too large for a number`,
      remedy: "write a finite number; values go up to about 1.8e308",
    });
  } else if (Array.isArray(value)) {
    const most = longest(path);
    if (value.length > most) {
      findings.push(tooMany(path, value.length, most, "items"));
      return;
    }
    for (const [index, item] of value.entries()) {
      path.push(index);
      inspect(item, path, findings);
      path.pop();
    }
  } else if (isPlain(value)) {
    inspectMembers(value, path, findings);
  }
}

function inspectMembers(
  value: Record<string, unknown>,
  path: PathStep[],
  findings: Finding[],
): void {
  const names = Object.keys(value);
  if (names.length > MAX_NAMES) {
    findings.push(tooMany(path, names.length, MAX_NAMES, "names"));
    return;
  }
  for (const name of names) {
    path.push(name);
    if (name === "__proto__") {
      findings.push({
        code: "unknownKey",
        path: [...path],
        at: "key",
        message: '"__proto__" is no name that a project knows',
        remedy: "remove it",
      });
      delete value[name];
    } else {
      inspect(value[name], path, findings);
    }
    path.pop();
  }
}

function longest(path: readonly PathStep[]): number {
  if (path.length !== 1) return MAX_ITEMS;
  if (path[0] === "scenario") return MAX_ENTRIES;
  return path[0] === "monitors" ? MAX_MONITORS : MAX_ITEMS;
}

function tooMany(path: readonly PathStep[], count: number, most: number, what: string): Finding {
  return {
    code: "tooMany",
    path: [...path],
    at: "value",
    message: `${path.length === 0 ? "the project" : placeOf(path)} has ${count} ${what}`,
    remedy: `keep it within ${most}`,
  };
}
