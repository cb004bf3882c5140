/**
 * Spearman's rank correlation: how steadily one quantity rises or falls with another, whatever the shape of the curve.
 *
 *   r = sum (a_i - m)(b_i - m) / sqrt(sum (a_i - m)^2 sum (b_i - m)^2)      a, b ranks, m their mean (n + 1)/2
 *
 * Equal values share the mean of their ranks; without any this is 1 - 6 sum d^2/(n (n^2 - 1)). Infinite values have a rank
 * like all others. Source: C. Spearman, Am. J. Psychology 15 (1904) 72; ties as in any textbook.
 */

/** Ranks from 1, equal values sharing the mean of theirs. */
export function ranksOf(values: ArrayLike<number>): Float64Array {
  const n = values.length;
  const at = (i: number): number => values[i] as number;
  const order = Array.from({ length: n }, (_, i) => i).sort((i, k) => {
    const a = at(i);
    const b = at(k);
    return a < b ? -1 : a > b ? 1 : i - k;
  });
  const ranks = new Float64Array(n);
  for (let first = 0; first < n; ) {
    let end = first + 1;
    while (end < n && at(order[end] as number) === at(order[first] as number)) end++;
    for (let k = first; k < end; k++) ranks[order[k] as number] = 0.5 * (first + 1 + end);
    first = end;
  }
  return ranks;
}

/** Correlation of two rows of ranks; null where one does not vary or there are fewer than three pairs. */
export function correlationOfRanks(a: Float64Array, b: Float64Array): number | null {
  const n = a.length;
  if (n !== b.length) throw new Error(`invalid b: ${b.length} ranks beside ${n}`);
  const mean = 0.5 * (n + 1);
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < n; i++) {
    const x = (a[i] as number) - mean;
    const y = (b[i] as number) - mean;
    ab += x * y;
    aa += x * x;
    bb += y * y;
  }
  return n < 3 || aa === 0 || bb === 0 ? null : ab / Math.sqrt(aa * bb);
}

/** Spearman's correlation of two samples; null where there is none to speak of. */
export function rankCorrelation(a: ArrayLike<number>, b: ArrayLike<number>): number | null {
  return correlationOfRanks(ranksOf(a), ranksOf(b));
}
