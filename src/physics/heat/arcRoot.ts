/**
 * Where the arc's heat lands on the metal.
 *
 *   a = sqrt(Ipk/(pi J))        radius of the root, metres; J current density in the root, A/m2
 *
 * J is an estimate, 2 to 10 A/mm2, chosen to match common practice: nobody has measured it for ampere arcs at HF.
 * Glow-mode roots would be wider (about 0.1 A/mm2), metal-vapour spots far smaller.
 */

/** Radius of the arc's root, metres; grows with the square root of the current. */
export function spotRadiusM(arcPeakA: number, spotAPerM2: number): number {
  return Math.sqrt(Math.max(arcPeakA, 0) / (Math.PI * spotAPerM2));
}
