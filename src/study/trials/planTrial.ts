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
    return { ok: false, problem };
  }
  return planner(request);
}
