/**
 * Reading a project file: text in, a checked project or problems out. Never throws, changes nothing.
 *
 * A file may leave out whatever the demonstration station supplies (`fillDefaults.ts`), but for the monitors of a station
 * of its own (`followStation.ts`). Entries of the scenario may stand
 * in any order; they are sorted by time, entries at one instant keep their order. Event times and scan times
 * are rounded to whole nanoseconds here, once.
 */
import type { MonitorDef } from "../project/protection";
import type { ScenarioEntry } from "../project/scenario";
import type { Project } from "../project/types";
import { explainIssues } from "./explain";
import { fillDefaults, isPlain } from "./fillDefaults";
import { followStation } from "./followStation";
import { lineColumn, spanOf } from "./jsonPlaces";
import { type JsonNode, type RepeatedKey, readJsonText } from "./jsonText";
import { checkMeaning, noticesOf } from "./meaning";
import {
  type Finding,
  MAX_FOUND,
  MAX_LISTED,
  type Notice,
  type Problem,
  type ProblemCode,
  placeOf,
  shorten,
} from "./problem";
import { checkContents, checkHeader } from "./rawChecks";
import { entriesSchema, projectSchema } from "./schema/projectSchema";

export type ProjectReading =
  | { readonly ok: true; readonly project: Project; readonly notices: readonly Notice[] }
  | {
      readonly ok: false;
      /** At most `MAX_LISTED`, in the order of the file. */
      readonly problems: readonly Problem[];
      /** How many more were found; the search ends at about `MAX_FOUND`. */
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
    const { kind, offset: start, message, remedy } = reading.fault;
    const code = kind === "depth" ? "tooDeep" : "notJson";
    return refuse(text, [{ code, place: "", start, end: start + 1, message, remedy }]);
  }
  const raw: unknown = JSON.parse(text);
  const { findings, project } = check(raw);
  const located = [
    ...reading.repeated.map((key) => locateRepeated(text, key)),
    ...findings.map((found) => locate(reading.root, found)),
  ];
  if (project === null || located.length > 0) return refuse(text, located);
  const followed = followStation(project, raw as object);
  return finish(followed.project, followed.notices);
}

/** Everything that is wrong with a parsed value, and the project when nothing is. */
function check(raw: unknown): { findings: readonly Finding[]; project: Project | null } {
  const header = checkHeader(raw);
  if (header.length > 0 || !isPlain(raw)) return { findings: header, project: null };
  const strange = checkContents(raw);
  // A list far too long or a thousand strange values need no closer look.
  if (strange.length >= MAX_FOUND || strange.some((found) => found.code === "tooMany")) {
    return { findings: strange, project: null };
  }
  const shape = checkShape(fillDefaults(raw));
  if (shape.project !== null) {
    return { findings: [...strange, ...checkMeaning(shape.project)], project: shape.project };
  }
  const known = new Set(strange.map((found) => placeOf(found.path)));
  const fresh = shape.findings.filter((found) => !known.has(placeOf(found.path)));
  return { findings: [...strange, ...fresh], project: null };
}

/** Entries of a scenario that are checked in one go. */
const STRETCH = 1000;

/**
 * The schema's verdict. The scenario is checked a stretch at a time, so that a long one full of mistakes ends the
 * search early.
 */
function checkShape(filled: Readonly<Record<string, unknown>>): {
  findings: readonly Finding[];
  project: Project | null;
} {
  const { scenario } = filled;
  const result = projectSchema.safeParse(
    Array.isArray(scenario) ? { ...filled, scenario: [] } : filled,
  );
  const findings = result.success ? [] : explainIssues(result.error.issues, filled, MAX_FOUND);
  const entries: ScenarioEntry[] = [];
  const count = Array.isArray(scenario) ? scenario.length : 0;
  for (let from = 0; from < count && findings.length < MAX_FOUND; from += STRETCH) {
    const stretch = (scenario as unknown[]).slice(from, from + STRETCH);
    const checked = entriesSchema.safeParse(stretch);
    if (checked.success) {
      for (const entry of checked.data) entries.push(entry);
      continue;
    }
    const issues = checked.error.issues.map((issue) => ({
      ...issue,
      path: ["scenario", from + (issue.path[0] as number), ...issue.path.slice(1)],
    }));
    findings.push(...explainIssues(issues, filled, MAX_FOUND - findings.length));
  }
  if (!result.success || findings.length > 0) return { findings, project: null };
  return { findings, project: { ...result.data, scenario: entries } };
}

function finish(checked: Project, said: readonly Notice[]): ProjectReading {
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
  const notices = [...said, ...noticesOf(project)];
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

/** A problem whose line and column are still to be counted: only those that are listed are worth it. */
interface Located {
  readonly code: ProblemCode;
  readonly place: string;
  readonly start: number;
  readonly end: number;
  readonly message: string;
  readonly remedy: string;
  /** Where the name stood before; the line of that place is added to the message. */
  readonly firstAt?: number;
}

function locate(root: JsonNode, found: Finding): Located {
  const { code, message, remedy } = found;
  return {
    code,
    place: placeOf(found.path),
    ...spanOf(root, found.path, found.at),
    message,
    remedy,
  };
}

function locateRepeated(text: string, key: RepeatedKey): Located {
  return {
    code: "duplicateKey",
    place: placeOf(key.path),
    start: key.offset,
    end: key.end,
    message: `${shorten(text.slice(key.offset, key.end), 60)} stands here a second time`,
    remedy: "keep one of the two",
    firstAt: key.firstAt,
  };
}

function whole(code: ProblemCode, message: string, remedy: string): ProjectReading {
  return refuse("", [{ code, place: "", start: 0, end: 0, message, remedy }]);
}

function refuse(text: string, located: readonly Located[]): ProjectReading {
  const inOrder = [...located].sort((a, b) => a.start - b.start);
  const problems = inOrder.slice(0, MAX_LISTED).map((found): Problem => {
    const { code, place, start, end, message, remedy, firstAt } = found;
    const before = firstAt === undefined ? "" : `, after line ${lineColumn(text, firstAt).line}`;
    return {
      code,
      place,
      ...lineColumn(text, start),
      quoted: shorten(text.slice(start, end), 60),
      message: message + before,
      remedy,
    };
  });
  return { ok: false, problems, omitted: inOrder.length - problems.length };
}
