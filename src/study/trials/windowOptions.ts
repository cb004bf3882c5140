/** Options of a window sweep: plain JSON in, checked values out, with what is wrong said in words. */
import { FAULT_NAMES, faultFits, usualSeverity } from "../../project/faults";
import type { MonitorDef } from "../../project/protection";
import type { FaultName, PartName } from "../../project/scenario";
import { type NuisanceOptions, nuisanceOptions } from "./nuisanceOptions";
import type { Plain, TrialRequest } from "./trial";
import { readPath, type SettingPath, sweptMonitors } from "./windowPaths";
import { WINDOW_PRESETS } from "./windowPresets";

export interface Axis {
  readonly name: string;
  readonly path: SettingPath;
  readonly values: readonly number[];
}

export interface SweptFault {
  readonly name: string;
  readonly fault: FaultName;
  readonly part: PartName;
  readonly severity: number;
}

export interface WindowOptions {
  readonly x: Axis;
  readonly y: Axis;
  readonly monitors: readonly MonitorDef[];
  readonly faults: readonly SweptFault[];
  /** Instants of each fault on a steady carrier, spread over a scan, and in speech. */
  readonly carrierInstants: number;
  readonly speechInstants: number;
  /** Ordinary use the sweep counts false trips in. */
  readonly use: NuisanceOptions;
}

export type WindowOptionsRead =
  | { readonly ok: true; readonly options: WindowOptions }
  | { readonly ok: false; readonly problem: string };

type Options = { readonly [name: string]: Plain };

const MOST_POINTS = 400;
const MOST_INSTANTS = 1000;
const USUAL: Options = {
  x: { path: "lowGain.pickup", values: [-1, -1.5, -2, -3, -4] },
  y: { path: "lowGain.confirmation", values: [0, 1e-3, 2e-3, 5e-3] },
  faults: ["insect@tuningCapacitor", "arc@loadingCapacitor", "arc@bandSwitch"],
  carrierInstants: 4,
  speechInstants: 4,
  hours: 1,
  exceptions: false,
};

/** Reads a request's options; a preset stands between what is said and what is usual. */
export function windowOptions(request: TrialRequest): WindowOptionsRead {
  const asked = request.options ?? {};
  const preset = WINDOW_PRESETS.find((p) => p.id === asked.preset);
  if (asked.preset !== undefined && preset === undefined)
    return refuse(`options.preset has to be ${WINDOW_PRESETS.map((p) => p.id).join(" or ")}`);
  const options: Options = { ...USUAL, ...preset?.options, ...asked };
  const use = nuisanceOptions({ ...request, options });
  if (!use.ok) return use;
  const problems: string[] = [];
  const monitors = sweptMonitors(request.project);
  const x = axis(monitors, options, "x", problems);
  const y = axis(monitors, options, "y", problems);
  const faults = sweptFaults(options.faults ?? null, problems);
  const count = (name: string): number => {
    const value = options[name];
    if (
      typeof value === "number" &&
      Number.isInteger(value) &&
      value >= 0 &&
      value <= MOST_INSTANTS
    )
      return value;
    problems.push(`options.${name} has to be a whole number from 0 to ${MOST_INSTANTS}`);
    return 0;
  };
  const carrierInstants = count("carrierInstants");
  const speechInstants = count("speechInstants");
  if (x === null || y === null || problems.length > 0) return refuse(problems.join("; "));
  if (x.values.length * y.values.length > MOST_POINTS)
    return refuse(`a sweep has at most ${MOST_POINTS} points`);
  return {
    ok: true,
    options: { x, y, monitors, faults, carrierInstants, speechInstants, use: use.options },
  };
}

function refuse(problem: string): WindowOptionsRead {
  return { ok: false, problem };
}

function axis(
  monitors: readonly MonitorDef[],
  options: Options,
  name: "x" | "y",
  problems: string[],
): Axis | null {
  const given = options[name];
  const isObject = typeof given === "object" && given !== null && !Array.isArray(given);
  const { path, values } = isObject ? (given as Options) : {};
  if (typeof path !== "string" || !isNumbers(values)) {
    problems.push(`options.${name} has to be { path, values }, values a list of numbers`);
    return null;
  }
  const read = readPath(monitors, path);
  if (!read.ok) {
    problems.push(read.problem);
    return null;
  }
  const isTime = read.path.field !== "pickup" && read.path.field !== "dropOff";
  if (isTime && values.some((v) => v < 0)) problems.push(`options.${name}: ${path} is a time`);
  return { name: path, path: read.path, values: [...new Set(values)].sort((a, b) => a - b) };
}

function isNumbers(values: Plain | undefined): values is readonly number[] {
  return (
    Array.isArray(values) &&
    values.length > 0 &&
    values.every((v) => typeof v === "number" && Number.isFinite(v))
  );
}

function sweptFaults(given: Plain, problems: string[]): readonly SweptFault[] {
  if (!Array.isArray(given)) {
    problems.push("options.faults has to be a list such as insect@tuningCapacitor");
    return [];
  }
  return given.flatMap((text): readonly SweptFault[] => {
    const [name, part] = String(text).split("@");
    const fault = FAULT_NAMES.find((f) => f === name);
    if (fault !== undefined && part !== undefined && faultFits(fault, part as PartName)) {
      const severity = usualSeverity(fault, part as PartName);
      return [{ name: String(text), fault, part: part as PartName, severity }];
    }
    problems.push(`${String(text)}: no such fault on such a part`);
    return [];
  });
}
