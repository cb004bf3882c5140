/**
 * Tolerance: one fault on many units of a station, each with parts, sensors, delays, tubes, mains, site and melt estimates of its
 * own. How the margin spreads, how many units would trip in normal use, and which tolerance matters most.
 */
import { FAULTS } from "../../project/faults";
import { sobolRunsPerRow } from "../statistics/sobolIndices";
import { drained, type Steps } from "./steps";
import { settledBench, ToleranceCases, type ToleranceOutcome } from "./toleranceCases";
import { varyingInputs } from "./toleranceInputs";
import { toleranceOptions } from "./toleranceOptions";
import { type ToleranceSummary, toleranceSummarySteps } from "./toleranceSummary";
import { planOf, type TrialPlan, type TrialRequest } from "./trial";

const USUAL_RUNS = 1000;

/** Plans a tolerance trial. */
export function planTolerance(request: TrialRequest): TrialPlan {
  const read = toleranceOptions(request);
  if (!read.ok) return { ...read, at: "options" };
  const { options } = read;
  const { project, seed, runs = USUAL_RUNS } = request;
  if (!(Number.isInteger(runs) && runs > 0))
    return { ok: false, problem: `runs has to be a whole number over 0, not ${runs}`, at: "runs" };
  const rowLength = sobolRunsPerRow(varyingInputs(options.inputs).length);
  if (options.sobol && runs < rowLength)
    return {
      ok: false,
      problem: `one row of draws for Sobol indices takes ${rowLength} runs, fewer with inputs fixed; ${runs} ${runs === 1 ? "is" : "are"} too few`,
      at: "runs",
      runsThatFit: { least: rowLength, worthReading: 100 * rowLength, orElse: "fix inputs" },
    };
  const settled = settledBench(project);
  if (!settled.ok) return settled;
  const cases = new ToleranceCases(settled.bench, options, seed);
  const nameOf = (id: string): string => project.monitors.find((m) => m.id === id)?.name ?? id;
  // whole rows only
  const count = options.sobol ? runs - (runs % rowLength) : runs;
  const sumUp = (outcomes: readonly (ToleranceOutcome | null)[]): Steps<ToleranceSummary> =>
    toleranceSummarySteps(outcomes, count, options, project.operatorS, nameOf);
  return planOf<ToleranceOutcome, ToleranceSummary>({
    kind: "tolerance",
    count,
    labelOf: (index) => `${FAULTS[options.fault.fault].name}, unit ${index + 1}`,
    steps: (index) => cases.steps(index),
    openOnBench: (index) => cases.open(index),
    summarise: (outcomes) => drained(sumUp(outcomes)),
    summarySteps: (outcomes) => sumUp(outcomes),
  });
}
