/** Time as the bench counts it. */

/** Whole nanoseconds of a time in seconds, the nearest. */
export function nanoseconds(timeS: number): number {
  return Math.round(timeS * 1e9);
}
