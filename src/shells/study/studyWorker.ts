/**
 * The studies in a worker: light slices one after the other, heavy ones after a breath in which nobody typed. The clock
 * here decides when, never what. The search of a fit is loaded when the first fit is asked for.
 */
import { fitTube } from "../../study/tubeFit";
import type { FromStudy, ToStudy } from "./protocol";
import { StudyHost } from "./studyHost";

/** Longer than between two keystrokes of somebody who types steadily. */
const BREATH_MS = 150;

interface WorkerScope {
  postMessage(message: FromStudy): void;
  onmessage: ((event: MessageEvent<ToStudy>) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;
const host = new StudyHost((message) => scope.postMessage(message));
const again = new MessageChannel();
let isPosted = false;
let breath: ReturnType<typeof setTimeout> | null = null;

again.port1.onmessage = () => {
  isPosted = false;
  if (host.next() !== "light") return schedule();
  host.work();
  schedule();
};

function schedule(): void {
  const next = host.next();
  if (next === "light" && !isPosted) {
    isPosted = true;
    again.port2.postMessage(0);
  }
  if (next !== "heavy" || breath !== null) return;
  breath = setTimeout(() => {
    breath = null;
    if (host.next() === "heavy") host.work();
    schedule();
  }, BREATH_MS);
}

async function fit(message: Extract<ToStudy, { kind: "fit" }>): Promise<void> {
  try {
    const { minimise } = await import("../fit/leastSquares");
    const { id, points, held } = message;
    scope.postMessage({ kind: "fit", id, fit: fitTube(points, held, minimise) });
  } catch (error) {
    const cause = error instanceof Error ? error.message : String(error);
    scope.postMessage({ kind: "failed", words: `The fit stopped: ${cause}.` });
  }
}

scope.onmessage = ({ data }) => {
  if (data.kind === "fit") {
    void fit(data);
    return;
  }
  if (breath !== null) clearTimeout(breath);
  breath = null;
  host.receive(data);
  if (host.next() !== null) host.work();
  schedule();
};
