/** A file of results, and the object that sums them up. */
import type { Plain, Trial } from "../../study/trials/trial";
import type { CaseResult } from "../trials/protocol";
import {
  beginsAsResults,
  type Header,
  headerLine,
  projectHash,
  resultLine,
} from "../trials/resultLines";
import { complaint, labelOf } from "./projectInput";
import type { Output, TrialSurroundings } from "./trialSurroundings";

/** Results of many thousand cases. */
export const MAX_RESULT_BYTES = 400_000_000;

/** The lines of a file, results in the order of their numbers. */
export function resultText(header: Header, trial: Trial, results: readonly CaseResult[]): string {
  const lines = results.map((result) => resultLine(result, trial.labelOf(result.index)));
  return `${[headerLine(header), ...lines].join("\n")}\n`;
}

/** One JSON object: what was run, what became of it, and the kind's own summary. */
export function summaryText(header: Header, trial: Trial, results: readonly CaseResult[]): string {
  const { request, count, share } = header;
  const outcomes = new Array<Plain | null>(count).fill(null);
  const failed: { index: number; label: string; words: string }[] = [];
  for (const result of results) {
    const { index } = result;
    if ("outcome" in result) outcomes[index] = result.outcome;
    else failed.push({ index, label: trial.labelOf(index), words: result.failure });
  }
  const value = {
    kind: request.kind,
    seed: request.seed,
    runs: request.runs ?? null,
    options: request.options ?? {},
    projectHash: projectHash(request.project),
    count,
    done: results.length - failed.length,
    ...(share.of === 1 ? {} : { share: [share.number, share.of] }),
    failed,
    summary: trial.summarise(outcomes),
  };
  return `${JSON.stringify(value, null, 2)}\n`;
}

/** The file that is to be written, or null after a complaint. Nothing but earlier results is ever written over. */
export function openOutput(path: string, around: TrialSurroundings): Output | null {
  const opening = around.openOutput(path);
  if (opening.ok) {
    const { output } = opening;
    if (isBlank(output) || beginsAsResults(output.holds)) return output;
    output.discard();
    const message = "the file is there already and holds no results of a trial";
    around.error(
      complaint(path, "notResults", message, "Name another file, or move that one away"),
    );
    return null;
  }
  around.error(complaint(path, "cannotWrite", opening.reason, opening.remedy));
  return null;
}

/** Nothing stands there that could be lost. */
function isBlank({ holds }: Output): boolean {
  return holds.trim() === "";
}

/** Says what became of earlier results, once others stand in their place. */
export function tellReplaced(output: Output, path: string, around: TrialSurroundings): void {
  if (isBlank(output)) return;
  around.error(`${labelOf(path)}: notice: the results that stood here have been replaced.\n`);
}

/** Whether the text is there. */
export function put(
  output: Output,
  path: string,
  text: string,
  around: TrialSurroundings,
): boolean {
  const problem = output.write(text);
  if (problem !== null) {
    around.error(complaint(path, "cannotWrite", problem.reason, problem.remedy));
  }
  return problem === null;
}
