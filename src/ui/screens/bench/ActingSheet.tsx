/** A dialog in which something is done to the bench. What is refused there it says itself: the page's own line lies dead behind it. */
import { useEffect, useRef } from "react";
import { useBench, usePlayback } from "./benchContext";
import { RefusalLine } from "./Messages";
import { Sheet, type SheetProps } from "./Sheet";

export function ActingSheet({ children, ...sheet }: SheetProps) {
  const { playback } = useBench();
  const refusal = usePlayback((s) => s.refusal);
  const close = useRef<HTMLButtonElement | null>(null);
  const hadOne = useRef(false);
  // what was refused before is no change of this dialog, and its way out would not be either
  useEffect(() => playback.dismissRefusal(), [playback]);
  useEffect(() => {
    // the button that was pressed has gone with the refusal, and the focus with it
    if (refusal === null && hadOne.current && document.activeElement === document.body)
      close.current?.focus();
    hadOne.current = refusal !== null;
  }, [refusal]);
  return (
    <Sheet {...sheet} closeRef={close}>
      {children}
      <RefusalLine />
    </Sheet>
  );
}
