/** Keeps a host working inside a worker, of a page or of Node: parts of cases for a while, then a look at what has been said. */
import type { FromTrial, ToTrial } from "./protocol";
import { TrialHost } from "./trialHost";

/** Results are sent this often, and messages read; the clock decides when, never what. */
const TURN_MS = 25;

/** Answers what takes the messages to this worker. */
export function serveTrials(send: (message: FromTrial) => void): (message: ToTrial) => void {
  const host = new TrialHost(send);
  const again = new MessageChannel();
  let isPosted = false;
  const schedule = (): void => {
    if (isPosted || !host.hasWork) return;
    isPosted = true;
    again.port2.postMessage(0);
  };
  again.port1.onmessage = () => {
    isPosted = false;
    const startMs = performance.now();
    host.work(() => performance.now() - startMs >= TURN_MS);
    schedule();
  };
  return (message) => {
    host.receive(message);
    schedule();
  };
}
