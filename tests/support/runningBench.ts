/** A bench on the air, and what it is told to open: a file that cannot be read must leave it as it is, and running. */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { createPlayback } from "../../src/state/playback";
import { createProjectStore } from "../../src/state/project";
import { createInProcessPort } from "./inProcessPort";
import { ROOT } from "./root";

const FRAME_MS = 16;

export interface RunningBench {
  /** Opens a text as a file; answers whether it was taken. */
  open(text: string): Promise<boolean>;
  /** Record hash at the play head. */
  hash(): Promise<string>;
  /** One object as long as nothing on the bench changes. */
  state(): object;
  /** Lets it run for some frames of 16 ms. */
  run(frames: number): void;
}

/** The demonstration station, key down, some frames after its start. */
export async function runningBench(): Promise<RunningBench> {
  const playback = createPlayback(createInProcessPort());
  const projects = createProjectStore(playback);
  const text = readFileSync(resolve(ROOT, "public/projects/skerry-light-insect.json"), "utf8");
  if (!(await projects.openText(text, "good.json"))) throw new Error("the sample cannot be read");
  playback.setLens(false);
  playback.run();
  let clockMs = 0;
  const run = (frames: number): void => {
    for (let n = 0; n < frames; n++) {
      clockMs += FRAME_MS;
      playback.tick(clockMs);
    }
  };
  run(2);
  return {
    open: (changed) => projects.openText(changed, "changed.json"),
    hash: async () => (await playback.exportProject()).hash,
    state: () => playback.store.getState(),
    run,
  };
}
