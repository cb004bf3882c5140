/** Width of an element in whole CSS pixels, followed as the page is laid out. */
import { type RefObject, useLayoutEffect, useRef, useState } from "react";

export interface MeasuredElement<T extends Element> {
  readonly ref: RefObject<T | null>;
  readonly widthPx: number;
}

/** Measures an element; `initialPx` holds until the first layout and where nothing is laid out at all. */
export function useElementWidth<T extends Element>(initialPx: number): MeasuredElement<T> {
  const ref = useRef<T | null>(null);
  const [widthPx, setWidthPx] = useState(initialPx);
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const measure = () => {
      const measured = Math.floor(element.getBoundingClientRect().width);
      if (measured > 0) setWidthPx(measured);
    };
    measure();
    if (typeof ResizeObserver === "undefined") return;
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { ref, widthPx };
}
