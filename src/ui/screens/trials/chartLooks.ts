/** Looks that the charts of this screen share. They are drawn anew while cases run, so they are plain shapes. */
export const AXIS = { stroke: "var(--ink-3)", strokeWidth: 1, fill: "none" } as const;
export const RULE = { stroke: "var(--rule)", strokeWidth: 0.75, fill: "none" } as const;
export const TICK_TEXT = { fill: "var(--ink-2)", fontSize: "var(--fs-note)" } as const;
