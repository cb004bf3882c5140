import { EngineHost, SAMPLES_PER_FRAME } from "../../src/shells/bench/engineHost";
import type { BenchPort, FromEngine } from "../../src/shells/bench/protocol";

type Listener = (message: FromEngine) => void;

export interface InProcessPort extends BenchPort {
  /** Slices of what runs ahead, as a worker does them by itself; false when nothing is left to do. */
  work(samples: number): boolean;
}

/** The engine in this thread: answers come inside `post`, copied as a worker would copy them. */
export function createInProcessPort(samplesPerFrame = SAMPLES_PER_FRAME): InProcessPort {
  let listener: Listener | null = null;
  const host = new EngineHost((message) => {
    if (message.kind === "frame") listener?.(message);
    else listener?.(structuredClone(message));
  });
  host.samplesPerFrame = samplesPerFrame;
  return {
    post(message) {
      host.receive(message);
    },
    listen(next) {
      listener = next;
    },
    work: (samples) => host.work(samples),
    close() {
      listener = null;
    },
  };
}
