/**
 * Spearman's rank correlation: how steadily one quantity rises or falls with another, whatever the shape of the curve.
 *
 *   r = sum (a_i - m)(b_i - m) / sqrt(sum (a_i - m)^2 sum (b_i - m)^2)      a, b ranks, m their mean (n + 1)/2
 *
 * Equal values share the mean of their ranks; without any this is 1 - 6 sum d^2/(n (n^2 - 1)). Infinite values have a rank
 * like all others. Source: C. Spearman, Am. J. Psychology 15 (1904) 72; ties as in any textbook.
 *
 * Between quantities that have nothing to do with each other r has the mean 0 and the variance 1/(n - 1), exactly and whatever their
 * distributions (M. G. Kendall, Rank Correlation Methods; book from memory).
 */

/** Ranks from 1, equal values sharing the mean of theirs. */
export function ranksOf(values: ArrayLike<number>): Float64Array {
  const ranks = Float64Array.from(values);
  const order = ranks.toSorted();
  for (let i = 0; i < ranks.length; i++) {
    const x = ranks[i] as number;
    const less = countTo(order, x, false);
    // nearly always alone: the second search is for those that are not
    const upTo = order[less + 1] === x ? countTo(order, x, true) : less + 1;
    ranks[i] = 0.5 * (less + upTo + 1);
  }
  return ranks;
}

/** How many of a sorted sample are less than `x`, or as much. */
function countTo(order: Float64Array, x: number, orEqual: boolean): number {
  let low = 0;
  let high = order.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const value = order[middle] as number;
    if (value < x || (orEqual && value === x)) low = middle + 1;
    else high = middle;
  }
  return low;
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

/** Size that the correlation of n unrelated pairs seldom passes: two of its standard errors; null for fewer than three. */
export function rankNoise(n: number): number | null {
  return n < 3 ? null : 2 / Math.sqrt(n - 1);
}
