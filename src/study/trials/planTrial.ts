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

/** Never throws; deterministic: the same request gives the same trial everywhere. */
export function planTrial(request: TrialRequest): TrialPlan {
  const planner = PLANNERS[request.kind];
  if (planner === undefined) {
    return { ok: false, problem: `There is no trial of the kind ${request.kind}.` };
  }
  return planner(request);
}
