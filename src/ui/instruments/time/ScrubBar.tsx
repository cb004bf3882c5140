/** The record with its events. A click, a drag or the keys move the play head; the buttons beside it do the same. */
import {
  type KeyboardEvent,
  type PointerEvent,
  type Ref,
  useEffect,
  useImperativeHandle,
  useMemo,
  useRef,
} from "react";
import { DrawingView } from "../drawing/DrawingView";
import { line, rect, type Shape, words } from "../drawing/shapes";
import { markAt } from "../state/stateShapes";
import { useElementSize } from "../useElementSize";
import { fractionAt, instantAt } from "./recordScale";
import type { TimeBarView } from "./timeView";

export interface ScrubHandle {
  draw(headS: number, words: string): void;
}

export interface ScrubBarProps {
  readonly view: TimeBarView;
  readonly initialHeadS: number;
  readonly initialWords: string;
  readonly onScrub: (atS: number) => void;
  readonly handle?: Ref<ScrubHandle>;
}

const PAD_PX = 8;
const LINE_Y = 23;
const FINE = 0.005;

/** Words at the ends stay inside the bar. */
function tickAnchor(x: number, widthPx: number): { readonly anchor?: "middle" | "end" } {
  if (x < 20) return {};
  return { anchor: x > widthPx - 20 ? "end" : "middle" };
}

export function ScrubBar({ view, initialHeadS, initialWords, onScrub, handle }: ScrubBarProps) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(600);
  const thumb = useRef<SVGGElement | null>(null);
  const headS = useRef(initialHeadS);
  const drawer = useMemo<ScrubHandle>(() => {
    let shown = Number.NaN;
    return {
      draw(atS, spoken) {
        headS.current = atS;
        const x =
          Math.round((PAD_PX + fractionAt(view.knots, atS) * (widthPx - 2 * PAD_PX)) * 10) / 10;
        if (x !== shown) {
          thumb.current?.setAttribute("transform", `translate(${x} 0)`);
          shown = x;
        }
        const slider = ref.current;
        if (slider === null || slider.getAttribute("aria-valuetext") === spoken) return;
        slider.setAttribute(
          "aria-valuenow",
          String(Math.round(fractionAt(view.knots, atS) * 1000)),
        );
        slider.setAttribute("aria-valuetext", spoken);
      },
    };
  }, [view.knots, widthPx, ref]);
  useImperativeHandle(handle, () => drawer, [drawer]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: words follow with the next frame
  useEffect(
    () => drawer.draw(headS.current, ref.current?.getAttribute("aria-valuetext") ?? initialWords),
    [drawer],
  );

  const drawing = useMemo(() => {
    const x = (atS: number) => PAD_PX + fractionAt(view.knots, atS) * (widthPx - 2 * PAD_PX);
    const shapes: Shape[] = view.lensSpans.map((span) =>
      rect("limitZone", x(span.fromS), LINE_Y - 6, Math.max(x(span.toS) - x(span.fromS), 1), 12),
    );
    shapes.push(line("axis", PAD_PX, LINE_Y, widthPx - PAD_PX, LINE_Y));
    let lastX = Number.NEGATIVE_INFINITY;
    for (const tick of view.ticks) {
      shapes.push(line("thin", x(tick.atS), LINE_Y, x(tick.atS), LINE_Y + 5));
      if (x(tick.atS) - lastX < 34) continue;
      shapes.push(
        words("note", x(tick.atS), 39, tick.word, {
          ...tickAnchor(x(tick.atS), widthPx),
          halo: "sheet",
        }),
      );
      lastX = x(tick.atS);
    }
    let row = 0;
    let lastMarkX = Number.NEGATIVE_INFINITY;
    for (const event of view.events) {
      const at = x(event.atS);
      // Marks on one spot are staggered by a few pixels rather than hidden by each other.
      row = at - lastMarkX < 9 ? row + 1 : 0;
      shapes.push(markAt(event.mark, at + row * 3, 12, 11));
      lastMarkX = at;
    }
    return shapes;
  }, [view.knots, view.lensSpans, view.ticks, view.events, widthPx]);

  const scrubTo = (fraction: number) =>
    onScrub(instantAt(view.knots, Math.min(Math.max(fraction, 0), 1)));
  const scrubPointer = (event: PointerEvent<HTMLDivElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    scrubTo((event.clientX - box.left - PAD_PX) / Math.max(box.width - 2 * PAD_PX, 1));
  };
  const scrubKey = (event: KeyboardEvent<HTMLDivElement>) => {
    const here = fractionAt(view.knots, headS.current);
    const coarse = event.shiftKey ? 10 : 1;
    const moves: Readonly<Record<string, number>> = {
      ArrowLeft: here - FINE * coarse,
      ArrowDown: here - FINE * coarse,
      ArrowRight: here + FINE * coarse,
      ArrowUp: here + FINE * coarse,
      PageDown: here - FINE * 10,
      PageUp: here + FINE * 10,
      Home: 0,
      End: 1,
    };
    const target = moves[event.key];
    if (target === undefined) return;
    event.preventDefault();
    scrubTo(target);
  };
  return (
    <div
      ref={ref}
      className="scrub"
      role="slider"
      tabIndex={0}
      aria-label="Play head in the record"
      aria-valuemin={0}
      aria-valuemax={1000}
      aria-valuenow={Math.round(fractionAt(view.knots, initialHeadS) * 1000)}
      aria-valuetext={initialWords}
      onKeyDown={scrubKey}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture?.(event.pointerId);
        scrubPointer(event);
      }}
      onPointerMove={(event) => {
        if (event.buttons === 1) scrubPointer(event);
      }}
    >
      <svg width={widthPx} height="42" viewBox={`0 0 ${widthPx} 42`} aria-hidden="true">
        <DrawingView drawing={drawing} />
        <g ref={thumb}>
          <path d="M0 4V30M-5 4H5L0 11Z" className="scrub-thumb" />
        </g>
      </svg>
    </div>
  );
}
