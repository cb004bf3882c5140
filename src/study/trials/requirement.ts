/**
 * Whether a scheme meets what is required of it: every cell of its coverage ended with the required margin, and no more false
 * trips an hour than allowed. Cells limited by design and cells the project accepts do not fail. A band that could not be run fails,
 * unless the project accepts every fault on it or the requirement does without it; so do cases of ordinary use that could not be run,
 * for hours that were not played show nothing.
 */
import { countOf } from "../../units/format";
import type { CoverageSummary, OpenCell } from "./coverage";
import type { NuisanceSummary } from "./nuisanceSummary";

/** What a nuisance trial has to tell for this. */
export interface NuisanceFigures {
  /** Upper end of the confidence interval of all false trips together. */
  readonly falseTripsPerHourUpper: number;
  /** Cases that could not be run: their number, and the first hundred with their problems. */
  readonly notRun: number;
  readonly problems: NuisanceSummary["problems"];
}

export interface Requirement {
  readonly margin: number;
  readonly nuisancePerHour: number;
  /** Bands without a design or a working point do not fail, nor do cases of ordinary use that could not be run. */
  readonly acceptsLeftOut: boolean;
}

export interface RequirementFailure {
  /** Null for what is no cell. */
  readonly cell: Pick<OpenCell, "index" | "label" | "kind" | "margin" | "marginEarly"> | null;
  /** A clause without a full stop. */
  readonly reason: string;
}

/** What fails; an empty list when everything is met. Null for a nuisance trial that was not asked for. */
export function requirementFailures(
  coverage: CoverageSummary,
  nuisance: NuisanceFigures | null,
  required: Requirement,
): readonly RequirementFailure[] {
  const failures: RequirementFailure[] = [];
  const fails = (reason: string): void => {
    failures.push({ cell: null, reason });
  };
  if (coverage.requiredMargin !== required.margin)
    fails(
      `the coverage was judged by a margin of ${coverage.requiredMargin}, not ${required.margin}`,
    );
  const left = coverage.count - coverage.done;
  if (left > 0) fails(`${left} of ${coverage.count} cells of the coverage have not been run`);
  for (const { band, why, accepted } of coverage.leftOut) {
    if (band !== null && accepted === null && !required.acceptsLeftOut)
      fails(`the band ${band} has not been run: ${why}`);
  }
  for (const { index, label, kind, margin, marginEarly, reason, accepted } of coverage.open) {
    const cell = { index, label, kind, margin, marginEarly };
    if (accepted === null) failures.push({ cell, reason });
  }
  if (nuisance !== null && !required.acceptsLeftOut) {
    for (const reason of notRunReasons(nuisance)) fails(reason);
  }
  const upper = nuisance?.falseTripsPerHourUpper ?? 0;
  if (upper > required.nuisancePerHour)
    fails(
      `false trips may come up to ${upper} times an hour, more than ${required.nuisancePerHour}`,
    );
  return failures;
}

/** One clause for each problem, with its number of cases and the first of them; one for those that are not listed. */
function notRunReasons({ notRun, problems }: NuisanceFigures): readonly string[] {
  const found = new Map<string, { readonly label: string; readonly count: number }>();
  for (const { label, problem } of problems) {
    const known = found.get(problem) ?? { label, count: 0 };
    found.set(problem, { ...known, count: known.count + 1 });
  }
  const reasons = [...found].map(
    ([problem, { label, count }]) =>
      `${countOf(count, "case")} of ordinary use could not be run, such as "${label}": ${problem}`,
  );
  const rest = notRun - problems.length;
  return rest > 0
    ? [...reasons, `${countOf(rest, "more case")} of ordinary use could not be run`]
    : reasons;
}
