/**
 * Why a cell stays open, in words beside its kind's own reason: what the fault looks like, and which monitor that does not act would have
 * seen it in time.
 *
 * As a mismatch counts a VSWR of 1.2 or more with the gain within 1.5 dB of what is expected, as a healthy carrier a lower one with
 * the gain within 0.5 dB: what ordinary use does to these figures, limits of our own [E].
 */
import type { Project } from "../../project/types";
import { createBench } from "../../simulation/bench";
import { faultResult } from "../../simulation/simulate";
import { formatDb, formatNumber, formatTime } from "../../units/format";
import type { CaseLook } from "./caseLook";
import { type CaseOutcome, runToFault, runUnprotected } from "./runCase";
import type { Steps } from "./steps";

const MISMATCHED_VSWR = 1.2;
const MISMATCH_DB = 1.5;
const HEALTHY_DB = 0.5;

/** "it looks like a mismatch (VSWR 1.5, gain -0.5 dB beside what is expected)"; empty where nothing can be read. */
function lookWords({ gainDeviationDb: gain, vswr }: CaseLook): string {
  if (gain === null || vswr === null) return "";
  const figures = `VSWR ${formatNumber(vswr, 2)}, gain ${formatDb(gain)} beside what is expected`;
  const offDb = Math.abs(gain);
  if (vswr >= MISMATCHED_VSWR && offDb < MISMATCH_DB)
    return `it looks like a mismatch (${figures})`;
  if (vswr < MISMATCHED_VSWR && offDb < HEALTHY_DB)
    return `it looks like a healthy carrier (${figures})`;
  return `it shows ${figures}`;
}

interface Seer {
  readonly name: string;
  readonly role: "acting" | "shadow" | "off";
  readonly operateS: number;
}

/** Monitors that would have ended it with a margin, by the nominal estimate; those that are off are let watch the run left alone. */
function* seersOf(
  project: Project,
  { weakest }: CaseOutcome,
  margin: number,
): Steps<readonly Seer[]> {
  const { monitors } = project;
  const watching = monitors.map((m) => (m.role === "off" ? { ...m, role: "shadow" as const } : m));
  const created = createBench({ ...project, monitors: watching });
  yield;
  const start = created.ok ? yield* runToFault(created.bench) : null;
  if (!created.ok || start === null || weakest === null) return [];
  const twin = yield* runUnprotected(created.bench, start);
  const { race } = faultResult(created.bench, start, Infinity, twin);
  return race.monitors.flatMap(({ name, operateS, clearingS }, i): readonly Seer[] => {
    if (operateS === null || clearingS === null || margin * clearingS > weakest.damageS) return [];
    return [{ name, role: monitors[i]?.role ?? "off", operateS }];
  });
}

function seerWords(seers: readonly Seer[]): string {
  // one that acts has seen it, and what it commands has not ended it
  if (seers.some(({ role }) => role === "acting")) return "";
  if (seers.length === 0) return "no monitor of the project sees it in time";
  const words = seers.map(({ name, role, operateS }) => {
    const standing = role === "shadow" ? "in shadow" : "off";
    return `${name} (${standing}, after ${formatTime(operateS)})`;
  });
  const last = words.pop();
  const names = words.length === 0 ? last : `${words.join(", ")} and ${last}`;
  return `only ${names} would see it in time`;
}

/** Clauses without a full stop; `project` is the case's own, with its seed. */
export function* openReason(
  project: Project,
  outcome: CaseOutcome,
  requiredMargin: number,
): Steps<string> {
  const look = outcome.look === null ? "" : lookWords(outcome.look);
  const seers =
    outcome.weakest === null ? "" : seerWords(yield* seersOf(project, outcome, requiredMargin));
  return [look, seers].filter((clause) => clause !== "").join("; ");
}
