/**
 * Work that can pause: a generator that yields wherever it may be left for a while. Where that is depends on how much has been
 * simulated, never on a clock, and what comes out on neither. What shares benches with it has to wait until it has ended; one
 * that is left for good leaves nothing half-made where others look.
 */
import type { Bench } from "../../simulation/bench";

export type Steps<Outcome> = Generator<void, Outcome, void>;

/** To its end without a pause. */
export function drained<Outcome>(steps: Steps<Outcome>): Outcome {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** After so many samples a bench is due for a pause; where two stretches join, twice as many and one look more: milliseconds of work. */
export const PAUSE_SAMPLES = 200;

/** Says when a bench has gone far enough for the next pause. */
export class Pauses {
  private nextNs: number;
  private readonly everyNs: number;

  constructor(private readonly bench: Bench) {
    this.everyNs = PAUSE_SAMPLES * bench.sampleNs;
    this.nextNs = bench.timeNs + this.everyNs;
  }

  isDue(): boolean {
    const { timeNs } = this.bench;
    if (timeNs < this.nextNs) return false;
    this.nextNs = timeNs + this.everyNs;
    return true;
  }
}

/** As the bench's own `advanceTo`, after a pause: making a bench is work, too. */
export function* advanceInSteps(bench: Bench, ns: number): Steps<void> {
  const everyNs = PAUSE_SAMPLES * bench.sampleNs;
  yield;
  while (bench.timeNs + everyNs < ns) {
    bench.advanceTo(bench.timeNs + everyNs);
    yield;
  }
  bench.advanceTo(ns);
}
