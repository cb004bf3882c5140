/**
 * Reflection at the end of a line, and what it is called in other words.
 *
 *   |gamma| = (S - 1)/(S + 1),  return loss = -20 log10 |gamma|,  mismatch loss = -10 log10(1 - |gamma|^2)
 *   Y = (1/Z0) (1 - gamma)/(1 + gamma)
 *
 * S standing-wave ratio (1 or more), gamma voltage reflection coefficient, Z0 real reference impedance, ohm.
 * Source: definitions; Pozar, Microwave Engineering, ch. 2 (from memory).
 */
import { log10 } from "../../math/elementary";

/** |gamma| from the standing-wave ratio; an infinite ratio is total reflection. */
export function gammaFromSwr(swr: number): number {
  return swr === Infinity ? 1 : (swr - 1) / (swr + 1);
}

/** Standing-wave ratio from |gamma|; Infinity at and above total reflection. */
export function swrFromGamma(gammaMagnitude: number): number {
  return gammaMagnitude >= 1 ? Infinity : (1 + gammaMagnitude) / (1 - gammaMagnitude);
}

/** Return loss, dB, positive; Infinity for a perfect match. */
export function returnLossDb(gammaMagnitude: number): number {
  return gammaMagnitude > 0 ? -20 * log10(gammaMagnitude) : Infinity;
}

/** Mismatch loss, dB: what reflection keeps from the load; Infinity at total reflection. */
export function mismatchLossDb(gammaMagnitude: number): number {
  const accepted = 1 - gammaMagnitude * gammaMagnitude;
  return accepted > 0 ? -10 * log10(accepted) : Infinity;
}

export interface MutableAdmittance {
  conductanceSiemens: number;
  susceptanceSiemens: number;
}

const SHORT_FLOOR = 1e-12; // |1 + gamma|^2 of a short: 1e6 times the reference admittance, as good as a wire

/** Load admittance that reflects gamma = re + j im on a line of Z0; written into `out`, so a moving load costs no garbage. */
export function admittanceFromGamma(
  gammaRe: number,
  gammaIm: number,
  lineOhm: number,
  out: MutableAdmittance,
): void {
  const p = 1 + gammaRe;
  const square = Math.max(p * p + gammaIm * gammaIm, SHORT_FLOOR);
  const y0 = 1 / (lineOhm * square);
  out.conductanceSiemens = Math.max(1 - gammaRe * gammaRe - gammaIm * gammaIm, 0) * y0;
  out.susceptanceSiemens = -2 * gammaIm * y0;
}
