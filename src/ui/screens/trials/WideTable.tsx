/** A table that scrolls inside its own box; its caption stands over the box, so that it is read whole however wide the table is. */
import { type ReactNode, useId } from "react";

export interface WideTableProps {
  readonly caption: ReactNode;
  /** Cells that are chosen, or figures alone. */
  readonly look?: "matrix contour" | "figures";
  readonly children: ReactNode;
}

export function WideTable({ caption, look = "figures", children }: WideTableProps) {
  const id = useId();
  return (
    <div>
      <p className="table-caption" id={id}>
        {caption}
      </p>
      <div className={look === "figures" ? "table-wide" : "matrix-scroll"}>
        <table className={look} aria-labelledby={id}>
          {children}
        </table>
      </div>
    </div>
  );
}
