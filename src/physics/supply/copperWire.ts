/**
 * The copper-wire test of a plate supply: would a fine wire that bridges the charged supply to ground, in the tube's place,
 * survive what comes through before something ends it?
 *
 *   Onderdonk:  melts at  I2t = A^2 log10((Tm - Ta)/(234 + Ta) + 1)/33      (adiabatic; see faultEnergy)
 *   energy:     W = A l d (c (Tm - Ta) + L)                                  to melt all of it
 *   Preece:     I = k D^1.5                                                  melts it in the end, k 80.02 A/mm^1.5
 *
 * The usual form is No. 30 AWG, 6 inches, for a limit near 50 J (tube makers' fault-protection bulletins, from memory); its
 * melting energy, 47 J, bears that out. Copper: Incropera and DeWitt, Table A.1; heat of fusion 205 kJ/kg.
 */

import { copperFusingA2s } from "./faultEnergy";

/** American wire gauge 30: d = 0.127 mm 92^((36 - n)/39), ASTM B258. */
export const TEST_WIRE = {
  name: "No. 30 AWG, 6 in",
  diameterM: 0.2546e-3,
  lengthM: 0.1524,
} as const;

const COPPER_KG_PER_M3 = 8933;
const COPPER_J_PER_KGK = 420; // mean from 25 degC to melting of 385 at 300 K and 451 at 1200 K
const COPPER_FUSION_J_PER_KG = 205e3;
const COPPER_MELTING_K = 1357.77; // ITS-90
const ROOM_K = 298.15;

function areaM2(diameterM: number): number {
  return (Math.PI / 4) * diameterM * diameterM;
}

/** Energy that melts a copper wire from room temperature, joules. */
export function copperMeltingJ(diameterM: number, lengthM: number): number {
  const massKg = areaM2(diameterM) * lengthM * COPPER_KG_PER_M3;
  return massKg * (COPPER_J_PER_KGK * (COPPER_MELTING_K - ROOM_K) + COPPER_FUSION_J_PER_KG);
}

/** Action integral that melts the test wire, A2s; adiabatic, from room temperature. */
export function testWireA2s(): number {
  return copperFusingA2s(areaM2(TEST_WIRE.diameterM), ROOM_K);
}

const PREECE_A_PER_M1P5 = 80.02 / (1e-3 * Math.sqrt(1e-3)); // copper, printed per mm^1.5

/** Current that melts a copper wire in free air in the end, amperes (Preece). */
export function copperFusingA(diameterM: number): number {
  return PREECE_A_PER_M1P5 * diameterM * Math.sqrt(diameterM);
}
