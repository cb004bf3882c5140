/**
 * The bead a molten edge pulls itself into.
 *
 *   D = (6 m/(pi rho))^(1/3)       sphere of the liquid's density
 *
 * Surface tension rounds millimetre drops against gravity (capillary length of liquid aluminium about 6 mm), so a sphere is
 * fair up to a few milligrams; part of it stays inside the edge, so it reaches less far than D. Estimate.
 */
import { cbrt } from "../../math/elementary";
import type { Metal } from "./metals";

/** Diameter of the bead, metres. */
export function beadDiameterM(metal: Metal, moltenKg: number): number {
  return cbrt((6 * moltenKg) / (Math.PI * metal.liquidDensityKgPerM3));
}

/** True once the bead reaches across what is left of the gap: the arc is shorted out, the wrong way to end it. */
export function beadBridges(metal: Metal, moltenKg: number, residualGapM: number): boolean {
  return moltenKg > 0 && beadDiameterM(metal, moltenKg) >= residualGapM;
}
