/** Options of a coverage trial: plain JSON in, checked values out, with what is wrong said in words. */
import { FAULT_NAMES } from "../../project/faults";
import type { FaultName } from "../../project/scenario";
import { bandNames } from "../bandTable";
import type { Plain, TrialRequest } from "./trial";

/** What has to be met to be called covered. */
export interface RequiredMargins {
  /** Least time to the onset of melting, or to a clock's damage, over the time it took to end it. */
  readonly requiredMargin: number;
  /** Least time to 0.5 mg molten over clearing. */
  readonly requiredMarginHalfMilligram: number;
}

export interface CoverageOptions extends RequiredMargins {
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
}

export type OptionsRead<T> =
  | { readonly ok: true; readonly options: T }
  | { readonly ok: false; readonly problem: string };

/** Reads a coverage request's options; what is left out has its default. */
export function coverageOptions(request: TrialRequest): OptionsRead<CoverageOptions> {
  const reader = new OptionReader(request);
  const bands = bandNames(request.project.station);
  return reader.read({
    faults: reader.list<FaultName>("faults", "names of faults", (v) =>
      FAULT_NAMES.some((name) => name === v),
    ),
    bands: reader.list<string>("bands", `bands out of ${bands.join(", ")}`, (v) =>
      bands.some((name) => name === v),
    ),
    drivesW: reader.list<number>(
      "drivesW",
      "drives in watts over 0",
      (v) => typeof v === "number" && v > 0,
    ),
    swr: reader.number("swr", 1.5, 1),
    phases: Math.round(reader.number("phases", 4, 1)),
    ...reader.margins(),
  });
}

/** Takes options one by one and gathers what is wrong with them. */
export class OptionReader {
  private readonly options: { readonly [name: string]: Plain };
  private readonly problems: string[] = [];

  constructor({ options = {} }: TrialRequest) {
    this.options = options;
  }

  number(name: string, usual: number, least: number): number {
    const value = this.options[name] ?? usual;
    if (typeof value === "number" && Number.isFinite(value) && value >= least) return value;
    this.problems.push(`options.${name} has to be a number of ${least} or more`);
    return usual;
  }

  flag(name: string, usual: boolean): boolean {
    const value = this.options[name] ?? usual;
    if (typeof value === "boolean") return value;
    this.problems.push(`options.${name} has to be true or false`);
    return usual;
  }

  /** Null where it is left out. */
  list<T extends Plain>(
    name: string,
    words: string,
    isRight: (value: Plain) => boolean,
  ): readonly T[] | null {
    const value = this.options[name] ?? null;
    if (value === null) return null;
    const items: readonly Plain[] = Array.isArray(value) ? value : [];
    const wrong = items.filter((item) => !isRight(item));
    if (items.length > 0 && wrong.length === 0) return items as readonly T[];
    const found = wrong.length === 0 ? "" : `, which ${JSON.stringify(wrong[0])} is not`;
    this.problems.push(`options.${name} has to be a list of ${words}${found}`);
    return null;
  }

  margins(): RequiredMargins {
    return {
      requiredMargin: this.number("requiredMargin", 3, 0),
      requiredMarginHalfMilligram: this.number("requiredMarginHalfMilligram", 5, 0),
    };
  }

  read<T>(options: T): OptionsRead<T> {
    const { problems } = this;
    return problems.length === 0
      ? { ok: true, options }
      : { ok: false, problem: problems.join("; ") };
  }
}
