/**
 * The engine in a worker: frames first, and between them slices of what runs ahead. The clock here sizes the
 * slices and decides nothing else.
 */
import { EngineHost } from "./engineHost";
import type { FromEngine, ToEngine } from "./protocol";

/** A slice must not keep a frame waiting for long, a frame must not keep the page waiting. */
const SLICE_MS = 3;
const FRAME_MS = 24;
const LEAST_SAMPLES = 20;
const FEWEST_A_FRAME = 100;
const MOST_A_FRAME = 20_000;

interface WorkerScope {
  postMessage(message: FromEngine, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<ToEngine>) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;
const host = new EngineHost((message, transfer = []) => scope.postMessage(message, [...transfer]));

let slice = 100;
let isScheduled = false;
const again = new MessageChannel();
again.port1.onmessage = () => {
  isScheduled = false;
  const began = performance.now();
  const more = host.work(slice);
  const tookMs = Math.max(performance.now() - began, 0.05);
  if (more) {
    const fits = (slice * SLICE_MS) / tookMs;
    slice = Math.round(Math.min(Math.max(fits, LEAST_SAMPLES), 2 * slice, 4000));
    schedule();
  }
};

function schedule(): void {
  if (isScheduled) return;
  isScheduled = true;
  again.port2.postMessage(0);
}

scope.onmessage = ({ data }) => {
  const began = performance.now();
  host.receive(data);
  if (data.kind === "ask") fitFrame(performance.now() - began);
  schedule();
};

/** Few enough samples a frame that the page stays fluent, as many as that allows. */
function fitFrame(tookMs: number): void {
  const most = host.samplesPerFrame;
  if (tookMs > FRAME_MS)
    host.samplesPerFrame = Math.max((most * FRAME_MS) / tookMs, FEWEST_A_FRAME);
  else if (tookMs < FRAME_MS / 2) host.samplesPerFrame = Math.min(most * 1.25, MOST_A_FRAME);
}
