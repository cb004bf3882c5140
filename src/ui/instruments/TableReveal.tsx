/** A button that opens a drawing's data as a table, or what else has no room on the sheet, in a native dialog: Escape closes it, focus comes back by itself. */
import { type ReactNode, useRef, useState } from "react";

export interface TableRevealProps {
  readonly label: string;
  /** On the button. */
  readonly word?: string;
  readonly children: ReactNode;
}

export function TableReveal({ label, word = "Table", children }: TableRevealProps) {
  const dialog = useRef<HTMLDialogElement | null>(null);
  const [open, setOpen] = useState(false);
  return (
    <>
      <button
        type="button"
        className="button small"
        aria-haspopup="dialog"
        aria-label={label}
        onClick={() => {
          setOpen(true);
          dialog.current?.showModal();
        }}
      >
        {word}
      </button>
      <dialog
        ref={dialog}
        className="table-dialog"
        aria-label={label}
        onClose={() => setOpen(false)}
      >
        <div className="dialog-head">
          <h2>{label}</h2>
          <button type="button" className="button" onClick={() => dialog.current?.close()}>
            Close
          </button>
        </div>
        {/* The rows are made only while they can be read: a table that follows a running clock is not free. */}
        {open && (
          // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls has to be reached by the keyboard
          <section className="table-scroll" aria-label={label} tabIndex={0}>
            {children}
          </section>
        )}
      </dialog>
    </>
  );
}
