/** Looks that the charts of this screen share. They are drawn anew while cases run, so they are plain shapes. */
export const AXIS = { stroke: "var(--ink-3)", strokeWidth: 1, fill: "none" } as const;
export const RULE = { stroke: "var(--rule)", strokeWidth: 0.75, fill: "none" } as const;
export const TICK_TEXT = { fill: "var(--ink-2)", fontSize: "var(--fs-note)" } as const;

/** Of a letter of a figure, on average; what has to be free between two figures. */
const LETTER_PX = 6.5;
const FREE_PX = 12;

/** How wide the longest of these words is, about. */
export function widestPx(words: readonly string[]): number {
  return LETTER_PX * Math.max(0, ...words.map((word) => word.length));
}

/** Words that stand `apartPx` from each other: only every so many fit. */
export function everyHowMany(words: readonly string[], apartPx: number): number {
  return Math.max(1, Math.ceil((widestPx(words) + FREE_PX) / Math.max(apartPx, 1)));
}
