/**
 * Lays out a gauge for its width: a shallow drafted arc of 84 degrees, scale marks inside, pickup triangle outside,
 * bold bar at the limit and hatch beyond it. Clockwise is increase.
 */
import type { SheetMetrics } from "../../theme/metrics";
import type { Drawing, Shape } from "../drawing/shapes";
import { line, px, words } from "../drawing/shapes";
import { textWidthPx } from "../drawing/textWidth";
import type { GaugeView } from "./gaugeView";

const HALF_SWEEP_DEG = 42;
const HALF_SWEEP_RAD = (HALF_SWEEP_DEG * Math.PI) / 180;

export interface GaugeLayout {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly centreX: number;
  readonly centreY: number;
  /** Ends of the needle as distances from the centre of the arc. */
  readonly needleOuterPx: number;
  readonly needleInnerPx: number;
  readonly valueY: number;
  readonly stateY: number;
  readonly frame: Drawing;
}

/** Angle of a value from the upright, held to a little beyond the ends of the scale as a stop pin would. */
export function needleAngleDeg(value: number, minimum: number, maximum: number): number {
  if (!Number.isFinite(value)) return -HALF_SWEEP_DEG;
  const fraction = (value - minimum) / (maximum - minimum);
  return (Math.min(Math.max(fraction, -0.03), 1.03) - 0.5) * 2 * HALF_SWEEP_DEG;
}

/** Everything of a gauge that stands still between events. */
export function layoutGauge(view: GaugeView, widthPx: number, sizes: SheetMetrics): GaugeLayout {
  const { scale } = view;
  // the figures at the two ends stand beside the arc, where no needle passes
  const halfChord = Math.max(widthPx / 2 - sizes.notePx * 2 - 1, 24);
  const radius = Math.min(halfChord / Math.sin(HALF_SWEEP_RAD), 150);
  const centreX = widthPx / 2;
  const top = sizes.bodyPx + 17;
  const centreY = top + radius;
  const rise = radius * (1 - Math.cos(HALF_SWEEP_RAD));
  const valueY = top + rise + sizes.valuePx + 19;
  const stateY = valueY + sizes.notePx + 7;
  const at = (value: number, r: number): readonly [number, number] => {
    const turn = (needleAngleDeg(value, scale.minimum, scale.maximum) * Math.PI) / 180;
    return [centreX + r * Math.sin(turn), centreY - r * Math.cos(turn)];
  };
  const shapes: Shape[] = [];
  const arc = (from: number, to: number, r: number) =>
    `${pair(at(from, r))}A${px(r)} ${px(r)} 0 0 1 ${pair(at(to, r)).slice(1)}`;
  if (view.limit !== null) {
    const [from, to] =
      view.limitSide === "over" ? [view.limit, scale.maximum] : [scale.minimum, view.limit];
    shapes.push({
      kind: "path",
      role: "limitZone",
      d: `${arc(from, to, radius + 7)}L${pair(at(to, radius)).slice(1)}A${px(radius)} ${px(radius)} 0 0 0 ${pair(at(from, radius)).slice(1)}Z`,
    });
  }
  shapes.push({ kind: "path", role: "axis", d: arc(scale.minimum, scale.maximum, radius) });
  const steps = Math.round(((scale.maximum - scale.minimum) / scale.major) * scale.minorPerMajor);
  for (let i = 0; i <= steps; i += 1) {
    const value = scale.minimum + ((scale.maximum - scale.minimum) * i) / steps;
    shapes.push(
      line(
        "thin",
        ...at(value, radius),
        ...at(value, radius - (i % scale.minorPerMajor === 0 ? 8 : 4.5)),
      ),
    );
  }
  if (view.limit !== null)
    shapes.push(line("limit", ...at(view.limit, radius - 8), ...at(view.limit, radius + 7)));
  if (view.pickup !== null && view.pickup >= scale.minimum && view.pickup <= scale.maximum) {
    const turn = (needleAngleDeg(view.pickup, scale.minimum, scale.maximum) * Math.PI) / 180;
    const [tipX, tipY] = at(view.pickup, radius + 2.5);
    const [backX, backY] = at(view.pickup, radius + 11);
    const dx = 5 * Math.cos(turn);
    const dy = 5 * Math.sin(turn);
    shapes.push({
      kind: "path",
      role: "pickupMark",
      d: `M${px(tipX)} ${px(tipY)}L${px(backX - dx)} ${px(backY - dy)}L${px(backX + dx)} ${px(backY + dy)}Z`,
    });
  }
  if (view.before !== null && view.noReading === null)
    shapes.push(line("before", ...at(view.before, radius - 10), ...at(view.before, radius - 31)));
  const [minX, endY] = at(scale.minimum, radius);
  const [maxX] = at(scale.maximum, radius);
  const endBase = endY + sizes.notePx * 0.4;
  shapes.push(
    words("note", minX - 4, endBase, scale.minimumWord, { anchor: "end" }),
    words("note", maxX + 4, endBase, scale.maximumWord),
  );
  shapes.push(words("body", 0, sizes.bodyPx, view.name));
  drawPickupWord(view, widthPx, sizes, shapes);
  shapes.push(
    words("note", widthPx, valueY, view.beforeWord, { anchor: "end" }),
    words("note", widthPx, stateY, view.nowWord, { anchor: "end" }),
  );
  return {
    widthPx,
    heightPx: stateY + 6,
    centreX,
    centreY,
    needleOuterPx: radius - 5,
    needleInnerPx: radius - 31,
    valueY,
    stateY,
    frame: shapes,
  };
}

function pair([x, y]: readonly [number, number]): string {
  return `M${px(x)} ${px(y)}`;
}

/** Beside a long name the word gives way to its mark, the same triangle as on the scale. */
function drawPickupWord(
  view: GaugeView,
  widthPx: number,
  sizes: SheetMetrics,
  shapes: Shape[],
): void {
  const roomPx = widthPx - textWidthPx(view.name, sizes.bodyPx, 660) - 8;
  const whole = textWidthPx(view.pickupWord, sizes.notePx) <= roomPx;
  const text = whole ? view.pickupWord : view.pickupWord.replace(/^pickup /, "");
  shapes.push(words("note", widthPx, sizes.bodyPx, text, { anchor: "end" }));
  if (whole || view.pickup === null) return;
  const x = widthPx - textWidthPx(text, sizes.notePx) - 9;
  const y = sizes.bodyPx - sizes.notePx + 3;
  shapes.push({ kind: "path", role: "pickupMark", d: `M${px(x)} ${px(y)}h8l-4 7z` });
}
