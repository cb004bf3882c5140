/** Steps of an edited project: undo and redo as buttons that name the step, and as keys. */
import { useEffect, useRef } from "react";
import { useStore } from "zustand";
import { type StationEdit, stepLabel } from "../../state/stationEdit";

/** Ctrl+Z, Ctrl+Shift+Z, Ctrl+Y; also inside a field, where every keystroke is a change already. */
function useUndoKeys(undo: () => void, redo: () => void): void {
  const latest = useRef({ undo, redo });
  latest.current = { undo, redo };
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.defaultPrevented) return;
      const target = event.target as HTMLElement | null;
      if (target?.closest("dialog")) return;
      const key = event.key.toLowerCase();
      if (key !== "z" && key !== "y") return;
      event.preventDefault();
      if (key === "y" || event.shiftKey) latest.current.redo();
      else latest.current.undo();
    };
    document.addEventListener("keydown", onKey);
    return () => document.removeEventListener("keydown", onKey);
  }, []);
}

/** Undo and redo of an edited project, by button and by key; `onSaid` is told what was done. */
export function StepButtons({
  edit,
  onSaid,
}: {
  readonly edit: StationEdit;
  readonly onSaid: (words: string) => void;
}) {
  const { past, future } = useStore(edit.store);
  const undo = (): void => {
    const step = edit.store.getState().past.at(-1);
    if (edit.undo() && step !== undefined) onSaid(`Undone: ${stepLabel(step.words)}.`);
  };
  const redo = (): void => {
    const step = edit.store.getState().future.at(-1);
    if (edit.redo() && step !== undefined) onSaid(`Redone: ${stepLabel(step.words)}.`);
  };
  useUndoKeys(undo, redo);
  return (
    <>
      <StepButton word="Undo" label={past.at(-1)?.words} keys="Ctrl+Z" onPress={undo} />
      <StepButton word="Redo" label={future.at(-1)?.words} keys="Ctrl+Shift+Z" onPress={redo} />
    </>
  );
}

interface StepButtonProps {
  readonly word: string;
  readonly label: Parameters<typeof stepLabel>[0] | undefined;
  readonly keys: string;
  readonly onPress: () => void;
}

function StepButton({ word, label, keys, onPress }: StepButtonProps) {
  const what = label === undefined ? "" : stepLabel(label);
  return (
    <button
      type="button"
      className="button step-button"
      disabled={label === undefined}
      aria-label={what === "" ? word : `${word}: ${what}`}
      aria-keyshortcuts={keys.replace("Ctrl", "Control")}
      title={what === "" ? keys : `${what} (${keys})`}
      onClick={onPress}
    >
      {word}
      <span className="step-what">{what}</span>
    </button>
  );
}
