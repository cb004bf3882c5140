/** The path down a narrow sheet: one row a part on a vertical line whose weight follows the power. */
import type { SheetMetrics } from "../../theme/metrics";
import { DrawingView, roleCss } from "../drawing/DrawingView";
import type { Shape } from "../drawing/shapes";
import { line, words } from "../drawing/shapes";
import { markAt } from "../state/stateShapes";
import { flowRole } from "./pathLayout";
import type { PathPart, PathView } from "./pathView";
import { stressBarShapes } from "./stressBar";

const RAIL_X = 18;

/** Two readings beside a name need more than a narrow phone has; then they stand under each other. */
function stacked(part: PathPart, widthPx: number): number {
  return widthPx < 350 ? Math.max(part.readings.length - 1, 0) * 19 : 0;
}

function rowHeight(part: PathPart, widthPx: number): number {
  return (
    52 +
    stacked(part, widthPx) +
    Math.max(part.bars.length - 1, 0) * 26 +
    (part.arc === null ? 0 : 6 + part.arc.lines.length * 15)
  );
}

/** One part's row. */
function rowShapes(
  part: PathPart,
  y: number,
  widthPx: number,
  sizes: SheetMetrics,
): readonly Shape[] {
  const shapes: Shape[] = [
    part.arc === null
      ? { kind: "circle", role: "symbolFilled", x: RAIL_X, y: y + 20, radius: 6 }
      : { kind: "circle", role: "symbolFilled", x: RAIL_X, y: y + 20, radius: 11 },
    words("body", 42, y + 16, part.name),
  ];
  if (part.arc !== null) shapes.push(markAt("strike", RAIL_X, y + 20, 16));
  // Readings run from the right edge leftwards, each one a text of its own so that it can be moved alone.
  const compactWidth = 92;
  part.readings.forEach((reading, i) => {
    const inColumn = stacked(part, widthPx) > 0;
    const back = inColumn ? 0 : (part.readings.length - 1 - i) * compactWidth;
    const base = y + 17 + (inColumn ? i * 19 : 0);
    shapes.push({
      ...words(
        "head",
        widthPx - back,
        base,
        [{ text: reading.number }, { text: `\u00a0${reading.unit}`, role: "unit" }],
        { anchor: "end" },
      ),
      dataKey: `reading:${part.symbol}.${reading.key}`,
    });
  });
  const before = part.readings
    .map((reading) => reading.before)
    .filter((text) => text !== "")
    .join(", ");
  shapes.push(
    words(
      "note",
      42,
      y + 33,
      before === "" ? (part.notes[0] ?? "") : before.replaceAll(", before", ","),
    ),
  );
  part.bars.forEach((bar, i) => {
    shapes.push(
      ...stressBarShapes(bar, widthPx - 124, y + 22 + stacked(part, widthPx) + i * 26, 122, sizes),
    );
  });
  part.arc?.lines.forEach((text, i) => {
    shapes.push(
      words(
        "labelArc",
        42,
        y + 50 + i * 15,
        i === 0 ? `${part.arc?.standing === "burning" ? "Arc" : "Arc, out"}: ${text}` : text,
      ),
    );
  });
  shapes.push(
    line("hair", 42, y + rowHeight(part, widthPx) - 3, widthPx, y + rowHeight(part, widthPx) - 3),
  );
  return shapes;
}

export function PathList({
  view,
  widthPx,
  sizes,
}: {
  readonly view: PathView;
  readonly widthPx: number;
  readonly sizes: SheetMetrics;
}) {
  let y = 0;
  const rows = view.parts.map((part) => {
    const row = { part, y };
    y += rowHeight(part, widthPx);
    return row;
  });
  return (
    <svg
      width={widthPx}
      height={y}
      viewBox={`0 0 ${widthPx} ${y}`}
      role="img"
      aria-label={view.summary}
    >
      {rows.slice(0, -1).map(({ part, y: top }, i) => (
        <g key={part.symbol}>
          {flowRole(part.powerBeforeW) !== flowRole(part.powerW) && (
            <path
              d={`M${RAIL_X} ${top + 20}V${(rows[i + 1]?.y ?? top) + 20}`}
              style={roleCss("flowGhost")}
            />
          )}
          <path
            d={`M${RAIL_X} ${top + 20}V${(rows[i + 1]?.y ?? top) + 20}`}
            style={roleCss(flowRole(part.powerW))}
            data-key={`flow:${part.symbol}`}
          />
        </g>
      ))}
      <DrawingView
        drawing={rows.flatMap(({ part, y: top }) => rowShapes(part, top, widthPx, sizes))}
      />
    </svg>
  );
}
