/** Strip chart: one lane a quantity, dashed pickup, traces drawn straight on the page. Nothing moves unless it is told to. */
import {
  type ReactNode,
  type Ref,
  useEffect,
  useId,
  useImperativeHandle,
  useMemo,
  useRef,
} from "react";
import { dbNumber, formatDb, formatQuantity, formatTime, NO_VALUE } from "../../../units/format";
import { metricsOf, type SheetVariant } from "../../theme/metrics";
import { DrawingView, roleCss, textRoleCss } from "../drawing/DrawingView";
import { type Drawing, line, px, type Shape, words } from "../drawing/shapes";
import { shownParts } from "../shownQuantity";
import { TableReveal } from "../TableReveal";
import { useElementSize } from "../useElementSize";
import type { StripFrame, StripHandle, StripLane, StripView } from "./stripView";
import { type TraceBox, tracePath } from "./tracePath";

export interface StripChartProps {
  readonly view: StripView;
  readonly variant: SheetVariant;
  readonly handle?: Ref<StripHandle>;
  /** Stands in the heading: what span is shown. */
  readonly action?: ReactNode;
}

interface StripLayout {
  readonly heightPx: number;
  readonly boxes: readonly TraceBox[];
  readonly plotTop: number;
  readonly plotBottom: number;
  readonly frame: Drawing;
}

function figures(
  lane: StripLane,
  value: number,
): { readonly number: string; readonly unit: string } {
  if (lane.unit === "dB") return { number: dbNumber(value), unit: "dB" };
  return shownParts(value, lane.unit, lane.prefix === undefined ? {} : { prefix: lane.prefix });
}

function inWords(lane: StripLane, value: number): string {
  if (!Number.isFinite(value)) return NO_VALUE;
  return lane.unit === "dB"
    ? formatDb(value)
    : formatQuantity(value, lane.unit, lane.prefix === undefined ? {} : { prefix: lane.prefix });
}

function layoutStrip(view: StripView, widthPx: number, variant: SheetVariant): StripLayout {
  const sizes = metricsOf(variant);
  const laneHeight = sizes.labelPx + 15;
  const leftPx = sizes.labelPx * 5;
  const traceWidth = widthPx - leftPx - sizes.labelPx * 5.2;
  const plotTop = sizes.notePx + 5;
  const shapes: Shape[] = [words("note", widthPx, sizes.notePx, view.valueWord, { anchor: "end" })];
  const boxes = view.lanes.map((lane, i): TraceBox => {
    const top = plotTop + i * laneHeight;
    const box = {
      leftPx,
      widthPx: traceWidth,
      topPx: top + 4,
      heightPx: laneHeight - 8,
      minimum: lane.minimum,
      maximum: lane.maximum,
    };
    shapes.push(
      words("label", 0, top + laneHeight / 2 + 4, lane.name),
      line("hair", 0, top + laneHeight, widthPx, top + laneHeight),
    );
    if (lane.pickup !== null) {
      const fraction = Math.min(
        Math.max((lane.pickup - lane.minimum) / (lane.maximum - lane.minimum), 0),
        1,
      );
      const y = box.topPx + (1 - fraction) * box.heightPx;
      shapes.push(line("pickupLine", leftPx, y, leftPx + traceWidth, y));
    }
    return box;
  });
  const plotBottom = plotTop + view.lanes.length * laneHeight;
  shapes.push(line("thin", leftPx, plotBottom, leftPx + traceWidth, plotBottom));
  for (const tick of view.ticks) {
    const x = leftPx + ((tick.atS - view.fromS) / (view.toS - view.fromS)) * traceWidth;
    shapes.push(
      line("thin", x, plotBottom, x, plotBottom + 4),
      words("note", x, plotBottom + sizes.notePx + 5, tick.word, { anchor: "middle" }),
    );
  }
  return { heightPx: plotBottom + sizes.notePx + 8, boxes, plotTop, plotBottom, frame: shapes };
}

