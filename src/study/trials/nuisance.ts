/**
 * Nuisance: hours of ordinary use, and every operation in them. Nothing acts in these runs, so one trip hides no other and each
 * operation of an acting monitor counts as one false trip, as if somebody had reset it at once.
 *
 * Cases are run quickly over maps of settled states (`quickMapRun`); what those cannot follow is run on the bench itself.
 * Rates are false trips an hour of use, pauses and receiving included, with the exact Poisson interval at 95 %. The
 * interval holds if trips came independently, one like another. The exceptions are not ordinary and enter no rate; a case
 * whose bench cannot be built is no use that was quiet: it adds no time, and is counted and named apart.
 */
import type { Project } from "../../project/types";
import { createBench } from "../../simulation/bench";
import { type NuisanceCase, nuisanceCases } from "./nuisanceCases";
import { nuisanceOptions } from "./nuisanceOptions";
import { type NuisanceOutcome, type NuisanceSummary, summariseNuisance } from "./nuisanceSummary";
import { isFalseTrip, type Operation, operationOf, quickRun, quickSteps } from "./quickMapRun";
import type { MapStore } from "./quickMapStage";
import { advanceInSteps, drained, type Steps } from "./steps";
import { type BenchMoment, planOf, type TrialPlan, type TrialRequest } from "./trial";

/** The bench goes on this long after a trip that is opened there. */
const AFTER_S = 1;

export function planNuisance(request: TrialRequest): TrialPlan {
  const read = nuisanceOptions(request);
  if (!read.ok) return { ...read, at: "options" };
  const created = createBench({ ...request.project, scenario: [] });
  if (!created.ok) return created;
  const cases = nuisanceCases(request.project, request.seed, read.options);
  const maps: MapStore = new Map();
  const caseAt = (index: number): NuisanceCase => {
    const found = cases[index];
    if (found === undefined) throw new Error(`invalid index: ${index} of ${cases.length}`);
    return found;
  };
  return planOf<NuisanceOutcome, NuisanceSummary>({
    kind: "nuisance",
    count: cases.length,
    labelOf: (index) => caseAt(index).label,
    steps: (index) => runUse(caseAt(index).project(), maps),
    openOnBench: (index) => openUse(caseAt(index).project(), maps),
    summarise: (outcomes) => summariseNuisance(request.project, cases, outcomes),
  });
}

/** One case, quickly where that is an answer. */
export function* runUse(project: Project, maps: MapStore): Steps<NuisanceOutcome> {
  const quick = yield* quickSteps(project, { maps });
  const answer = quick.ok ? quick : yield* benchOperations(project);
  const { operations } = answer;
  const named = (wanted: (o: Operation) => boolean) =>
    operations.filter(wanted).map(({ monitor, atS }) => ({ monitor, atS }));
  return {
    seconds: answer.ok ? project.endS : 0,
    notRun: answer.ok ? "" : answer.problem,
    engine: quick.ok ? "quick" : "bench",
    reason: quick.ok ? "" : quick.reason,
    trips: named(isFalseTrip),
    shadow: named((o) => o.kind === "operate" && o.role === "shadow"),
    alarms: named((o) => o.kind === "alarm"),
  };
}

/** What the bench itself does; where it cannot be built, nothing, and the problem in words. */
type BenchAnswer =
  | { readonly ok: true; readonly operations: readonly Operation[] }
  | { readonly ok: false; readonly operations: readonly []; readonly problem: string };

export function* benchOperations(project: Project): Steps<BenchAnswer> {
  const created = createBench(project, { protection: "inhibited", recorder: "tracks" });
  if (!created.ok) return { ok: false, operations: [], problem: created.problem };
  const { bench } = created;
  yield* advanceInSteps(bench, Math.round(project.endS * 1e9));
  const operations = bench.events.flatMap((e) => {
    const operation = e.kind === "protection" ? operationOf(e.event) : null;
    return operation === null ? [] : [operation];
  });
  return { ok: true, operations };
}

/** The case up to a little after its first false trip, with protection acting; to its end where there is none. */
function openUse(project: Project, maps: MapStore): BenchMoment {
  const quick = quickRun(project, { maps, untilTrip: true });
  const { operations } = quick.ok ? quick : drained(benchOperations(project));
  const first = operations.find(isFalseTrip);
  if (first === undefined) return { project, atNs: 0 };
  const endS = Math.min(project.endS, Math.ceil(first.atS + AFTER_S));
  return { project: { ...project, endS }, atNs: Math.round(first.atS * 1e9) };
}
