/**
 *   quietarc merge FILE...    joins the shares of one run
 *
 * The joined file is that of one run, byte for byte. Shares that do not belong together, cases that stand twice and cases
 * that stand nowhere are refused.
 */

import type { Trial } from "../../study/trials/trial";
import type { CaseResult } from "../trials/protocol";
import {
  differenceOf,
  type Header,
  headerLine,
  indicesOf,
  readHeader,
  readResult,
  WHOLE,
} from "../trials/resultLines";
import { DONE, FAILED, REFUSED } from "./exitStatus";
import { labelOf, readText } from "./projectInput";
import { MAX_RESULT_BYTES, openOutput, put, summaryText, tellReplaced } from "./resultFile";
import { needed, refuse, refusing } from "./trialOptions";
import type { TrialSurroundings } from "./trialSurroundings";
import { readWords } from "./words";

interface Entry {
  readonly result: CaseResult;
  readonly line: string;
  /** `FILE:LINE` */
  readonly place: string;
}

interface ShareFile {
  readonly label: string;
  readonly header: Header;
  readonly entries: readonly Entry[];
}

/** Most cases that are named where some are missing. */
const MOST_NAMED = 8;

export function mergeCommand(words: readonly string[], around: TrialSurroundings): number {
  return refusing(() => merge(words, around)) ?? REFUSED;
}

function merge(words: readonly string[], around: TrialSurroundings): number {
  const wording = { command: "merge", valued: ["out"], flags: [] };
  const { values, files } = needed(readWords(words, wording, around));
  const shares = files.map((path) => readShare(path, around));
  const [first] = shares;
  if (first === undefined) {
    return refuse(around, "missingFile", "merge needs files", "Give the files of all shares");
  }
  for (const share of shares) expectSameRun(first, share, around);
  const header: Header = { ...first.header, share: WHOLE };
  const entries = inOrder(shares, header.count, around);
  const trial = plannedAgain(first, around);
  const outPath = values.get("out");
  if (outPath !== undefined) {
    const output = needed(openOutput(outPath, around));
    const text = `${[headerLine(header), ...entries.map((entry) => entry.line)].join("\n")}\n`;
    if (!put(output, outPath, text, around)) return FAILED;
    tellReplaced(output, outPath, around);
  }
  const results = entries.map((entry) => entry.result);
  around.out(summaryText(header, trial, results));
  return results.every((result) => "outcome" in result) ? DONE : FAILED;
}

/** The trial of the request that the shares recorded: no word of this command changes that, but for the files. */
function plannedAgain({ label, header }: ShareFile, around: TrialSurroundings): Trial {
  const remedy = "Run the trial again with this version";
  const plan = around.plan(header.request);
  if (!plan.ok) {
    const message = `this version does not run what it records: ${plan.problem.replace(/\.$/, "")}`;
    return refuse(around, "otherVersion", message, remedy, `${label}:1`);
  }
  const { count } = plan.trial;
  if (count === header.count) return plan.trial;
  const message = `the run had ${header.count} cases, this version makes ${count} of it`;
  return refuse(around, "otherVersion", message, remedy, label);
}

function readShare(path: string, around: TrialSurroundings): ShareFile {
  const label = labelOf(path);
  const text = needed(readText(path, MAX_RESULT_BYTES, around));
  const [first = "", ...lines] = text.split(/\r?\n/);
  if (lines.at(-1) === "") lines.pop();
  const reading = readHeader(first);
  if (!reading.ok) {
    const { message, remedy } = reading;
    return refuse(around, "notResults", message, remedy, `${label}:1`);
  }
  const { header } = reading;
  const isMine = new Set(indicesOf(header.share, header.count));
  const entries = lines.map((line, k): Entry => {
    const place = `${label}:${k + 2}`;
    const result = readResult(line);
    if (result === null) {
      const remedy = "The file was cut off or changed; go on with --resume, or run the share again";
      return refuse(around, "notResult", "this line holds no result of a case", remedy, place);
    }
    if (!isMine.has(result.index)) {
      const { number, of } = header.share;
      const message = `case ${result.index} is none of share ${number}/${of} of ${header.count} cases`;
      refuse(around, "strayCase", message, "Run the share again", place);
    }
    return { result, line, place };
  });
  return { label, header, entries };
}

function expectSameRun(first: ShareFile, share: ShareFile, around: TrialSurroundings): void {
  const name = differenceOf(first.header, share.header);
  if (name === "") return;
  const what = name === "share" ? "number of shares" : name;
  const message = `its ${what} is not that of ${first.label}`;
  refuse(around, "otherRun", message, "Join shares of one run only", `${share.label}:1`);
}

/** Every case once. */
function inOrder(
  shares: readonly ShareFile[],
  count: number,
  around: TrialSurroundings,
): readonly Entry[] {
  const byIndex: (Entry | undefined)[] = new Array(count);
  for (const entry of shares.flatMap((share) => share.entries)) {
    const { index } = entry.result;
    const earlier = byIndex[index];
    if (earlier !== undefined) {
      const message = `case ${index} stands at ${earlier.place} as well`;
      refuse(around, "repeatedCase", message, "Give each share once", entry.place);
    }
    byIndex[index] = entry;
  }
  const missing = Array.from({ length: count }, (_, i) => i).filter((i) => !byIndex[i]);
  if (missing.length > 0) {
    const named = missing.slice(0, MOST_NAMED).join(", ");
    const more = missing.length > MOST_NAMED ? ", ..." : "";
    const message = `${missing.length} of ${count} cases are in no file: ${named}${more}`;
    refuse(around, "missingCases", message, remedyFor(missing, count, shares));
  }
  return byIndex.filter((entry) => entry !== undefined);
}

function remedyFor(
  missing: readonly number[],
  count: number,
  shares: readonly ShareFile[],
): string {
  const of = shares[0]?.header.share.of ?? 1;
  const given = new Map(shares.map((share) => [share.header.share.number, share.label]));
  const isMissing = new Set(missing);
  const numbers = Array.from({ length: of }, (_, k) => k + 1).filter((number) =>
    indicesOf({ number, of }, count).some((index) => isMissing.has(index)),
  );
  const words = numbers.slice(0, MOST_NAMED).map((number) => {
    const label = given.get(number);
    return label === undefined ? `give share ${number}/${of}` : `finish ${label} with --resume`;
  });
  return words.join(", ");
}
