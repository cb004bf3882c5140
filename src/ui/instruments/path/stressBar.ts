/** Stress bar: limit at three quarters and hatch beyond for stress over rating; limit at the end for the way to damage. */
import { formatPercent } from "../../../units/format";
import type { SheetMetrics } from "../../theme/metrics";
import type { Shape } from "../drawing/shapes";
import { line, rect, words } from "../drawing/shapes";
import { fitText, textWidthPx } from "../drawing/textWidth";
import type { StressBar } from "./pathView";

const BAR_HEIGHT_PX = 7;

export interface BarLengths {
  readonly fillPx: number;
  readonly overPx: number;
  readonly limitPx: number;
}

/** Lengths of a bar's fill, of what is over the limit, and of the limit mark. */
export function barLengths(bar: StressBar, widthPx: number): BarLengths {
  const fraction = Number.isFinite(bar.fraction) ? Math.max(bar.fraction, 0) : 0;
  if (bar.kind === "damage")
    return { fillPx: Math.min(fraction, 1) * widthPx, overPx: 0, limitPx: widthPx };
  const limitPx = widthPx * 0.75;
  return {
    fillPx: Math.min(fraction, 1) * limitPx,
    overPx: Math.min(Math.max(fraction - 1, 0) * limitPx, widthPx - limitPx),
    limitPx,
  };
}

/** Label, figure and bar with its top left corner at x, y. */
export function stressBarShapes(
  bar: StressBar,
  x: number,
  y: number,
  widthPx: number,
  sizes: SheetMetrics,
): readonly Shape[] {
  const barY = y + sizes.notePx + 2;
  const { fillPx, overPx, limitPx } = barLengths(bar, widthPx);
  const percentPx = textWidthPx(formatPercent(bar.fraction), sizes.notePx, 640);
  return [
    words(
      "note",
      x,
      y + sizes.notePx - 1,
      fitText(bar.label, widthPx - percentPx - 4, sizes.notePx),
    ),
    words("noteStrong", x + widthPx, y + sizes.notePx - 1, formatPercent(bar.fraction), {
      anchor: "end",
      dataKey: `percent:${bar.key}`,
      halo: "sheet",
    }),
    rect("barFrame", x, barY, widthPx, BAR_HEIGHT_PX),
    {
      ...rect(bar.kind === "damage" ? "barHot" : "barFill", x, barY, fillPx, BAR_HEIGHT_PX),
      dataKey: `fill:${bar.key}`,
    },
    { ...rect("barOver", x + limitPx, barY, overPx, BAR_HEIGHT_PX), dataKey: `over:${bar.key}` },
    line(
      "limit",
      x + limitPx,
      barY - (bar.kind === "damage" ? 3 : 0),
      x + limitPx,
      barY + BAR_HEIGHT_PX + 4,
    ),
  ];
}
