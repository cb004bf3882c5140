/**
 * The project a person edits beside the bench, with every step it took.
 *
 * One gesture is one step: changes under one gesture's name join the step that gesture began, until it ends. A gesture
 * that comes back to where it began leaves no step. Projects are kept whole and never changed, so undo and redo give
 * back the very project, and with it its hash. Loading a file is a step like any other.
 */

import { createStore, type StoreApi } from "zustand/vanilla";
import { defaultProject } from "../project/defaults";
import { isSameData } from "../project/sameData";
import type { Station } from "../project/station";
import type { Project } from "../project/types";

/** What was edited and how, in words. */
export interface StepWords {
  readonly field: string;
  /** Empty where there is no single value. */
  readonly from: string;
  readonly to: string;
}

export interface EditStep {
  readonly words: StepWords;
  readonly before: Project;
  readonly after: Project;
}

export interface StationEditState {
  readonly project: Project;
  /** Oldest first. */
  readonly past: readonly EditStep[];
  /** The next to redo last. */
  readonly future: readonly EditStep[];
  /** Counts what undo, redo and loading put in place of what was typed; fields drop their drafts. */
  readonly replaced: number;
}

/** Steps kept; the oldest are forgotten. */
export const MOST_STEPS = 200;

/** `Plate choke: 225 µH to 90 µH`. */
export function stepLabel({ field, from, to }: StepWords): string {
  if (from === "" && to === "") return field;
  return from === "" ? `${field}: ${to}` : `${field}: ${from} to ${to}`;
}

export type StationEdit = ReturnType<typeof createStationEdit>;

export function createStationEdit(initial: Project = defaultProject()) {
  const store: StoreApi<StationEditState> = createStore<StationEditState>()(() => ({
    project: initial,
    past: [],
    future: [],
    replaced: 0,
  }));
  const get = store.getState;
  /** Name of the gesture under way, and the step it made. */
  let gesture: string | null = null;
  let gestureStep: EditStep | null = null;

  function endGesture(): void {
    gesture = null;
    gestureStep = null;
  }

  function put(project: Project, words: StepWords): EditStep {
    const { project: before, past } = get();
    const step = { words, before, after: project };
    store.setState({ project, past: [...past, step].slice(-MOST_STEPS), future: [] });
    return step;
  }

  /** A changed project. Changes with one gesture's name are one step until the gesture ends; "" ends it at once. */
  function changeProject(next: Project, words: StepWords, name = ""): void {
    const { project, past } = get();
    const begun = gestureStep;
    if (name !== "" && name === gesture && begun !== null && past.at(-1) === begun) {
      const kept = past.slice(0, -1);
      if (isSame(begun.before, next)) {
        gestureStep = null;
        store.setState({ project: begun.before, past: kept });
        return;
      }
      gestureStep = { ...begun, words: { ...words, from: begun.words.from }, after: next };
      store.setState({ project: next, past: [...kept, gestureStep], future: [] });
      return;
    }
    endGesture();
    if (isSame(project, next)) return;
    const step = put(next, words);
    if (name === "") return;
    gesture = name;
    gestureStep = step;
  }

  return {
    store,
    changeProject,
    /** A changed station, as `changeProject`. */
    change(station: Station, words: StepWords, name = ""): void {
      changeProject({ ...get().project, station }, words, name);
    },
    endGesture,
    /** Another project in the place of this one, as a step; the same project is no step. */
    load(project: Project, field: string): void {
      endGesture();
      if (isSame(get().project, project)) return;
      put(project, { field, from: "", to: "" });
      store.setState((s) => ({ replaced: s.replaced + 1 }));
    },
    /** Follows the bench without a step, as long as nothing was edited. */
    follow(project: Project): void {
      const { past, future, replaced } = get();
      if (past.length > 0 || future.length > 0 || isSame(get().project, project)) return;
      store.setState({ project, replaced: replaced + 1 });
    },
    undo(): boolean {
      endGesture();
      const { past, future, replaced } = get();
      const step = past.at(-1);
      if (step === undefined) return false;
      store.setState({
        project: step.before,
        past: past.slice(0, -1),
        future: [...future, step],
        replaced: replaced + 1,
      });
      return true;
    },
    redo(): boolean {
      endGesture();
      const { past, future, replaced } = get();
      const step = future.at(-1);
      if (step === undefined) return false;
      store.setState({
        project: step.after,
        past: [...past, step],
        future: future.slice(0, -1),
        replaced: replaced + 1,
      });
      return true;
    },
  };
}

/** Whether two projects would be the same file: parts that were never touched are one and cost nothing. */
export function isSame(a: Project, b: Project): boolean {
  return isSameData(a, b);
}

/** Whether two stations would be the same in a file. */
export function isSameStation(a: Station, b: Station): boolean {
  return isSameData(a, b);
}
