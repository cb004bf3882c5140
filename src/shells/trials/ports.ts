/** The way to the workers of a page. */
import type { PoolMeans } from "./pool";
import { type FromTrial, type TrialPort, WALL_CLOCK } from "./protocol";

const NO_WORKER =
  "Trials cannot be run in this browser. Open the page over http or https, and allow workers";

/** A port to a worker of its own; one that cannot start, or stops, is reported in words, by message. */
function createTrialWorkerPort(): TrialPort {
  let heard: (message: FromTrial) => void = () => {};
  let crashed: (words: string) => void = () => {};
  let early: string | null = null;
  let hasSpoken = false;
  let worker: Worker | null = null;
  const crash = (words: string): void => {
    worker?.terminate();
    worker = null;
    early = words;
    crashed(words);
    crashed = () => {};
  };
  try {
    worker = new Worker(new URL("./trialWorker.ts", import.meta.url), { type: "module" });
    worker.onmessage = (event: MessageEvent<FromTrial>) => {
      hasSpoken = true;
      heard(event.data);
    };
    worker.onerror = (event) =>
      crash(hasSpoken ? event.message || "its worker stopped" : NO_WORKER);
    worker.onmessageerror = () => crash("its worker sent something that cannot be read");
  } catch {
    crash(NO_WORKER);
  }
  return {
    post: (message) => worker?.postMessage(message),
    listen(nextHeard, nextCrashed) {
      heard = nextHeard;
      crashed = nextCrashed;
      if (early !== null) crash(early);
    },
    close() {
      worker?.terminate();
      worker = null;
      crashed = () => {};
      heard = () => {};
    },
  };
}

/** As many workers as the machine has cores. */
export function meansOfPage(): PoolMeans {
  const workers = Math.max(1, navigator.hardwareConcurrency || 1);
  return { workers, startWorker: createTrialWorkerPort, clock: WALL_CLOCK };
}
