/** What the fields of a form may reach: the plain data they stand for, and how a value of it is changed. */
import { createContext, useContext } from "react";
import { type StoreApi, useStore } from "zustand";
import type { StepWords } from "../../state/stationEdit";
import type { FieldPath } from "../../state/stationKinds";

export interface FormPort {
  readonly edit: {
    /** Counts what undo, redo and loading put in place of what was typed. */
    readonly store: StoreApi<{ readonly replaced: number }>;
    endGesture(): void;
  };
  /** What the fields' paths begin at, as it stands. */
  root(): unknown;
  /** Changes one value, undefined to leave it out; answers why not, or an empty text when it is done. */
  set(path: FieldPath, value: unknown, words: StepWords, gesture: string): string;
  /** Another kind of a part, worked out from what the root was when the choice was begun. */
  setKind(path: FieldPath, kind: string, words: StepWords, origin: unknown): string;
}

export const FormContext = createContext<FormPort | null>(null);

export function useForm(): FormPort {
  const port = useContext(FormContext);
  if (port === null) throw new Error("the form's port is missing above this component");
  return port;
}

export function useReplaced(): number {
  return useStore(useForm().edit.store, (s) => s.replaced);
}
