/** The caution that opens before a fault nobody should ever try by hand, and at the first start. A native dialog. */
import { useEffect, useId, useRef } from "react";

export interface CautionView {
  readonly title: string;
  readonly paragraphs: readonly string[];
  readonly acceptWord: string;
  readonly cancelWord: string;
}

export interface CautionDialogProps {
  /** Open while there is something to say. */
  readonly caution: CautionView | null;
  readonly onAccept: () => void;
  readonly onCancel: () => void;
}

export function CautionDialog({ caution, onAccept, onCancel }: CautionDialogProps) {
  const dialog = useRef<HTMLDialogElement | null>(null);
  const titleId = useId();
  const open = caution !== null;
  useEffect(() => {
    const element = dialog.current;
    if (element === null) return;
    if (open && !element.open) element.showModal();
    if (!open && element.open) element.close();
  }, [open]);
  return (
    <dialog
      ref={dialog}
      className="caution"
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onCancel();
      }}
    >
      {caution !== null && (
        <>
          <h2 id={titleId}>{caution.title}</h2>
          {caution.paragraphs.map((paragraph) => (
            <p key={paragraph}>{paragraph}</p>
          ))}
          <div className="dialog-buttons">
            <button type="button" className="button" onClick={onCancel}>
              {caution.cancelWord}
            </button>
            <button type="button" className="button solid" onClick={onAccept}>
              {caution.acceptWord}
            </button>
          </div>
        </>
      )}
    </dialog>
  );
}
