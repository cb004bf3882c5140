/** The page's trials, and what of them a part of the screen may follow. */
import { createContext, useContext } from "react";
import { useStore } from "zustand";
import type { createTrials, TrialStudy } from "../../../state/trials";
import type { TrialKind } from "../../../study/trials/trial";

export type Trials = ReturnType<typeof createTrials>;

export const TrialsContext = createContext<Trials | null>(null);

export function useTrials(): Trials {
  const trials = useContext(TrialsContext);
  if (trials === null) throw new Error("the trials are missing above this component");
  return trials;
}

/** One value of a kind's study; redraws only when it changes. */
export function useTrial<T>(kind: TrialKind, select: (study: TrialStudy) => T): T {
  return useStore(useTrials().store, (s) => select(s.studies[kind]));
}
