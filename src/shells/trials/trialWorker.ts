/** A worker of the page that runs cases of trials. */
import type { FromTrial, ToTrial } from "./protocol";
import { serveTrials } from "./serve";

interface WorkerScope {
  postMessage(message: FromTrial): void;
  onmessage: ((event: MessageEvent<ToTrial>) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;
const take = serveTrials((message) => scope.postMessage(message));
scope.onmessage = ({ data }) => take(data);
