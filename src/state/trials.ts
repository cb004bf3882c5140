/**
 * Trials of the page, one study for each kind: the request being edited, the run it was last started with, how that stands
 * and what is known so far. One runs at a time; starting another cancels it and keeps what it found. Progress, outcomes
 * and summary change together, at most ten times a second.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Project } from "../project/types";
import { NO_TRIAL, PageTrial, type TrialView } from "../shells/trials/pageTrial";
import type { PoolMeans } from "../shells/trials/pool";
import {
  type BenchMoment,
  TRIAL_KINDS,
  type TrialKind,
  type TrialRequest,
} from "../study/trials/trial";

/** What can be edited before a start; the project is given with it. */
export type TrialWish = Omit<TrialRequest, "kind" | "project">;

export interface TrialStudy extends TrialView {
  readonly wish: TrialWish;
  /** What the results belong to; null while there are none. */
  readonly asked: TrialRequest | null;
}

export interface TrialsState {
  readonly studies: Readonly<Record<TrialKind, TrialStudy>>;
  /** The kind whose cases are being run now. */
  readonly running: TrialKind | null;
}

const FRESH: TrialStudy = { ...NO_TRIAL, wish: { seed: 1 }, asked: null };

export function createTrials(means: PoolMeans) {
  const store: StoreApi<TrialsState> = createStore<TrialsState>()(() => ({
    studies: Object.fromEntries(TRIAL_KINDS.map((kind) => [kind, FRESH])) as Record<
      TrialKind,
      TrialStudy
    >,
    running: null,
  }));
  const runs = new Map<TrialKind, PageTrial>();

  const change = (kind: TrialKind, news: Partial<TrialStudy>): void =>
    store.setState((state) => {
      const study = { ...state.studies[kind], ...news };
      const works = study.standing === "planning" || study.standing === "running";
      const before = state.running === kind ? null : state.running;
      return { studies: { ...state.studies, [kind]: study }, running: works ? kind : before };
    });

  const cancel = (): void => {
    const { running } = store.getState();
    if (running !== null) runs.get(running)?.cancel();
  };

  const clear = (kind: TrialKind): void => {
    runs.get(kind)?.close();
    runs.delete(kind);
    const { wish } = store.getState().studies[kind];
    change(kind, { ...FRESH, wish });
  };

  return {
    store,
    /** What is to be asked next; results shown are not touched. */
    edit(kind: TrialKind, wish: Partial<TrialWish>): void {
      change(kind, { wish: { ...store.getState().studies[kind].wish, ...wish } });
    },
    /** Runs the kind with its wish on this project; what ran before is cancelled, earlier results of the kind go. */
    start(kind: TrialKind, project: Project): void {
      cancel();
      clear(kind);
      const asked: TrialRequest = { kind, project, ...store.getState().studies[kind].wish };
      change(kind, { asked, standing: "planning" });
      runs.set(kind, new PageTrial(asked, means, (view) => change(kind, view)));
    },
    /** Stops what runs and keeps what it found; the processor is free within a quarter of a second once cases run. */
    cancel,
    /** Goes on where the kind was cancelled. */
    resume(kind: TrialKind): void {
      if (store.getState().studies[kind].standing !== "cancelled") return;
      cancel();
      runs.get(kind)?.resume();
    },
    /** Forgets the results of a kind; stops it where it runs. */
    clear,
    /** The case as a project for the bench, with the moment to look at; null where it has none. */
    openOnBench(kind: TrialKind, index: number): Promise<BenchMoment | null> {
      return runs.get(kind)?.openOnBench(index) ?? Promise.resolve(null);
    },
    close(): void {
      for (const run of runs.values()) run.close();
      runs.clear();
    },
  };
}
