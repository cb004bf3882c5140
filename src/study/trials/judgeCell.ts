/** What a cell of the coverage table is called, from its outcome, and why in words. */
import { FAULTS } from "../../project/faults";
import type { FaultName } from "../../project/scenario";
import type { CoverageOptions } from "./coverageOptions";
import type { CaseOutcome } from "./runCase";

/**
 * `thin`: cleared in time but under the required margin; `late`: cleared after the damage; `notCovered`: damage comes and nothing
 * acts; `limitedByDesign`: over before any monitor could have ended it; `latent`: waits for its call.
 */
export const KINDS = [
  "covered",
  "thin",
  "late",
  "notCovered",
  "limitedByDesign",
  "noStrike",
  "noDamage",
  "latent",
] as const;
export type CellKind = (typeof KINDS)[number];

export interface Judgement {
  readonly kind: CellKind;
  readonly reason: string;
}

/** Kind and reason of one cell. */
export function judgeCell(
  fault: FaultName,
  outcome: CaseOutcome,
  required: Pick<CoverageOptions, "requiredMargin" | "requiredMarginHalfMilligram">,
): Judgement {
  const { zero, weakest, firstTrip, clearingS, supply } = outcome;
  if (FAULTS[fault].latent) {
    return {
      kind: "latent",
      reason: "does nothing until it is called upon; the back-up trial fails it in turn",
    };
  }
  if (zero === null) return { kind: "noStrike", reason: "nothing strikes under this condition" };
  if (supply?.limitedBy === "surgeResistor")
    return { kind: "limitedByDesign", reason: supply.words };
  const trip = firstTrip === null ? "no monitor trips" : `${firstTrip.name} trips first`;
  if (weakest === null) {
    return {
      kind: "noDamage",
      reason: `nothing is damaged within 10 s even if nothing acts; ${trip}`,
    };
  }
  const margin = outcome.weakestMargin;
  if (clearingS === null || margin === null) {
    return {
      kind: "notCovered",
      reason: `${weakest.part} is damaged and nothing ends it: ${trip}`,
    };
  }
  if (margin < 1) {
    return { kind: "late", reason: `cleared after ${weakest.part} is damaged: ${trip}` };
  }
  const half = outcome.marginHalfMilligram;
  if (margin < required.requiredMargin) {
    return {
      kind: "thin",
      reason: `under the required margin of ${required.requiredMargin}: ${trip}`,
    };
  }
  if (half !== null && half < required.requiredMarginHalfMilligram) {
    return {
      kind: "thin",
      reason: `under the required margin of ${required.requiredMarginHalfMilligram} to 0.5 mg molten: ${trip}`,
    };
  }
  return { kind: "covered", reason: trip };
}
