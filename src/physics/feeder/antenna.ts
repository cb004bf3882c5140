/**
 * An antenna as its feed point shows it: resonant, or a fixed reflection.
 *
 *   resonant    Z = Ka (2t - j (1 - t^2) sin x)/((1 + t^2) - (1 - t^2) cos x),  x = pi f/f0
 *               t = R/Ka,  Ka = (k + sqrt(k^2 + 4 R^2))/2,  k = 4 Q R/pi
 *   fixed       Y = (1/Z0) (1 - gamma)/(1 + gamma)
 *   bandwidth   B/f0 = (S - 1)/(Q sqrt(S))  between the two edges of SWR S on a line of Z0 = R
 *
 * f0 resonance, Hz; R resistance there, ohm; Q = (f0/2R) dX/df; Ka equivalent characteristic
 * impedance, ohm; Z0 of the line, ohm. The resonant law is a quarter wave of open line, Z = Ka
 * coth(a + jx/2), tanh a = t, the usual stand-in for a dipole: at f0 it equals a series R-L-C of
 * the same R and Q (5 % off: within 3 % in X, 1 % in R), and at harmonics it has an impedance of
 * its own, which an R-L-C has not: high and resistive at 2 f0, resonant again at 3 f0.
 *
 * Validity: SWR over a band, and that a wrong band is badly wrong. At 2 f0 the resistance comes out
 * as Ka^2/R, several times that of a real dipole, because radiation there is stronger than at f0:
 * SWR 50 or more either way. Left out: several wires, traps, height over ground, the balun.
 * Source: Schelkunoff, equivalent line of an antenna; Q and bandwidth from the definition of Q
 * (textbooks, from memory).
 */
import { cos, sin } from "../../math/elementary";
import type { Antenna } from "../../project/station";
import type { MutableAdmittance } from "./line";

/**
 * A plain load that is made to move does so as a resonant antenna of this Q would; estimate, a wire
 * dipole.
 */
const PLAIN_LOAD_Q = 12;
/** A reflection of magnitude 1 at -180 degrees is a wire. */
const LEAST_SQUARE = 1e-12;

/**
 * Q of an antenna whose SWR reaches `swr` at both ends of a fraction of its resonance frequency, on
 * a line of its own resistance.
 */
export function qFromBandwidth(fraction: number, swr: number): number {
  return (swr - 1) / (Math.sqrt(swr) * fraction);
}

/**
 * Admittance of an antenna at its feed point, into `out`. `resonanceRatio` moves a resonance (1 =
 * as built); a fixed reflection is moved as a plain load is. Law: module header.
 */
export function antennaAdmittance(
  antenna: Antenna,
  freqHz: number,
  lineOhm: number,
  resonanceRatio: number,
  out: MutableAdmittance,
): void {
  if (antenna.kind === "reflection") {
    const re = antenna.magnitude * cos(antenna.phaseRad);
    const im = antenna.magnitude * sin(antenna.phaseRad);
    const d = lineOhm * Math.max((1 + re) * (1 + re) + im * im, LEAST_SQUARE);
    const taken = 1 - antenna.magnitude * antenna.magnitude;
    shiftedAdmittance(Math.max(taken, 0) / d, (-2 * im) / d, resonanceRatio, out);
    return;
  }
  const R = antenna.resistanceOhm;
  const k = (4 * antenna.q * R) / Math.PI;
  const Ka = (k + Math.sqrt(k * k + 4 * R * R)) / 2;
  const t = R / Ka;
  const x = (Math.PI * freqHz) / (antenna.resonanceHz * resonanceRatio);
  const rest = 1 - t * t;
  const re = 2 * t;
  const im = -rest * sin(x);
  // 1/Z = D/(Ka (re + j im))
  const scale = (1 + t * t - rest * cos(x)) / (Ka * (re * re + im * im));
  out.conductanceSiemens = re * scale;
  out.susceptanceSiemens = -im * scale;
}

/**
 * A plain load G + jB whose resonance moves, into `out`: in series with it comes X = R Q (1/ratio -
 * ratio) of a resonant circuit of Q 12. Its resistance stays; an open or lossless load stays as it
 * is.
 */
export function shiftedAdmittance(
  conductanceSiemens: number,
  susceptanceSiemens: number,
  resonanceRatio: number,
  out: MutableAdmittance,
): void {
  const square = conductanceSiemens * conductanceSiemens + susceptanceSiemens * susceptanceSiemens;
  if (!(conductanceSiemens > 0) || resonanceRatio === 1) {
    out.conductanceSiemens = conductanceSiemens;
    out.susceptanceSiemens = susceptanceSiemens;
    return;
  }
  const r = conductanceSiemens / square;
  const x = -susceptanceSiemens / square + r * PLAIN_LOAD_Q * (1 / resonanceRatio - resonanceRatio);
  const d = r * r + x * x;
  out.conductanceSiemens = r / d;
  out.susceptanceSiemens = -x / d;
}
