/** The three hatches every sheet may use: general, heat, and the operator's, leaning the other way. */
import type { ColourToken, HatchName } from "./roles";

export interface Hatch {
  readonly name: HatchName;
  readonly turnDeg: 45 | -45;
  readonly stroke: ColourToken;
  readonly widthPx: number;
}

export const HATCHES: readonly Hatch[] = [
  { name: "hatch", turnDeg: 45, stroke: "ink-3", widthPx: 1.6 },
  { name: "hatchHeat", turnDeg: 45, stroke: "heat", widthPx: 1.3 },
  { name: "hatchBack", turnDeg: -45, stroke: "ink-3", widthPx: 1.6 },
];
export const HATCH_STEP_PX = 5;

/** Name under which a hatch is found in the page. */
export function hatchId(name: HatchName): string {
  return `sheet-${name}`;
}
export const ARROW_ID = "sheet-arrow";
export const ARROW_PATH = "M0 .8L12 4L0 7.2Z";
