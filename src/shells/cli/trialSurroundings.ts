/** What the commands that run trials need besides files and text. Given from outside, so that they can be tested alone. */
import type { PoolMeans } from "../trials/pool";
import type { Plan } from "../trials/trialHost";
import type { Surroundings } from "./engine";

/** A file that is to be written: there with its new text whole, or as it was before. */
export interface Output {
  /** The first characters of what stands there now; blank where nothing else does. */
  readonly holds: string;
  /** Answers why it could not be written, or null. */
  write(text: string): Unwritable | null;
  /** Leaves everything as it was. */
  discard(): void;
}

export interface Unwritable {
  readonly reason: string;
  readonly remedy: string;
}

export type Opening =
  | { readonly ok: true; readonly output: Output }
  | ({ readonly ok: false } & Unwritable);

export interface TrialSurroundings extends Surroundings {
  /** Tried before hours of work, not after them. */
  readonly openOutput: (path: string) => Opening;
  readonly plan: Plan;
  /** As many workers as there are cores, unless asked otherwise. */
  readonly means: PoolMeans;
  /** Whether somebody watches standard error. */
  readonly isWatched: boolean;
  /** Calls `stop` with the exit status once somebody wants the program to end; the answer takes that back. */
  readonly onStop: (stop: (status: number) => void) => () => void;
}
