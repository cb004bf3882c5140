/**
 * Definite time: operates a set time after the pickup, however far past it the quantity is.
 *
 * A scanned monitor sees the quantity at whole scans only, so a delay is rounded up to scans: 2 ms at a scan of 1 ms means
 * seen at one scan and still there at the next two. Source: IEC 60255-151 (from memory); the rounding is ours.
 */

/** Operate time at a constant multiple of the pickup, seconds; Infinity at and below it. */
export function definiteOperateTimeS(multiple: number, delayS: number): number {
  return multiple > 1 ? delayS : Infinity;
}

/** Scans after the one that picked up, until operation. Counted in whole nanoseconds, so 0.3 s is not one scan too long. */
export function confirmationScans(delayS: number, scanS: number): number {
  return Math.ceil(Math.round(delayS * 1e9) / Math.round(scanS * 1e9));
}
