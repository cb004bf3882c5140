/** A project file chosen in the browser's own dialog: the hidden box that opens it, and what was read. */
import { type ReactNode, useRef } from "react";

export interface FileChoice {
  /** Opens the dialog. */
  readonly choose: () => void;
  /** Stands anywhere on the screen. */
  readonly box: ReactNode;
}

export function useFileChoice(
  label: string,
  onRead: (text: string, name: string) => unknown,
): FileChoice {
  const box = useRef<HTMLInputElement | null>(null);
  const read = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    const text = await file.text();
    // the same file may be chosen again
    if (box.current !== null) box.current.value = "";
    await onRead(text, file.name);
  };
  return {
    choose: () => box.current?.click(),
    box: (
      <input
        ref={box}
        type="file"
        accept=".json,application/json"
        hidden
        aria-label={label}
        onChange={(event) => void read(event.currentTarget.files?.[0])}
      />
    ),
  };
}
