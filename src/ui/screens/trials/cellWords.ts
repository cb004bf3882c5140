/**
 * What a cell is called by both of its margins: the kind follows the nominal estimate of the onset; a strike at the early edge of
 * the estimates may still be late or thin where the kind says covered.
 */
import type { TrialStanding } from "../../../shells/trials/pageTrial";
import { formatRatio } from "../../../units/format";
import { KIND_WORDS, type ShownKind } from "./CellMark";

export interface JudgedMargins {
  readonly kind: ShownKind;
  readonly margin: number | null;
  /** The same by the early edge of the estimates. */
  readonly marginEarly: number | null;
}

export interface CellWords {
  /** In the cell, under its figure. */
  readonly kind: string;
  /** In a sentence that goes on to tell of the early edge. */
  readonly kindInFull: string;
  /** `early 0.80×, late`; empty where there is one estimate, whose figure need not stand twice. */
  readonly early: string;
  /** Worse than the kind says. */
  readonly isWorseEarly: boolean;
}

export function cellWords(
  { kind, margin, marginEarly }: JudgedMargins,
  required: number,
): CellWords {
  const word = KIND_WORDS[kind];
  if (marginEarly === null || marginEarly === margin)
    return { kind: word, kindInFull: word, early: "", isWorseEarly: false };
  const verdict = earlyVerdict(kind, marginEarly, required);
  const early = `early ${formatRatio(marginEarly)}`;
  if (verdict === "") return { kind: word, kindInFull: word, early, isWorseEarly: false };
  return {
    kind: `${word}, nominal`,
    kindInFull: `${word} by the nominal estimate`,
    early: `${early}, ${verdict}`,
    isWorseEarly: true,
  };
}

/** What stands for a case without a result. Hundreds of them stay as they are when a trial is stopped: what it means is said once. */
export const MISSING = "\u2013";

const NOT_RUN = "the case was not run";
const MEANINGS: Readonly<Record<TrialStanding, string>> = {
  idle: NOT_RUN,
  planning: "the case waits for its turn",
  running: "the case waits for its turn",
  cancelled: NOT_RUN,
  failed: NOT_RUN,
  // tried, and given up
  done: "the case gave no result",
};

/** What a dash means. */
export function missingWords(standing: TrialStanding): string {
  return `${MISSING} ${MEANINGS[standing]}`;
}

function earlyVerdict(
  kind: ShownKind,
  marginEarly: number,
  required: number,
): "" | "late" | "thin" {
  if (kind !== "covered" && kind !== "thin") return "";
  if (marginEarly < 1) return "late";
  return kind === "covered" && marginEarly < required ? "thin" : "";
}
