/** A button that opens a drawing's data as a table, in a native dialog: Escape closes it, focus comes back by itself. */
import { type ReactNode, useRef, useState } from "react";

export interface TableRevealProps {
  readonly label: string;
  readonly children: ReactNode;
}

export function TableReveal({ label, children }: TableRevealProps) {
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
        Table
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
        {open && <div className="table-scroll">{children}</div>}
      </dialog>
    </>
  );
}
