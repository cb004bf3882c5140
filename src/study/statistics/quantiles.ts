/**
 * Quantiles and histograms of a sample.
 *
 *   Q(p) = x_j + (h - j)(x_(j+1) - x_j),   h = (n - 1) p, j = floor h, x sorted and counted from 0
 *
 * This is definition 7 of Hyndman & Fan, The American Statistician 50 (1996) 361. Infinite values are allowed and keep
 * their place at the ends: what never happens is later than everything that does.
 */

/** A sorted copy, least first. NaN is a broken promise of the caller. */
export function sorted(values: readonly number[]): Float64Array {
  const out = Float64Array.from(values).sort();
  if (Number.isNaN(out[out.length - 1])) throw new Error("invalid values: one is not a number");
  return out;
}

/** Quantile at `p` in [0, 1] of a sorted sample; NaN of none. Between a finite and an infinite value it is the infinite one. */
export function quantile(sample: Float64Array, p: number): number {
  if (!(p >= 0 && p <= 1)) throw new Error(`invalid p: ${p}`);
  const n = sample.length;
  if (n === 0) return Number.NaN;
  const h = (n - 1) * p;
  const j = Math.min(Math.floor(h), n - 1);
  const low = sample[j] as number;
  if (h === j || j + 1 >= n) return low;
  const high = sample[j + 1] as number;
  return low === high ? low : low + (h - j) * (high - low);
}

export interface Histogram {
  /** Ends of the bins, one more than there are bins; a bin holds its lower end, the last one both. */
  readonly edges: readonly number[];
  readonly counts: readonly number[];
}

/** Counts in bins whose ends stand in `edges`, rising; what lies outside them is not counted. */
export function histogram(values: readonly number[], edges: readonly number[]): Histogram {
  const counts = new Array<number>(Math.max(edges.length - 1, 0)).fill(0);
  const last = counts.length - 1;
  for (const x of values) {
    if (last < 0 || !(x >= (edges[0] as number)) || !(x <= (edges[last + 1] as number))) continue;
    let bin = last;
    while (x < (edges[bin] as number)) bin--;
    counts[bin] = (counts[bin] as number) + 1;
  }
  return { edges, counts };
}
