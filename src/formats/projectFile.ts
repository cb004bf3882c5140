/**
 * Reading a project file: text in, a checked project or problems out. Never throws, changes nothing.
 *
 * A file may leave out whatever the demonstration station supplies (`fillDefaults.ts`). Entries of the scenario may stand
 * in any order; they are sorted by time, entries at one instant keep their order. Event times and scan times
 * are rounded to whole nanoseconds here, once.
 */
import type { MonitorDef, Project, ScenarioEntry } from "../project/types";
import { explainIssues } from "./explain";
import { fillDefaults, isPlain } from "./fillDefaults";
import { lineColumn, spanOf } from "./jsonPlaces";
import { type JsonNode, readJsonText } from "./jsonText";
import { checkMeaning, noticesOf } from "./meaning";
import { nearestName } from "./nearest";
import {
  type Finding,
  MAX_LISTED,
  type Notice,
  type PathStep,
  type Problem,
  type ProblemCode,
  placeOf,
  shorten,
} from "./problem";
import { projectSchema } from "./schema/projectSchema";

export type ProjectReading =
  | { readonly ok: true; readonly project: Project; readonly notices: readonly Notice[] }
  | {
      readonly ok: false;
      /** At most `MAX_LISTED`, in the order of the file. */
      readonly problems: readonly Problem[];
      /** How many more there are. */
      readonly omitted: number;
    };

/** Largest text that is looked at, in characters. */
export const MAX_CHARACTERS = 5_000_000;

/** Reads a project. The text may begin with a byte order mark. */
export function readProject(source: string): ProjectReading {
  const text = source.startsWith("\ufeff") ? source.slice(1) : source;
  if (text.length > MAX_CHARACTERS) {
    return whole(
      "tooLarge",
      `the file has ${text.length} characters, more than ${MAX_CHARACTERS}`,
      "a project needs some thousands; check that this is the file you meant",
    );
  }
  if (text.trim() === "") {
    return whole(
      "emptyFile",
      "the file is empty",
      "save the project again, or start from a sample",
    );
  }
  const reading = readJsonText(text);
  if (!reading.ok) {
    const { kind, offset, message, remedy } = reading.fault;
    const code = kind === "depth" ? "tooDeep" : "notJson";
    return refuse([
      { ...problemAt(text, offset, offset + 1, { code, message, remedy }), place: "" },
    ]);
  }
  const repeated = reading.repeated.map((key) => {
    const first = lineColumn(text, key.firstAt);
    return {
      ...problemAt(text, key.offset, key.end, {
        code: "duplicateKey",
        message: `${text.slice(key.offset, key.end)} stands here a second time, after line ${first.line}`,
        remedy: "keep one of the two",
      }),
      place: placeOf(key.path),
    };
  });
  const { findings, project } = check(JSON.parse(text));
  const problems = [...repeated, ...findings.map((found) => place(text, reading.root, found))];
  if (project === null || problems.length > 0) return refuse(problems);
  return finish(project);
}

/** Checks a value that came from somewhere else than a text, such as a worker's message. */
function check(raw: unknown): { findings: readonly Finding[]; project: Project | null } {
  const strange: Finding[] = [];
  inspect(raw, [], strange);
  const header = checkHeader(raw);
  if (header.length > 0 || !isPlain(raw)) return { findings: header, project: null };

  const result = projectSchema.safeParse(fillDefaults(raw));
  if (result.success) {
    const project: Project = result.data;
    return { findings: [...strange, ...checkMeaning(project)], project };
  }
  const known = new Set(strange.map((found) => placeOf(found.path)));
  const issues = explainIssues(result.error.issues, fillDefaults(raw));
  const fresh = issues.filter((found) => !known.has(placeOf(found.path)));
  return { findings: [...strange, ...fresh], project: null };
}

/** Numbers too large to be held, and the one key that must not be copied. Removes the latter from the value. */
function inspect(value: unknown, path: PathStep[], findings: Finding[]): void {
  if (typeof value === "number" && !Number.isFinite(value)) {
    findings.push({
      code: "notFinite",
      path: [...path],
      at: "value",
      message: `${placeOf(path)} is too large for a number`,
      remedy: "write a finite number; values go up to about 1.8e308",
    });
  } else if (Array.isArray(value)) {
    for (const [index, item] of value.entries()) {
      path.push(index);
      inspect(item, path, findings);
      path.pop();
    }
  } else if (isPlain(value)) {
    for (const name of Object.keys(value)) {
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
}

/** Whether this is a project file of a version we read at all; if not, nothing else is worth saying. */
function checkHeader(raw: unknown): Finding[] {
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

function finish(checked: Project): ProjectReading {
  const scenario = checked.scenario.map(
    (entry): ScenarioEntry => ({ ...entry, atS: wholeNs(entry.atS) }),
  );
  const monitors = checked.monitors.map(
    (monitor): MonitorDef => ({ ...monitor, scanS: wholeNs(monitor.scanS) }),
  );
  const inOrder = scenario.every(
    (entry, index) => index === 0 || (scenario[index - 1] as ScenarioEntry).atS <= entry.atS,
  );
  if (!inOrder) scenario.sort((a, b) => a.atS - b.atS);
  const project: Project = {
    ...checked,
    endS: wholeNs(checked.endS),
    operatorS: wholeNs(checked.operatorS),
    monitors,
    scenario,
  };
  const notices = noticesOf(project);
  if (!inOrder) {
    notices.push({
      place: "scenario",
      message: "the entries were not in order of time; they have been sorted",
    });
  }
  return { ok: true, project, notices };
}

function wholeNs(seconds: number): number {
  return Math.round(seconds * 1e9) / 1e9;
}

function place(text: string, root: JsonNode, found: Finding): Problem {
  const span = spanOf(root, found.path, found.at);
  return { ...problemAt(text, span.start, span.end, found), place: placeOf(found.path) };
}

function problemAt(
  text: string,
  start: number,
  end: number,
  cause: { readonly code: ProblemCode; readonly message: string; readonly remedy: string },
): Omit<Problem, "place"> {
  const { code, message, remedy } = cause;
  return {
    code,
    ...lineColumn(text, start),
    quoted: shorten(text.slice(start, end), 60),
    message,
    remedy,
  };
}

function whole(code: ProblemCode, message: string, remedy: string): ProjectReading {
  return refuse([{ code, place: "", line: 1, column: 1, quoted: "", message, remedy }]);
}

function refuse(problems: readonly Problem[]): ProjectReading {
  const inOrder = [...problems].sort((a, b) => a.line - b.line || a.column - b.column);
  const listed = inOrder.slice(0, MAX_LISTED);
  return { ok: false, problems: listed, omitted: inOrder.length - listed.length };
}
