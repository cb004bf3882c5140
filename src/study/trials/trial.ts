/**
 * A trial: a batch of runs that answers one question about a protection scheme. A request is plain data; planning it gives
 * numbered cases, each of which can be run anywhere, in any order and any number of times with the same outcome, and one
 * function that sums outcomes up in order of their numbers. So a result never depends on how many workers made it, in
 * which order, or on which machine. Pools, files and screens know only what stands here.
 */
import type { Project } from "../../project/types";
import { drained, type Steps } from "./steps";

export const TRIAL_KINDS = ["coverage", "backup", "tolerance", "nuisance", "window"] as const;
export type TrialKind = (typeof TRIAL_KINDS)[number];

/** A value of plain JSON: what crosses between threads and files. Nothing here is NaN or infinite: null stands for it. */
export type Plain =
  | string
  | number
  | boolean
  | null
  | readonly Plain[]
  | { readonly [name: string]: Plain };

/** What is asked. `runs` and `options` are each kind's own; what is left out has its default. */
export interface TrialRequest {
  readonly kind: TrialKind;
  readonly project: Project;
  /** Of every chance in the trial. */
  readonly seed: number;
  /** How many cases, where the kind draws its cases; refused by kinds that count their own. */
  readonly runs?: number;
  readonly options?: { readonly [name: string]: Plain };
}

/** A trial ready to run. Outcome and summary are plain JSON; the types say more than `Plain` to who knows the kind. */
export interface Trial<Outcome = Plain, Summary = Plain> {
  readonly kind: TrialKind;
  readonly count: number;
  /** What a person calls the case, for lists and for messages. */
  labelOf(index: number): string;
  /** The same outcome whenever and wherever it is run. Throws only by a fault of the program. */
  run(index: number): Outcome;
  /**
   * The same with pauses, a few milliseconds of work apart, and the same however long they last. One at a time: it is void once
   * another case is begun, run or opened, and may be begun again.
   */
  steps(index: number): Steps<Outcome>;
  /** The case as a project of its own that the bench opens, with the moment of interest; null where it has none. */
  openOnBench(index: number): BenchMoment | null;
  /** Outcomes by index, null where a case has not been run: what is known so far, which may be nothing. */
  summarise(outcomes: readonly (Outcome | null)[]): Summary;
  /** The same with pauses, where many outcomes take long to sum up. */
  summarySteps?(outcomes: readonly (Outcome | null)[]): Steps<Summary>;
}

export interface BenchMoment {
  readonly project: Project;
  /** Project time at which there is something to see. */
  readonly atNs: number;
}

export type TrialPlan = { readonly ok: true; readonly trial: Trial } | TrialRefusal;

/** What is wrong with the request or its project, and what to do. */
export interface TrialRefusal {
  readonly ok: false;
  readonly problem: string;
  /** Which part of the request it is about; the project where it is not said. */
  readonly at?: "runs" | "options";
  /** Numbers of runs that would do; left out where none would. */
  readonly runsThatFit?: RunsThatFit;
}

export interface RunsThatFit {
  readonly least: number;
  /** Fewer are taken, but their figures say little. */
  readonly worthReading: number;
  /** What makes do with fewer, as a remedy. */
  readonly orElse: string;
}

/** A plan of what knows its own outcome and summary; a case is run by taking its steps to their end. */
export function planOf<Outcome, Summary>(own: Omit<Trial<Outcome, Summary>, "run">): TrialPlan {
  const run = (index: number): Outcome => drained(own.steps(index));
  const trial: Trial<Outcome, Summary> = { ...own, run };
  return { ok: true, trial: trial as unknown as Trial };
}
