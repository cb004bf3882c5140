/** Keys of the bench: the space bar always, single letters where they are switched on, never inside a field. */
import { useEffect, useRef } from "react";
import { useBench } from "./benchContext";
import { stepToEvent } from "./eventSteps";

/** What the space bar presses or types into by itself; a slider has no use for it. */
const TAKES_SPACE =
  "input:not([type='range']), select, textarea, button, summary, a, dialog, [contenteditable]";
const TAKES_LETTERS =
  "input:not([type='checkbox'], [type='radio'], [type='range']), select, textarea, dialog, [contenteditable]";

export function useShortcuts(toggleChosenFault: () => void): void {
  const { playback, settings } = useBench();
  const fault = useRef(toggleChosenFault);
  fault.current = toggleChosenFault;
  useEffect(() => {
    const actions: Readonly<Record<string, () => void>> = {
      k: () => {
        const down = playback.store.getState().world?.keyDown ?? false;
        playback.act({ do: "key", down: !down });
        if (!down && playback.store.getState().mode === "live") playback.run();
      },
      f: () => fault.current(),
      ".": () => playback.step("sample", 1),
      ",": () => playback.step("sample", -1),
      n: () => stepToEvent(playback, "next"),
      p: () => stepToEvent(playback, "previous"),
      l: () => playback.goLive(),
      s: () => playback.changePace("slower"),
      q: () => playback.changePace("faster"),
      a: () => playback.act({ do: "acknowledge" }),
      r: () => playback.act({ do: "reset" }),
    };
    const onKey = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
      const target = event.target as HTMLElement | null;
      if (event.key === " ") {
        if (target?.closest(TAKES_SPACE)) return; // the space bar presses what has focus
        event.preventDefault();
        playback.toggle();
        return;
      }
      if (target?.closest(TAKES_LETTERS) || !settings.store.getState().letterKeys) return;
      const action = actions[event.key.toLowerCase()];
      if (action === undefined) return;
      event.preventDefault();
      action();
    };
    document.addEventListener("keydown", onKey);
    return () => document.removeEventListener("keydown", onKey);
  }, [playback, settings]);
}
