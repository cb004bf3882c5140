/** From a request to its trial: the one place that knows every kind. */
import { planBackup } from "./backup";
import { planCoverage } from "./coverage";
import { planNuisance } from "./nuisance";
import { planTolerance } from "./tolerance";
import type { TrialKind, TrialPlan, TrialRequest } from "./trial";
import { planWindow } from "./window";

type Planner = (request: TrialRequest) => TrialPlan;

const PLANNERS: Partial<Readonly<Record<TrialKind, Planner>>> = {
  coverage: planCoverage,
  backup: planBackup,
  tolerance: planTolerance,
  nuisance: planNuisance,
  window: planWindow,
};

const MARGINS = ["requiredMargin", "requiredMarginHalfMilligram"];
const USE = ["hours", "uses", "conditions", "detectors", "smoothing", "exceptions"];

/** Names of each kind's options: one that is misspelt would otherwise give a trial of something else. */
const OPTION_NAMES: Readonly<Record<TrialKind, readonly string[]>> = {
  coverage: ["faults", "bands", "drivesW", "swr", "phases", ...MARGINS],
  backup: ["faults", "pairs", ...MARGINS],
  tolerance: ["fault", "part", "severity", "requiredMargin", "worst", "sobol", "inputs"],
  nuisance: USE,
  window: ["preset", "x", "y", "faults", "carrierInstants", "speechInstants", ...USE],
};

/** What a kind without cases to draw is counted by. */
const COUNTED_BY: Partial<Readonly<Record<TrialKind, string>>> = {
  coverage: "its faults, bands, drives and loads",
  backup: "its faults and what can fail",
  window: "its faults, instants and hours of use",
};

/** Why the number of runs cannot be followed; empty where it can, or is not said. */
function surplusRuns({ kind, runs, options }: TrialRequest): string {
  if (runs === undefined) return "";
  const countedBy = COUNTED_BY[kind];
  if (countedBy !== undefined)
    return `a trial of ${kind} has no number of runs: its cases are counted by ${countedBy}`;
  return kind === "nuisance" && options?.hours !== undefined
    ? "runs and options.hours both say how much use is played, and only one of them may"
    : "";
}

/** Never throws; deterministic: the same request gives the same trial everywhere. */
export function planTrial(request: TrialRequest): TrialPlan {
  const planner = PLANNERS[request.kind];
  if (planner === undefined) {
    return { ok: false, problem: `There is no trial of the kind ${request.kind}.` };
  }
  const known = OPTION_NAMES[request.kind];
  const unknown = Object.keys(request.options ?? {}).filter((name) => !known.includes(name));
  if (unknown.length > 0) {
    const problem = `options.${unknown.join(", options.")}: a trial of ${request.kind} knows ${known.join(", ")}`;
    return { ok: false, problem, at: "options" };
  }
  const surplus = surplusRuns(request);
  if (surplus !== "") return { ok: false, problem: surplus, at: "runs" };
  return planner(request);
}
