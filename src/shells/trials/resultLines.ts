/**
 * Results of a trial as JSON Lines: a first line that says what was run, whole and repeatable, then one line a case in the
 * order of their numbers. Equal runs give equal bytes, whoever ran them and in how many shares.
 */
import { MAX_CHARACTERS, readProject } from "../../formats/projectFile";
import { writeProject } from "../../formats/writeProject";
import { hashText, mixText } from "../../simulation/recordHash";
import { type Plain, TRIAL_KINDS, type TrialRequest } from "../../study/trials/trial";
import type { CaseResult } from "./protocol";

const FORMAT = "quietarc-trial";
export const SCHEMA_VERSION = 1;

/** The share `number` of `of`, both from 1: a stretch of neighbouring cases, since neighbours may share work. */
export interface Share {
  readonly number: number;
  readonly of: number;
}

export const WHOLE: Share = { number: 1, of: 1 };

export interface Header {
  readonly request: TrialRequest;
  readonly count: number;
  readonly share: Share;
}

export function indicesOf({ number, of }: Share, count: number): readonly number[] {
  const edge = (part: number): number => Math.floor((part * count) / of);
  const first = edge(number - 1);
  return Array.from({ length: edge(number) - first }, (_, k) => first + k);
}

interface Written {
  readonly project: Plain;
  readonly hash: string;
}

const written = new WeakMap<TrialRequest["project"], Written>();

function writtenProject(project: TrialRequest["project"]): Written {
  const before = written.get(project);
  if (before !== undefined) return before;
  const text = writeProject(project);
  const lanes = new Float64Array(2);
  mixText(lanes, 0, text);
  const now: Written = { project: JSON.parse(text), hash: hashText(lanes, 0) };
  written.set(project, now);
  return now;
}

/** Fingerprint of a project, the same for every way of writing it. */
export function projectHash(project: TrialRequest["project"]): string {
  return writtenProject(project).hash;
}

/** What a first line holds, in its order. */
function headerMembers({ request, count, share }: Header): { readonly [name: string]: Plain } {
  return {
    format: FORMAT,
    schemaVersion: SCHEMA_VERSION,
    kind: request.kind,
    seed: request.seed,
    runs: request.runs ?? null,
    options: request.options ?? {},
    count,
    ...(share.of === 1 ? {} : { share: [share.number, share.of] }),
    projectHash: projectHash(request.project),
    project: writtenProject(request.project).project,
  };
}

/** Whether a text begins as a file of results does. */
export function beginsAsResults(text: string): boolean {
  return text.startsWith(`${JSON.stringify({ format: FORMAT }).slice(0, -1)},`);
}

export function headerLine(header: Header): string {
  return JSON.stringify(headerMembers(header));
}

export function resultLine(result: CaseResult, label: string): string {
  const { index } = result;
  return JSON.stringify(
    "outcome" in result
      ? { index, label, outcome: result.outcome }
      : { index, label, outcome: null, failed: result.failure },
  );
}

export type HeaderReading =
  | { readonly ok: true; readonly header: Header }
  | { readonly ok: false; readonly message: string; readonly remedy: string };

const NOT_OURS = "Give files that quietarc trial has written";

/** Reads a first line; never throws. */
export function readHeader(line: string): HeaderReading {
  const refuse = (message: string, remedy = NOT_OURS): HeaderReading => ({
    ok: false,
    message,
    remedy,
  });
  const members = objectOf(line.slice(0, MAX_CHARACTERS));
  if (members === null || members.format !== FORMAT) {
    return refuse("the first line does not say what was run");
  }
  if (members.schemaVersion !== SCHEMA_VERSION) {
    return refuse(
      `its schemaVersion is ${JSON.stringify(members.schemaVersion)}, this program reads ${SCHEMA_VERSION}`,
      "Run the trial again with this version",
    );
  }
  const { kind, seed, runs, options, count, share = [1, 1] } = members;
  const knownKind = TRIAL_KINDS.find((one) => one === kind);
  const [number, of] = Array.isArray(share) ? share : [];
  const project = readProject(JSON.stringify(members.project ?? null));
  if (!project.ok || projectHash(project.project) !== members.projectHash) {
    return refuse("the project in the first line is not the one that was run");
  }
  if (
    knownKind === undefined ||
    !isWhole(seed) ||
    !(runs === null || isWhole(runs)) ||
    !isWhole(count) ||
    !isRecord(options) ||
    !isWhole(number) ||
    !isWhole(of) ||
    number < 1 ||
    number > of
  ) {
    return refuse("the first line does not say what was run");
  }
  const request: TrialRequest = {
    kind: knownKind,
    project: project.project,
    seed,
    ...(runs === null ? {} : { runs }),
    ...(Object.keys(options).length === 0 ? {} : { options: options as Record<string, Plain> }),
  };
  return { ok: true, header: { request, count, share: { number, of } } };
}

/** The name of the first member in which two headers of shares differ; empty where they belong together. */
export function differenceOf(a: Header, b: Header): string {
  const [left, right] = [a, b].map((one) => headerMembers({ ...one, share: WHOLE }));
  const name = Object.keys(left ?? {}).find(
    (key) => JSON.stringify(left?.[key]) !== JSON.stringify(right?.[key]),
  );
  if (name === undefined) return a.share.of === b.share.of ? "" : "share";
  return name === "projectHash" ? "project" : name;
}

/** A line of a case, or null where it is none. */
export function readResult(line: string): CaseResult | null {
  const members = objectOf(line);
  if (members === null || !isWhole(members.index) || !("outcome" in members)) return null;
  const { index, failed, outcome } = members;
  if (typeof failed === "string") return { index, failure: failed };
  return { index, outcome: outcome as Plain };
}

function objectOf(line: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(line);
    return isRecord(value) ? value : null;
  } catch {
    return null;
  }
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isWhole(value: unknown): value is number {
  return Number.isSafeInteger(value) && (value as number) >= 0;
}
