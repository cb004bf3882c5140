/** The record's scale: straight between knots, so that seconds before a strike and milliseconds after it share one bar. */
import type { ScaleKnot } from "./timeView";

function between(value: number, from: number, to: number, start: number, end: number): number {
  return to === from ? start : start + ((value - from) / (to - from)) * (end - start);
}

/** Fraction of the bar at an instant, held to 0 and 1. */
export function fractionAt(knots: readonly ScaleKnot[], atS: number): number {
  const first = knots[0];
  const last = knots.at(-1);
  if (first === undefined || last === undefined || atS <= first.atS) return first?.fraction ?? 0;
  if (atS >= last.atS) return last.fraction;
  const next = knots.findIndex((knot) => knot.atS > atS);
  const a = knots[next - 1] as ScaleKnot;
  const b = knots[next] as ScaleKnot;
  return between(atS, a.atS, b.atS, a.fraction, b.fraction);
}

/** Instant at a fraction of the bar. */
export function instantAt(knots: readonly ScaleKnot[], fraction: number): number {
  const first = knots[0];
  const last = knots.at(-1);
  if (first === undefined || last === undefined) return 0;
  if (fraction <= first.fraction) return first.atS;
  if (fraction >= last.fraction) return last.atS;
  const next = knots.findIndex((knot) => knot.fraction > fraction);
  const a = knots[next - 1] as ScaleKnot;
  const b = knots[next] as ScaleKnot;
  return between(fraction, a.fraction, b.fraction, a.atS, b.atS);
}

const BEFORE_SHARE = 0.35;

/** Usual knots: one straight scale without a strike; with one, what came before it in the first third. */
export function recordKnots(fromS: number, toS: number, struck: boolean): readonly ScaleKnot[] {
  const end = Math.max(toS, fromS + 1e-9);
  if (!struck || fromS >= 0 || end <= 0)
    return [
      { atS: fromS, fraction: 0 },
      { atS: end, fraction: 1 },
    ];
  return [
    { atS: fromS, fraction: 0 },
    { atS: 0, fraction: BEFORE_SHARE },
    { atS: end, fraction: 1 },
  ];
}
