/**
 * Thermal replica: a first-order image of a part's heat.
 *
 *   dH/dt = (u - H)/tau,  operates at H = 1
 *   from H0 at constant u:  t = tau ln((u - H0)/(u - 1))
 *   stepped:                H(n) = u dt/(tau + dt) + H(n-1) tau/(tau + dt)
 *
 * u is heating over the operating level: (I/It)^2 for a current, P/Pt for watts (linear). H0 = 0 cold, (Ip/It)^2 after
 * prior load Ip. The stepped form is the implicit Euler rule of digital relays; it lags the closed form by about dt/2.
 * Source: IEC 60255-149 (from memory).
 */

import { ln } from "../../math/elementary";

/** Operate time at constant heating u from image H0, seconds; 0 when already there, Infinity when it never comes. */
export function thermalOperateTimeS(
  timeConstantS: number,
  heating: number,
  initialImage: number,
): number {
  if (initialImage >= 1) return 0;
  if (heating <= 1) return Infinity;
  return timeConstantS * ln((heating - initialImage) / (heating - 1));
}

/** The image one step later. */
export function stepThermalImage(
  image: number,
  heating: number,
  timeConstantS: number,
  dtS: number,
): number {
  return (heating * dtS + image * timeConstantS) / (timeConstantS + dtS);
}
