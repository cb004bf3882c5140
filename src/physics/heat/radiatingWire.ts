/**
 * Grid wires that lose their heat by radiation alone.
 *
 *   C dT/dt = P - k (T^4 - To^4)          k = Pr/(Tr^4 - To^4), C = 4 k Tr^3 tau
 *
 * P heat into the wires, Pr their rated dissipation, Tr what they come to at it, To what the hot cathode keeps them at
 * without grid current, tau time constant for small changes round Tr, Td damage: the plating melts or the wires sag.
 *
 *   left alone:  T^4 -> E^4 = To^4 + P/k
 *   time from T to Td:  C/(4 k E^3) [ln((E + T)/(E - T)) + 2 atan(T/E)] between the two, E > Td
 *
 * Validity: one temperature for all wires, grey and constant emissivity, no conduction into the supports.
 * Standing: T^4 is Stefan and Boltzmann's law. Tr, To, tau (0.1 to 0.5 s) are estimates; a limit of 1337.33 K is where
 * gold plating melts (ITS-90 fixed point).
 */
import { atan2, ln } from "../../math/elementary";

export interface RadiatingWire {
  readonly ratedW: number;
  readonly ratedK: number;
  readonly idleK: number;
  readonly limitK: number;
  /** Radiated power over T^4 - To^4, W/K^4, and heat capacity, J/K. */
  readonly radiatesWPerK4: number;
  readonly heatJPerK: number;
}

/** Wires that come to `ratedK` on `ratedW` and follow small changes there with `timeConstantS`. */
export function radiatingWire(
  ratedW: number,
  ratedK: number,
  idleK: number,
  limitK: number,
  timeConstantS: number,
): RadiatingWire {
  const radiatesWPerK4 = ratedW / (fourth(ratedK) - fourth(idleK));
  const heatJPerK = 4 * radiatesWPerK4 * ratedK * ratedK * ratedK * timeConstantS;
  return { ratedW, ratedK, idleK, limitK, radiatesWPerK4, heatJPerK };
}

/** Temperature after `dtS` of steady heat: one linearised trapezoid step, second order, stable for any length. */
export function advanceWireK(wire: RadiatingWire, atK: number, watts: number, dtS: number): number {
  const { radiatesWPerK4: k, heatJPerK: c, idleK } = wire;
  const cube = atK * atK * atK;
  const netW = watts - k * (cube * atK - fourth(idleK));
  return atK + (dtS * netW) / (c + 2 * k * cube * dtS);
}

/** Seconds to the limit if the heat stays; 0 when already there, Infinity when it never comes. */
export function wireTimeLeftS(wire: RadiatingWire, atK: number, watts: number): number {
  const { radiatesWPerK4: k, heatJPerK: c, idleK, limitK } = wire;
  if (atK >= limitK) return 0;
  const endK = Math.sqrt(Math.sqrt(fourth(idleK) + watts / k));
  if (!(endK > limitK)) return Infinity;
  const along = (T: number): number => ln((endK + T) / (endK - T)) + 2 * atan2(T, endK);
  return (c / (4 * k * endK * endK * endK)) * (along(limitK) - along(atK));
}

function fourth(x: number): number {
  const square = x * x;
  return square * square;
}
