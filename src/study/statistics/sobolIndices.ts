/**
 * Sobol indices: the share of an outcome's variance that one input has by itself (first order), and that would be left if
 * all the others were known (total).
 *
 *   S_i  = (1/N) sum f(B)_k (f(A_i)_k - f(A)_k) / V        first order, Saltelli et al. 2010
 *   St_i = (1/2N) sum (f(A)_k - f(A_i)_k)^2 / V            total, Jansen 1999
 *
 * A and B are N independent draws of all inputs, A_i is A with input i taken from B, V the variance of f over A and B. The
 * outcome is counted from its mean first, which changes nothing in the limit and much of the error. Source: A. Saltelli et al.,
 * Computer Physics Communications 181 (2010) 259, table 2 (b) and (f). Validity: independent inputs.
 */

export interface SobolIndex {
  readonly first: number;
  readonly total: number;
}

/** What the outcome was, one row for each draw k. */
export interface SobolRow {
  readonly a: number;
  readonly b: number;
  /** By input: the outcome of A with this input from B. */
  readonly mixed: readonly number[];
}

/** Indices of every input; null where the outcome does not vary. */
export function sobolIndices(rows: readonly SobolRow[]): readonly SobolIndex[] | null {
  const n = rows.length;
  let mean = 0;
  for (const { a, b } of rows) mean += (a + b) / (2 * n);
  let variance = 0;
  for (const { a, b } of rows) {
    variance += ((a - mean) * (a - mean) + (b - mean) * (b - mean)) / (2 * n);
  }
  if (!(variance > 0)) return null;
  const inputs = (rows[0] as SobolRow).mixed.length;
  return Array.from({ length: inputs }, (_, i) => {
    let first = 0;
    let total = 0;
    for (const { a, b, mixed } of rows) {
      const change = (mixed[i] as number) - a;
      first += (b - mean) * change;
      total += change * change;
    }
    return { first: first / (n * variance), total: total / (2 * n * variance) };
  });
}

/** Runs one row takes: A, B and one for each input. */
export function sobolRunsPerRow(inputs: number): number {
  return inputs + 2;
}
