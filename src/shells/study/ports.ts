/** The two ways to the studies: a worker of their own, and the same in this thread. */
import type { FromStudy, StudyPort, ToStudy } from "./protocol";
import { StudyHost } from "./studyHost";

const NO_WORKER =
  "Working points cannot be worked out in this browser. Open the page over http or https, and allow workers.";

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

/** The studies in this thread, all slices inside `post`; it fits no tubes. */
export function createInThreadStudyPort(): StudyPort {
  let listener: ((message: FromStudy) => void) | null = null;
  const host = new StudyHost((message) => listener?.(structuredClone(message)));
  return {
    post(message) {
      if (message.kind === "fit") return;
      host.receive(message);
      while (host.next() !== null) host.work();
    },
    listen(next) {
      listener = next;
    },
    close() {
      listener = null;
    },
  };
}
