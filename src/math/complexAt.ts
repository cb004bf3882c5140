/**
 * Complex arithmetic in place: a number is two neighbours in a Float64Array, re at `at`, im at `at + 1`.
 * Nothing is allocated.
 */

/** q[to] = 1/(re + j im) */
export function invertAt(q: Float64Array, to: number, re: number, im: number): void {
  const d = 1 / (re * re + im * im);
  q[to] = re * d;
  q[to + 1] = -im * d;
}

/** q[to] = a[at] b[bt]; `to` may be one of the two. */
export function multiplyAt(
  q: Float64Array,
  to: number,
  a: Float64Array,
  at: number,
  b: Float64Array,
  bt: number,
): void {
  const ar = a[at] as number;
  const ai = a[at + 1] as number;
  const br = b[bt] as number;
  const bi = b[bt + 1] as number;
  q[to] = ar * br - ai * bi;
  q[to + 1] = ar * bi + ai * br;
}

/** q[to] = (1 - q[one]) q[times] */
export function oneMinusTimesAt(q: Float64Array, to: number, one: number, times: number): void {
  const ar = 1 - (q[one] as number);
  const ai = -(q[one + 1] as number);
  const br = q[times] as number;
  const bi = q[times + 1] as number;
  q[to] = ar * br - ai * bi;
  q[to + 1] = ar * bi + ai * br;
}

/** out[to] = q[by] (re + j im) */
export function timesAt(
  out: Float64Array,
  to: number,
  q: Float64Array,
  by: number,
  re: number,
  im: number,
): void {
  const yr = q[by] as number;
  const yi = q[by + 1] as number;
  out[to] = yr * re - yi * im;
  out[to + 1] = yr * im + yi * re;
}
