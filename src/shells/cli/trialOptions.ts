/** What the options of trials say: numbers, shares, and a kind's own options as JSON. */
import { readJsonText } from "../../formats/jsonText";
import { type Plain, TRIAL_KINDS, type TrialKind } from "../../study/trials/trial";
import { type Share, WHOLE } from "../trials/resultLines";
import type { Surroundings } from "./engine";
import { complaint, labelOf, readText } from "./projectInput";

export type OptionValues = ReadonlyMap<string, string>;

const USUAL_SEED = 1;
const MOST_WORKERS = 256;

/** Thrown by the readers below and caught by `refusing`: bad input, already complained about. */
class Refused extends Error {}

/** Runs `work`; null where it met bad input. */
export function refusing<T>(work: () => T): T | null {
  try {
    return work();
  } catch (problem) {
    if (problem instanceof Refused) return null;
    throw problem;
  }
}

/** Goes on with what a reader gave that complains by itself. */
export function needed<T>(value: T | null): T {
  if (value === null) throw new Refused();
  return value;
}

export function refuse(
  around: Surroundings,
  code: string,
  message: string,
  remedy: string,
  place = "quietarc",
): never {
  around.error(complaint(place, code, message, remedy));
  throw new Refused();
}

/** The one file of a command. */
export function oneFile(command: string, files: readonly string[], around: Surroundings): string {
  const [path, surplus] = files;
  if (path === undefined) {
    const remedy = "Give its path, or - for standard input";
    refuse(around, "missingFile", `${command} needs a project file`, remedy);
  }
  if (surplus !== undefined) {
    const remedy = "Give one file; quote a path that holds spaces";
    refuse(around, "surplusWord", `"${surplus}" follows the file`, remedy);
  }
  return path;
}

export function kindOf(values: OptionValues, around: Surroundings): TrialKind {
  const said = values.get("kind");
  const kind = TRIAL_KINDS.find((one) => one === said);
  const known = TRIAL_KINDS.join(", ");
  if (said === undefined)
    refuse(around, "missingOption", "--kind is missing", `Say one of ${known}`);
  if (kind === undefined) {
    refuse(around, "unknownKind", `there is no kind "${said}"`, `Say one of ${known}`);
  }
  return kind;
}

interface Range {
  readonly least: number;
  readonly most: number;
}

/** A number the option gives, or null where it is not there. */
export function numberOf(
  values: OptionValues,
  name: string,
  { least, most }: Range,
  around: Surroundings,
): number | null {
  const said = values.get(name);
  if (said === undefined) return null;
  const value = /^\d+(\.\d+)?([eE][+-]?\d+)?$/.test(said) ? Number(said) : Number.NaN;
  if (value >= least && value <= most) return value;
  const range = `a number from ${least} to ${most}`;
  return refuse(
    around,
    "badNumber",
    `--${name} is "${said}", which is not ${range}`,
    `Write ${range}`,
  );
}

/** The same for whole numbers. */
export function wholeOf(
  values: OptionValues,
  name: string,
  range: Range,
  around: Surroundings,
): number | null {
  const value = numberOf(values, name, range, around);
  if (value === null || Number.isSafeInteger(value)) return value;
  return refuse(around, "notWhole", `--${name} is ${value}`, "Write a whole number");
}

/** Of every chance; where nobody says another, the page and the command line take the same. */
export function seedOf(values: OptionValues, around: Surroundings): number {
  return wholeOf(values, "seed", { least: 0, most: 0xffff_ffff }, around) ?? USUAL_SEED;
}

/** Null: as many as there are cores. */
export function workersOf(values: OptionValues, around: Surroundings): number | null {
  return wholeOf(values, "workers", { least: 1, most: MOST_WORKERS }, around);
}

/** `K/N` */
export function shareOf(values: OptionValues, around: Surroundings): Share {
  const said = values.get("part");
  if (said === undefined) return WHOLE;
  const [, number, of] = (/^(\d{1,6})\/(\d{1,6})$/.exec(said) ?? []).map(Number);
  if (number === undefined || of === undefined || number < 1 || number > of) {
    const remedy = "Write K/N, such as 2/4 for the second of four";
    return refuse(around, "badPart", `--part is "${said}", which is no share of a whole`, remedy);
  }
  return { number, of };
}

/** Text that can only be JSON is no name of a file. */
function isWritten(said: string): boolean {
  return /^\s*[[{]/.test(said);
}

/** Where a kind's own options stand, for messages. */
export function optionsPlace(values: OptionValues): string {
  const said = values.get("options") ?? "";
  return said === "" || isWritten(said) ? "--options" : labelOf(said);
}

const MAX_OPTIONS_BYTES = 1_000_000;

/** A JSON object, written on the command line or in a file; undefined where nothing is said. */
export function kindOptions(
  values: OptionValues,
  around: Surroundings,
): { readonly [name: string]: Plain } | undefined {
  const said = values.get("options");
  if (said === undefined) return undefined;
  const place = optionsPlace(values);
  const text = isWritten(said) ? said : needed(readText(said, MAX_OPTIONS_BYTES, around));
  const reading = readJsonText(text);
  if (!reading.ok) {
    const before = text.slice(0, reading.fault.offset).split(/\r\n|\n|\r/);
    const column = (before.at(-1) ?? "").length + 1;
    const { message, remedy } = reading.fault;
    return refuse(around, "notJson", message, remedy, `${place}:${before.length}:${column}`);
  }
  const [repeated] = reading.repeated;
  if (repeated !== undefined) {
    const name = repeated.path.join(".");
    refuse(around, "duplicateKey", `"${name}" stands twice`, "Keep one of them", place);
  }
  const value: unknown = JSON.parse(text);
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    refuse(around, "wrongType", "this is no object", 'Write { "name": value, ... }', place);
  }
  return value as { readonly [name: string]: Plain };
}
