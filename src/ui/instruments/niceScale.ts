/** Scales of charts. */
export interface NiceScale {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
}

/** A span under it has no decade that divides it: what is left of one is nothing. */
const SMALLEST = 1e-300;

/**
 * Round figures, four to six of them, so that the scale does not breathe with every keystroke; fewer where they would stand
 * closer than `leastStep`.
 */
export function niceScale(least: number, most: number, leastStep = 0): NiceScale {
  if (!(most - least > SMALLEST && Number.isFinite(most - least)))
    return { low: least, high: least + 1, ticks: [least, least + 1] };
  const rough = Math.max((most - least) / 4, leastStep);
  let decade = 1;
  while (decade > rough) decade /= 10;
  while (decade * 10 <= rough) decade *= 10;
  const by = decade * ([1, 2, 5, 10].find((m) => m * decade >= rough) ?? 10);
  const first = Math.floor(least / by);
  const last = Math.ceil(most / by);
  const ticks = Array.from({ length: last - first + 1 }, (_, k) => (first + k) * by);
  return { low: first * by, high: last * by, ticks };
}