export function StripChart({ view, variant, handle, action }: StripChartProps) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(272);
  const titleId = useId();
  const last = useRef<StripFrame | null>(null);
  const layout = useMemo(() => layoutStrip(view, widthPx, variant), [view, widthPx, variant]);
  const traces = useRef<(SVGPathElement | null)[]>([]);
  const numbers = useRef<(SVGTSpanElement | null)[]>([]);
  const units = useRef<(SVGTSpanElement | null)[]>([]);
  const wash = useRef<SVGRectElement | null>(null);
  const head = useRef<SVGPathElement | null>(null);
  const arcWord = useRef<SVGTextElement | null>(null);

  const drawer = useMemo<StripHandle>(
    () => ({
      draw(frame, withFigures) {
        last.current = frame;
        layout.boxes.forEach((box, i) => {
          const low = frame.minima[i];
          const high = frame.maxima[i];
          if (low !== undefined && high !== undefined)
            put(traces.current[i], "d", tracePath(low, high, frame.columns, box));
          const lane = view.lanes[i];
          if (!withFigures || lane === undefined) return;
          const parts = figures(lane, frame.values[i] ?? Number.NaN);
          const number = numbers.current[i];
          const unit = units.current[i];
          if (number !== null && number !== undefined && number.textContent !== parts.number)
            number.textContent = parts.number;
          if (unit !== null && unit !== undefined && unit.textContent !== `\u00a0${parts.unit}`)
            unit.textContent = `\u00a0${parts.unit}`;
        });
        const box = layout.boxes[0];
        if (box === undefined) return;
        const xOf = (column: number) =>
          box.leftPx + (box.widthPx * column) / Math.max(frame.columns - 1, 1);
        if (wash.current !== null) {
          const from = frame.arc === null ? 0 : xOf(frame.arc.fromColumn);
          put(wash.current, "x", px(from));
          const to = frame.arc === null ? 0 : xOf(frame.arc.toColumn);
          put(arcWord.current, "x", px((from + to) / 2));
          put(arcWord.current, "visibility", to - from > 12 ? "visible" : "hidden");
          put(
            wash.current,
            "width",
            frame.arc === null ? "0" : px(Math.max(xOf(frame.arc.toColumn) - from, 1)),
          );
        }
        put(
          head.current,
          "d",
          `M${px(xOf(frame.headColumn))} ${px(layout.plotTop)}V${px(layout.plotBottom)}`,
        );
      },
    }),
    [layout, view],
  );
  useImperativeHandle(handle, () => drawer, [drawer]);
  useEffect(() => {
    if (last.current !== null) drawer.draw(last.current, true);
  }, [drawer]);

  return (
    <section className="strip" aria-labelledby={titleId}>
      <div className="zone-head">
        <h2 id={titleId}>Strip chart</h2>
        <span className="note">dashed: pickup</span>
        {action}
        <TableReveal label="The strip chart as a table">
          <StripTable view={view} frame={() => last.current} />
        </TableReveal>
      </div>
      <div ref={ref} className="drawing-box">
        <svg
          width={widthPx}
          height={layout.heightPx}
          viewBox={`0 0 ${widthPx} ${layout.heightPx}`}
          role="img"
          aria-label={view.summary}
        >
          <rect
            ref={wash}
            x="0"
            width="0"
            y={layout.plotTop}
            height={layout.plotBottom - layout.plotTop}
            style={roleCss("arcWash")}
          />
          <text
            ref={arcWord}
            y={layout.plotTop - 4}
            textAnchor="middle"
            visibility="hidden"
            style={textRoleCss("noteArc")}
          >
            arc burning
          </text>
          <DrawingView drawing={layout.frame} />
          {view.lanes.map((lane, i) => (
            <g key={lane.key}>
              <path
                ref={(node) => {
                  traces.current[i] = node;
                }}
                style={roleCss("trace")}
              />
              <text
                x={widthPx}
                y={(layout.boxes[i]?.topPx ?? 0) + (layout.boxes[i]?.heightPx ?? 0) / 2 + 5}
                textAnchor="end"
                className="strip-value"
              >
                <tspan
                  ref={(node) => {
                    numbers.current[i] = node;
                  }}
                />
                <tspan
                  className="strip-unit"
                  ref={(node) => {
                    units.current[i] = node;
                  }}
                />
              </text>
            </g>
          ))}
          <path ref={head} style={roleCss("now")} />
        </svg>
      </div>
    </section>
  );
}

/** Writes an attribute that has changed; the others cost a layout for nothing. */
function put(node: Element | null | undefined, name: string, value: string): void {
  if (node !== null && node !== undefined && node.getAttribute(name) !== value)
    node.setAttribute(name, value);
}

const TABLE_ROWS = 20;

function StripTable({
  view,
  frame,
}: {
  readonly view: StripView;
  readonly frame: () => StripFrame | null;
}) {
  const shown = frame();
  if (shown === null) return <p>Nothing is recorded yet.</p>;
  const columns = Array.from({ length: Math.min(TABLE_ROWS, shown.columns) }, (_, i) =>
    Math.round((i * (shown.columns - 1)) / Math.max(TABLE_ROWS - 1, 1)),
  );
  return (
    <table>
      <caption>{view.summary}</caption>
      <thead>
        <tr>
          <th scope="col">Time</th>
          {view.lanes.map((lane) => (
            <th key={lane.key} scope="col">
              {lane.name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {columns.map((column) => (
          <tr key={column}>
            <th scope="row">
              {formatTime(
                view.fromS + ((view.toS - view.fromS) * column) / Math.max(shown.columns - 1, 1),
              )}
            </th>
            {view.lanes.map((lane, i) => (
              <td key={lane.key}>
                {inWords(lane, (shown.maxima[i]?.[column] as number | undefined) ?? Number.NaN)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
