/** Sizes of words: their names in the style sheet, and in the metrics that layouts compute with. */
export const SIZE_NAMES = {
  "fs-note": "notePx",
  "fs-label": "labelPx",
  "fs-body": "bodyPx",
  "fs-head": "headPx",
  "fs-value": "valuePx",
  "fs-big": "bigPx",
  "fs-margin": "marginPx",
} as const;
