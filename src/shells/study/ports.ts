/** The way to the studies: a worker of their own. */
import type { FromStudy, StudyPort, ToStudy } from "./protocol";

const NO_WORKER =
  "Studies cannot be worked out in this browser. Open the page over http or https, and allow workers.";

/** A port to a worker; one that cannot start, or stops, is reported in words, by message. */
export function createStudyWorkerPort(): StudyPort {
  let listener: ((message: FromStudy) => void) | null = null;
  let worker: Worker | null = null;
  let early: FromStudy | null = null;
  const tell = (message: FromStudy): void => {
    if (listener === null) early = message;
    else listener(message);
  };
  try {
    worker = new Worker(new URL("./studyWorker.ts", import.meta.url), { type: "module" });
    worker.onmessage = (event: MessageEvent<FromStudy>) => tell(event.data);
    worker.onerror = () => tell({ kind: "failed", words: NO_WORKER });
  } catch {
    tell({ kind: "failed", words: NO_WORKER });
  }
  return {
    post: (message: ToStudy) => worker?.postMessage(message),
    listen(next) {
      listener = next;
      if (early !== null) next(early);
      early = null;
    },
    close() {
      worker?.terminate();
      worker = null;
    },
  };
}
