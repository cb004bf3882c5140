/**
 * The logarithmic axis of the race: 1 us to 10 s from the strike, so that equal ratios are equal lengths.
 * Earlier instants sit at the left edge with their figure.
 */
export const AXIS_FROM_S = 1e-6;
export const AXIS_TO_S = 10;
export const AXIS_DECADES = 7;

export interface RaceAxis {
  readonly leftPx: number;
  readonly rightPx: number;
}

/** Place of an instant on the axis, held to its ends. */
export function xOf(axis: RaceAxis, atS: number): number {
  if (!(atS > AXIS_FROM_S)) return axis.leftPx;
  const fraction = Math.min(Math.log10(atS / AXIS_FROM_S) / AXIS_DECADES, 1);
  return axis.leftPx + fraction * (axis.rightPx - axis.leftPx);
}

/** Instant at a place, the reverse. */
export function timeAt(axis: RaceAxis, xPx: number): number {
  const fraction = (xPx - axis.leftPx) / (axis.rightPx - axis.leftPx);
  return AXIS_FROM_S * 10 ** (Math.min(Math.max(fraction, 0), 1) * AXIS_DECADES);
}

export interface AxisTick {
  readonly atS: number;
  readonly rank: "decade" | "five" | "unit";
}

/** Marks of the axis: every unit of every decade. */
export const AXIS_TICKS: readonly AxisTick[] = Array.from(
  { length: AXIS_DECADES * 9 + 1 },
  (_, i) => {
    const decade = Math.floor(i / 9);
    const digit = (i % 9) + 1;
    return {
      atS: Number(`${digit}e${decade - 6}`),
      rank: digit === 1 ? "decade" : digit === 5 ? "five" : "unit",
    } as const;
  },
);

export const DECADE_WORDS: readonly string[] = [
  "1 µs",
  "10 µs",
  "100 µs",
  "1 ms",
  "10 ms",
  "100 ms",
  "1 s",
  "10 s",
].map((word) => word.replace(" ", "\u00a0"));
