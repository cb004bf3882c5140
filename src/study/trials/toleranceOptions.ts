/** Options of a tolerance trial: plain JSON in, checked values out, with what is wrong said in words. */
import { FAULT_NAMES, FAULTS, faultFits, usualSeverity } from "../../project/faults";
import type { FaultName, PartName, ScenarioEntry } from "../../project/scenario";
import { overriddenInputs, type ToleranceInput } from "./toleranceInputs";
import type { ArcFault } from "./toleranceRun";
import type { TrialRequest } from "./trial";

export interface ToleranceOptions {
  /** What befalls every unit. */
  readonly fault: ArcFault;
  /** Least time to the onset of melting over clearing. */
  readonly requiredMargin: number;
  /** How many of the worst cases the summary names. */
  readonly worst: number;
  /** Cases in rows for Sobol indices instead of independent ones. */
  readonly sobol: boolean;
  readonly inputs: readonly ToleranceInput[];
}

export type ToleranceOptionsRead =
  | { readonly ok: true; readonly options: ToleranceOptions }
  | { readonly ok: false; readonly problem: string };

/** Reads a request's options; what is left out has its default, the fault that of the project's own scenario. */
export function toleranceOptions({ project, options = {} }: TrialRequest): ToleranceOptionsRead {
  const problems: string[] = [];
  const number = (name: string, usual: number, least: number): number => {
    const value = options[name] ?? usual;
    if (typeof value === "number" && Number.isFinite(value) && value >= least) return value;
    problems.push(`options.${name} has to be a number of ${least} or more`);
    return usual;
  };
  const isPlaced = (e: ScenarioEntry): e is Extract<ScenarioEntry, { do: "placeFault" }> =>
    e.do === "placeFault";
  const shown = project.scenario.find(isPlaced);
  const fault = (options.fault ?? shown?.fault ?? "insect") as FaultName;
  const isOfScenario = options.fault === undefined && options.part === undefined;
  if (!FAULT_NAMES.includes(fault)) {
    return { ok: false, problem: `options.fault has to be one of ${FAULT_NAMES.join(", ")}` };
  }
  const kind = FAULTS[fault];
  const usualPart = isOfScenario ? (shown?.part ?? kind.parts[0]) : kind.parts[0];
  const part = (options.part ?? usualPart) as PartName;
  if (!faultFits(fault, part))
    problems.push(`options.part has to be one of ${kind.parts.join(", ")} for ${fault}`);
  if (kind.latent)
    problems.push(`${kind.name} shows only when its part is called upon: it begins no race`);
  const usual = isOfScenario && shown !== undefined ? shown.severity : usualSeverity(fault, part);
  const { min, max, unit, meaning } = kind.severity;
  const severity = options.severity ?? usual;
  if (!(typeof severity === "number" && severity >= min && severity <= max)) {
    const range = `from ${min} to ${max}${unit === "" ? "" : ` ${unit}`}`;
    problems.push(`options.severity has to be a number ${range} for ${fault} (${meaning})`);
  }
  const { sobol = false } = options;
  if (typeof sobol !== "boolean") problems.push("options.sobol has to be true or false");
  const inputs = overriddenInputs(project, options.inputs ?? {});
  if (!inputs.ok) problems.push(inputs.problem);
  const read = {
    fault: { fault, part, severity: severity as number },
    requiredMargin: number("requiredMargin", 3, 0),
    worst: Math.round(number("worst", 10, 0)),
    sobol: sobol === true,
  };
  return inputs.ok && problems.length === 0
    ? { ok: true, options: { ...read, inputs: inputs.inputs } }
    : { ok: false, problem: problems.join("; ") };
}
