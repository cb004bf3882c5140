/** The way to a worker of its own thread in Node. */
import { resolve } from "node:path";
import { Worker } from "node:worker_threads";
import type { FromTrial, TrialPort } from "../trials/protocol";

/** A port to a thread that runs the module at `file`. */
export function createThreadPort(file: string): TrialPort {
  const worker = new Worker(resolve(file));
  let isOver = false;
  const end = (crashed: (words: string) => void, words: string): void => {
    if (isOver) return;
    isOver = true;
    crashed(words);
  };
  return {
    post: (message) => worker.postMessage(message),
    listen(heard, crashed) {
      worker.on("message", (message: FromTrial) => {
        if (!isOver) heard(message);
      });
      worker.on("error", (problem) => end(crashed, problem.message));
      worker.on("messageerror", () =>
        end(crashed, "its worker sent something that cannot be read"),
      );
      worker.on("exit", () => end(crashed, "its worker stopped"));
    },
    close() {
      isOver = true;
      void worker.terminate();
    },
  };
}
