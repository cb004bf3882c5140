/** What is told of a chosen cell; it comes into sight, for a matrix may be longer than the sheet. */
import { type ReactNode, useEffect, useRef } from "react";

export interface ChosenCellProps {
  readonly index: number;
  readonly children: ReactNode;
}

export function ChosenCell({ index, children }: ChosenCellProps) {
  const place = useRef<HTMLElement | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each other cell is brought into sight anew
  useEffect(() => {
    // nothing is laid out where there is no such function
    place.current?.scrollIntoView?.({ block: "nearest" });
  }, [index]);
  return (
    <section className="told" aria-label="The chosen cell" ref={place}>
      {children}
    </section>
  );
}
