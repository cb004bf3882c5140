/** Steps of an edited project: undo and redo as buttons that name the step, and as keys. */
import { useEffect, useRef } from "react";
import { stepLabel } from "../../state/stationEdit";

/** Ctrl+Z, Ctrl+Shift+Z, Ctrl+Y; also inside a field, where every keystroke is a change already. */
export function useUndoKeys(undo: () => void, redo: () => void): void {
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

interface StepButtonProps {
  readonly word: string;
  readonly label: Parameters<typeof stepLabel>[0] | undefined;
  readonly keys: string;
  readonly onPress: () => void;
}

export function StepButton({ word, label, keys, onPress }: StepButtonProps) {
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
