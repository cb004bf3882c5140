/** The signal path as one line from exciter to antenna, with live values, stress bars and the faults of each part. */
import { type Ref, useEffect, useImperativeHandle, useMemo, useRef } from "react";
import { metricsOf, type SheetVariant } from "../../theme/metrics";
import { DrawingView } from "../drawing/DrawingView";
import { useElementSize } from "../useElementSize";
import { drawPath, indexPath } from "./drawPath";
import { FaultChip } from "./FaultChip";
import { PathList } from "./PathList";
import { layoutPath } from "./pathLayout";
import type { PathHandle, PathView } from "./pathView";

export interface PathDiagramProps {
  readonly view: PathView;
  readonly variant: SheetVariant;
  readonly onToggleFault: (faultKey: string) => void;
  readonly handle?: Ref<PathHandle>;
}

export function PathDiagram({ view, variant, onToggleFault, handle }: PathDiagramProps) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(1416);
  const last = useRef(view);
  const layout = useMemo(() => layoutPath(view, widthPx, variant), [view, widthPx, variant]);
  const drawer = useMemo(() => {
    let nodes: ReadonlyMap<string, Element> | null = null;
    return {
      forget: () => {
        nodes = null;
      },
      draw: (next: PathView) => {
        last.current = next;
        if (ref.current === null) return;
        nodes ??= indexPath(ref.current);
        drawPath(nodes, next);
      },
    };
  }, [ref]);
  useImperativeHandle(handle, () => ({ draw: drawer.draw }), [drawer]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: every new layout makes new nodes
  useEffect(() => {
    drawer.forget();
    drawer.draw(view);
  }, [drawer, layout, view]);

  return (
    <section className="path" aria-label="Signal path" ref={ref}>
      {variant === "phone" ? (
        <PathList view={view} widthPx={widthPx} sizes={metricsOf(variant)} />
      ) : (
        <>
          <svg
            width={layout.widthPx}
            height={layout.heightPx}
            viewBox={`0 0 ${layout.widthPx} ${layout.heightPx}`}
            role="img"
            aria-label={view.summary}
          >
            <DrawingView drawing={layout.drawing} />
          </svg>
          {layout.chips.length > 0 && (
            <div className="chip-row">
              {layout.chips.map(({ symbol, xPx, faults }) => (
                <div key={symbol} className="chip-group" style={{ left: xPx }}>
                  {faults.map((fault) => (
                    <FaultChip key={fault.key} fault={fault} onToggle={onToggleFault} />
                  ))}
                </div>
              ))}
            </div>
          )}
        </>
      )}
      <PathReadingsList view={view} />
    </section>
  );
}

/** The same readings as a list, for who cannot see the drawing. Follows events, not frames. */
function PathReadingsList({ view }: { readonly view: PathView }) {
  return (
    <ul className="unseen">
      {view.parts.map((part) => (
        <li key={part.symbol}>
          {`${part.name}: ${[...part.readings.map((reading) => `${reading.number} ${reading.unit}${reading.before === "" ? "" : `, ${reading.before}`}`), ...part.bars.map((bar) => `${bar.label} ${Math.round(bar.fraction * 100)} per cent`), ...(part.arc === null ? [] : [part.arc.standing === "burning" ? "arc" : "arc, out", ...part.arc.lines]), ...part.notes].join("; ")}`}
        </li>
      ))}
    </ul>
  );
}
