/**
 * The arc as a plasma whose conductance follows its heat balance (Cassie form).
 *
 *   d(ln g)/dt = (|V|^2/Varc^2 - 1)/tau        g siemens, V peak phasor across the arc, Varc maintaining peak volts
 *   P = g |V|^2/2                              watts
 *
 * With several harmonics |V|^2 is the sum over them. In the steady state |V| = Varc whatever the current: the arc pins
 * its place near the maintaining voltage. tau is 1 to 10 us. An arc goes out when the circuit cannot feed its holding power.
 * Source: Cassie's arc equation, averaged over the cycle of a nearly sinusoidal voltage (derived here); checked against
 * full-waveform circuit simulation. tau and the holding power: estimates.
 */

/** Rate of ln g, 1/s. `peakSquareV2` is |V|^2, summed over harmonics. */
export function logConductanceRatePerS(
  peakSquareV2: number,
  maintainingPeakV: number,
  timeConstantS: number,
): number {
  return (peakSquareV2 / (maintainingPeakV * maintainingPeakV) - 1) / timeConstantS;
}

/** Mean power in the arc, watts. */
export function arcPowerW(conductanceSiemens: number, peakSquareV2: number): number {
  return 0.5 * conductanceSiemens * peakSquareV2;
}

/** Peak of the arc's current, amperes, for a given |V|^2. */
export function arcPeakCurrentA(conductanceSiemens: number, peakSquareV2: number): number {
  return conductanceSiemens * Math.sqrt(peakSquareV2);
}

/**
 * Power of an arc whose voltage is a square wave in phase with a sinusoidal current: (2/pi) Varc I1.
 * An upper estimate for an arc fed by a current source; a sinusoidal clamp takes half of Varc I1.
 */
export function squareClampPowerW(arcV: number, fundamentalPeakA: number): number {
  return (2 / Math.PI) * arcV * fundamentalPeakA;
}
