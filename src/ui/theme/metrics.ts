/**
 * Sizes a layout must know before it can draw: type and target sizes in CSS pixels, per kind of sheet.
 * They repeat tokens.css, since a drawing is laid out in numbers; a test holds the two together.
 */

/** How much room a sheet has. A drawing is laid out again for each, never scaled. */
export type SheetVariant = "wide" | "compact" | "projector" | "phone";

export interface SheetMetrics {
  readonly notePx: number;
  readonly labelPx: number;
  readonly bodyPx: number;
  readonly headPx: number;
  readonly valuePx: number;
  readonly bigPx: number;
  readonly marginPx: number;
  readonly targetPx: number;
}

const SCREEN: SheetMetrics = {
  notePx: 11,
  labelPx: 12,
  bodyPx: 13,
  headPx: 15,
  valuePx: 22,
  bigPx: 34,
  marginPx: 58,
  targetPx: 26,
};
const PROJECTOR: SheetMetrics = {
  notePx: 14,
  labelPx: 16,
  bodyPx: 17,
  headPx: 20,
  valuePx: 28,
  bigPx: 40,
  marginPx: 62,
  targetPx: 44,
};

/** Type sizes of one kind of sheet. */
export function metricsOf(variant: SheetVariant): SheetMetrics {
  return variant === "projector" ? PROJECTOR : SCREEN;
}

/** Which sheet suits a window: width and height in CSS pixels. */
export function variantFor(widthPx: number, heightPx: number, projector: boolean): SheetVariant {
  if (widthPx <= 820) return "phone";
  if (projector) return "projector";
  return widthPx < 1380 || heightPx < 840 ? "compact" : "wide";
}
