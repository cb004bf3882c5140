/** Size of an element in whole CSS pixels, followed as the page is laid out. */
import { type RefObject, useLayoutEffect, useRef, useState } from "react";

export interface MeasuredElement<T extends Element> {
  readonly ref: RefObject<T | null>;
  readonly widthPx: number;
  /** Of the content box; 0 before the first layout. */
  readonly heightPx: number;
}

/** Measures an element; `initialPx` holds until the first layout and where nothing is laid out at all. */
export function useElementSize<T extends Element>(initialPx: number): MeasuredElement<T> {
  const ref = useRef<T | null>(null);
  const [size, setSize] = useState({ widthPx: initialPx, heightPx: 0 });
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const measure = () => {
      const box = element.getBoundingClientRect();
      const widthPx = Math.floor(box.width);
      const heightPx = Math.floor(box.height);
      if (widthPx <= 0) return;
      setSize((old) =>
        old.widthPx === widthPx && old.heightPx === heightPx ? old : { widthPx, heightPx },
      );
    };
    measure();
    if (typeof ResizeObserver === "undefined") return;
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { ref, ...size };
}
