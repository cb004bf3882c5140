/** A command line without processes: files in memory, workers that take turns by themselves, a trial of a few sums. */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { runTrialCommand } from "../../../src/shells/cli/trialCommands";
import type { TrialSurroundings } from "../../../src/shells/cli/trialSurroundings";
import { WALL_CLOCK } from "../../../src/shells/trials/protocol";
import type { Plan } from "../../../src/shells/trials/trialHost";
import { ROOT } from "../../support/root";
import { type Mischief, Rig, tinyPlan } from "../trials/trialRig";

export const PROJECT = readFileSync(
  resolve(ROOT, "public/projects/skerry-light-insect.json"),
  "utf8",
);

export interface Ended {
  readonly status: number;
  readonly out: string;
  readonly error: string;
}

export class Desk {
  readonly files = new Map<string, string>([
    ["p.json", PROJECT],
    ["other.json", '{ "format": "quietarc-project", "schemaVersion": 1 }'],
  ]);
  plan: Plan = tinyPlan;
  mischief: readonly Mischief[] = [];
  isWatched = false;
  /** Turns of workers after which somebody stops the program. */
  stopAfter = Number.POSITIVE_INFINITY;

  async run(...words: readonly string[]): Promise<Ended> {
    const [name = "", ...rest] = words;
    let out = "";
    let error = "";
    let turns = 0;
    let stop: ((status: number) => void) | null = null;
    const rig = new Rig({ workers: 8, mischief: this.mischief, plan: this.plan });
    const around: TrialSurroundings = {
      read: (path) => {
        const text = this.files.get(path);
        return text === undefined
          ? { ok: false, reason: "there is no such file", remedy: "Check the path" }
          : { ok: true, bytes: new TextEncoder().encode(text) };
      },
      out: (text) => {
        out += text;
      },
      error: (text) => {
        error += text;
      },
      openOutput: (path) =>
        path.startsWith("nowhere/")
          ? { ok: false, reason: "its folder is not there", remedy: "Make the folder" }
          : {
              ok: true,
              output: {
                holds: this.files.get(path) ?? "",
                write: (text) => {
                  this.files.set(path, text);
                  return null;
                },
                discard: () => {},
              },
            },
      plan: this.plan,
      means: {
        workers: 3,
        startWorker: rig.startWorker,
        clock: this.isWatched ? rig.clock : WALL_CLOCK,
      },
      isWatched: this.isWatched,
      onStop: (work) => {
        stop = work;
        return () => {
          stop = null;
        };
      },
    };
    const ended = runTrialCommand(name, rest, around);
    let isOver = false;
    void ended.then(() => {
      isOver = true;
    });
    while (!isOver) {
      if (rig.step(turns)) turns += 1;
      else await Promise.resolve(); // the next trial, or the end
      if (turns === this.stopAfter) (stop as ((status: number) => void) | null)?.(130);
    }
    return { status: await ended, out, error };
  }
}
