/** The commands that run trials, join their results or ask what they show. */
import { FAILED } from "./exitStatus";
import { mergeCommand } from "./mergeCommand";
import { complaint } from "./projectInput";
import { requireCommand } from "./requireCommand";
import { trialCommand } from "./trialCommand";
import type { TrialSurroundings } from "./trialSurroundings";

type TrialCommand = (
  words: readonly string[],
  around: TrialSurroundings,
) => number | Promise<number>;

const COMMANDS: Readonly<Record<string, TrialCommand>> = {
  trial: trialCommand,
  merge: mergeCommand,
  require: requireCommand,
};

export const TRIAL_COMMANDS: readonly string[] = Object.keys(COMMANDS);

/** Runs `quietarc NAME WORDS`; answers the exit status. Never throws. */
export async function runTrialCommand(
  name: string,
  words: readonly string[],
  around: TrialSurroundings,
): Promise<number> {
  try {
    return (await COMMANDS[name]?.(words, around)) ?? FAILED;
  } catch (problem) {
    const message = problem instanceof Error ? problem.message : String(problem);
    const remedy = "The program is at fault, not your input; keep it and report this";
    around.error(complaint("quietarc", "internalFault", message, remedy));
    return FAILED;
  }
}
