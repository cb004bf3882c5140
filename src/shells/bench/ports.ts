/** The way to an engine: a worker of its own. */
import type { BenchPort, FromEngine, ToEngine } from "./protocol";

type Listener = (message: FromEngine) => void;

/** What a worker has to offer here; a page's Worker is one. */
export interface WorkerLike {
  postMessage(message: ToEngine, transfer: Transferable[]): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromEngine>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
}

const NO_WORKER =
  "The simulation could not be started in this browser. Open the page over http or https, not from a file, and allow workers.";

/** A port to the engine in a worker; a worker that cannot start is reported in words, by message. */
export function createWorkerPort(start: () => WorkerLike = startBenchWorker): BenchPort {
  let listener: Listener | null = null;
  let waiting: FromEngine[] = [];
  let hasAnswered = false;
  const tell = (message: FromEngine): void => {
    if (listener === null) waiting.push(message);
    else listener(message);
  };
  let worker: WorkerLike | null = null;
  try {
    worker = start();
    worker.onmessage = (event) => {
      hasAnswered = true;
      tell(event.data);
    };
    worker.onerror = (event) => {
      const words = hasAnswered
        ? `The simulation stopped: ${event.message || "its worker failed"}.`
        : NO_WORKER;
      tell({ kind: "failed", words });
    };
    worker.onmessageerror = () =>
      tell({ kind: "failed", words: "The simulation sent something that cannot be read." });
  } catch {
    tell({ kind: "failed", words: NO_WORKER });
  }
  return {
    post(message) {
      worker?.postMessage(message, message.kind === "ask" ? [message.buffer.buffer] : []);
    },
    listen(next) {
      listener = next;
      const early = waiting;
      waiting = [];
      for (const message of early) next(message);
    },
    close() {
      worker?.terminate();
      worker = null;
    },
  };
}

function startBenchWorker(): WorkerLike {
  return new Worker(new URL("./benchWorker.ts", import.meta.url), { type: "module" });
}
