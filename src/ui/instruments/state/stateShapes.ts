/**
 * One shape per state word, on a 12 by 12 field. Shape tells, the word confirms, colour comes third: red for danger,
 * yellow for the abnormal, green for normal, blue where a person must act (IEC 60073).
 */

import type { LineRole } from "../drawing/roles";
import type { Drawing, Shape } from "../drawing/shapes";
import type { MarkName } from "./stateWord";

const TRIANGLE_UP = "M6 1L11.4 10.8H.6Z";
const OCTAGON = "M3.6.4H8.4L11.6 3.6V8.4L8.4 11.6H3.6L.4 8.4V3.6Z";
const SQUARE = "M1 1H11V11H1Z";

function path(role: LineRole, d: string): Shape {
  return { kind: "path", role, d };
}

function disc(role: LineRole, radius: number): Shape {
  return { kind: "circle", x: 6, y: 6, radius, role };
}

export const STATE_SHAPES: Readonly<Record<MarkName, Drawing>> = {
  "no pickup": [disc("ring", 3.6)],
  "not armed": [disc("ringDash", 4.4)],
  pickup: [path("caution", TRIANGLE_UP)],
  alarm: [path("caution", "M6 .6L11.4 6L6 11.4L.6 6Z")],
  operate: [path("danger", SQUARE)],
  trip: [path("danger", OCTAGON), path("dangerCut", "M3 6H9")],
  "drop-off": [path("ring", "M6 10.6L1 1.6H11Z")],
  acknowledged: [
    path("dangerHollow", "M1.2 1.2H10.8V10.8H1.2Z"),
    path("dangerTick", "M3.4 6.2L5.4 8.2L8.8 4"),
  ],
  lockout: [
    path("mustLine", "M3.3 6V3.9A2.7 2.7 0 0 1 8.7 3.9V6"),
    path("must", "M1 5.2H11V11.6H1Z"),
    path("mustCut", "M6 7V9.8"),
  ],
  reset: [disc("normal", 5.6), path("normalTick", "M3 6.2L5.2 8.4L9 4")],
  shadow: [path("hollow", "M1.2 1.2H10.8V10.8H1.2Z")],
  off: [disc("ring", 4.4), path("ring", "M3 9L9 3")],
  "shadow pickup": [path("hollow", TRIANGLE_UP)],
  "operate ahead": [path("hollow", "M1.2 1.2H10.8V10.8H1.2Z")],
  strike: [path("arcFill", "M7.4 0L2.6 6.4H5.6L4.4 12L9.6 5H6.4Z")],
  change: [path("tick", "M6 2V10")],
  due: [path("tickDash", "M6 1V11")],
};

/** A mark of a given size, centred on a point of a drawing. */
export function markAt(
  name: MarkName,
  xCentre: number,
  yCentre: number,
  sizePx: number,
  blink = false,
): Shape {
  return {
    kind: "group",
    x: xCentre - sizePx / 2,
    y: yCentre - sizePx / 2,
    scale: sizePx / 12,
    shapes: STATE_SHAPES[name],
    ...(blink ? { blink } : {}),
  };
}
