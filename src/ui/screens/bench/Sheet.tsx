/** A native dialog with a heading and a close button, mounted while it is open. */
import { type ReactNode, type Ref, useEffect, useId, useRef } from "react";

export interface SheetProps {
  readonly title: string;
  /** Its first button, where the focus may be put. */
  readonly closeRef?: Ref<HTMLButtonElement>;
  readonly onClose: () => void;
  readonly wide?: boolean;
  readonly children: ReactNode;
}

export function Sheet({ title, closeRef, onClose, wide = false, children }: SheetProps) {
  const dialog = useRef<HTMLDialogElement | null>(null);
  const titleId = useId();
  useEffect(() => {
    const element = dialog.current;
    const cameFrom = document.activeElement;
    if (element !== null && !element.open) element.showModal();
    // taken off the page it can give nothing back by itself
    return () => {
      if (cameFrom instanceof HTMLElement) cameFrom.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      className={`table-dialog sheet-dialog${wide ? " wide" : ""}`}
      aria-labelledby={titleId}
      onClose={onClose}
    >
      <div className="zone-head">
        <h2 id={titleId}>{title}</h2>
        <button
          ref={closeRef}
          type="button"
          className="button"
          onClick={() => dialog.current?.close()}
        >
          Close
        </button>
      </div>
      {children}
    </dialog>
  );
}
