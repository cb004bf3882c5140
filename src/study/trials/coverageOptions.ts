/** Options of a coverage trial: plain JSON in, checked values out, with what is wrong said in words. */
import { FAULT_NAMES } from "../../project/faults";
import type { FaultName } from "../../project/scenario";
import type { Plain, TrialRequest } from "./trial";

export interface CoverageOptions {
  /** Null: all. */
  readonly faults: readonly FaultName[] | null;
  /** Names of the tank's bands; null: all. */
  readonly bands: readonly string[] | null;
  /** Null: the station's full drive, half and a fifth of it. */
  readonly drivesW: readonly number[] | null;
  /** Standing-wave ratio of the mismatched conditions; 1: none. */
  readonly swr: number;
  /** Phases it is tried at. */
  readonly phases: number;
  /** Least time to the onset of melting, or to a clock's damage, over clearing. */
  readonly requiredMargin: number;
  /** Least time to 0.5 mg molten over clearing. */
  readonly requiredMarginHalfMilligram: number;
}

export type CoverageOptionsRead =
  | { readonly ok: true; readonly options: CoverageOptions }
  | { readonly ok: false; readonly problem: string };

/** Reads a request's options; what is left out has its default. */
export function coverageOptions({ options = {} }: TrialRequest): CoverageOptionsRead {
  const problems: string[] = [];
  const number = (name: string, usual: number, least: number): number => {
    const value = options[name] ?? usual;
    if (typeof value === "number" && Number.isFinite(value) && value >= least) return value;
    problems.push(`options.${name} has to be a number of ${least} or more`);
    return usual;
  };
  const list = <T>(
    name: string,
    words: string,
    isRight: (v: Plain) => boolean,
  ): readonly T[] | null => {
    const value = options[name] ?? null;
    if (value === null) return null;
    if (Array.isArray(value) && value.length > 0 && value.every(isRight))
      return value as readonly T[];
    problems.push(`options.${name} has to be a list of ${words}`);
    return null;
  };
  const read: CoverageOptions = {
    faults: list<FaultName>("faults", "names of faults", (v) =>
      FAULT_NAMES.some((name) => name === v),
    ),
    bands: list<string>("bands", "names of bands", (v) => typeof v === "string"),
    drivesW: list<number>(
      "drivesW",
      "drives in watts over 0",
      (v) => typeof v === "number" && v > 0,
    ),
    swr: number("swr", 1.5, 1),
    phases: Math.round(number("phases", 4, 1)),
    requiredMargin: number("requiredMargin", 3, 0),
    requiredMarginHalfMilligram: number("requiredMarginHalfMilligram", 5, 0),
  };
  return problems.length === 0
    ? { ok: true, options: read }
    : { ok: false, problem: problems.join("; ") };
}
