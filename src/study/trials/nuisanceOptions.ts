/** Options of a nuisance trial: plain JSON in, checked values out, with what is wrong said in words. */
import { CONDITIONS, type Condition } from "./ordinaryConditions";
import { USE_S, USES, type Use } from "./ordinaryUse";
import type { Plain, TrialRequest } from "./trial";

export interface NuisanceOptions {
  /** Cases of ordinary use. */
  readonly total: number;
  readonly uses: readonly Use[];
  readonly conditions: readonly Condition[];
  /** `unmatched` gives the output's detector 2.5 times the time constant of the drive's. */
  readonly detectors: "matched" | "unmatched";
  /** `none` takes low gain's common smoothing away. */
  readonly smoothing: "common" | "none";
  /** Whether the listed exceptions are run beside. */
  readonly exceptions: boolean;
}

export type NuisanceOptionsRead =
  | { readonly ok: true; readonly options: NuisanceOptions }
  | { readonly ok: false; readonly problem: string };

const USUAL_HOURS = 10;
const MOST_HOURS = 10_000;

/** Reads a request's options; what is left out has its default. */
export function nuisanceOptions({ options = {}, runs }: TrialRequest): NuisanceOptionsRead {
  const problems: string[] = [];
  const oneOf = <T extends string>(name: string, words: readonly T[], usual: T): T => {
    const value = options[name] ?? usual;
    const found = words.find((w) => w === value);
    if (found === undefined) problems.push(`options.${name} has to be ${words.join(" or ")}`);
    return found ?? usual;
  };
  const some = <T>(name: string, all: readonly T[], idOf: (item: T) => string): readonly T[] => {
    const value: Plain = options[name] ?? null;
    if (value === null) return all;
    const ids = [...new Set(all.map(idOf))];
    if (Array.isArray(value) && value.length > 0 && value.every((v) => ids.includes(String(v))))
      return all.filter((item) => value.includes(idOf(item)));
    problems.push(`options.${name} has to be a list out of ${ids.join(", ")}`);
    return all;
  };
  const exceptions = options.exceptions ?? true;
  if (typeof exceptions !== "boolean") problems.push("options.exceptions has to be true or false");
  const read: NuisanceOptions = {
    total: casesAsked(options.hours, runs, problems),
    uses: some("uses", USES, (use) => use),
    conditions: some("conditions", CONDITIONS, (c) => c.id),
    detectors: oneOf("detectors", ["matched", "unmatched"], "matched"),
    smoothing: oneOf("smoothing", ["common", "none"], "common"),
    exceptions: exceptions === true,
  };
  return problems.length === 0
    ? { ok: true, options: read }
    : { ok: false, problem: problems.join("; ") };
}

/** Cases for so many hours, or as many as were asked for outright. */
function casesAsked(
  hours: Plain | undefined,
  runs: number | undefined,
  problems: string[],
): number {
  if (hours === undefined && runs !== undefined) {
    if (Number.isInteger(runs) && runs > 0) return runs;
    problems.push("runs has to be a whole number over 0");
    return 1;
  }
  const h = hours ?? USUAL_HOURS;
  if (typeof h !== "number" || !(h > 0 && h <= MOST_HOURS)) {
    problems.push(`options.hours has to be a number over 0, at most ${MOST_HOURS}`);
    return 1;
  }
  return Math.max(1, Math.round((h * 3600) / USE_S));
}
