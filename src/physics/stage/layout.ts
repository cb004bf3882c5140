/**
 * Where everything stands in the one state array of the stage. Per harmonic, re and im side by side:
 * cathode voltage, input coil current, plate voltage, choke current, coil current (plate side), tap
 * voltage, coil current (output side), voltage at the loading capacitor, and of a pi-L the current of its
 * output coil and the voltage at the connector. Then the slow states, then ln g of an arc at each place. A tap
 * without an arc is not a node: its voltage rests and both coil currents are one. A pi has no output coil: its
 * connector is the loading capacitor, and the last two rest at 0.
 */
import { HARMONICS } from "../tube/triode";

/** Reals per harmonic. */
export const STRIDE = 20;
export const VK = 0;
export const ILK = 2;
export const V1 = 4;
export const ILR = 6;
export const ILA = 8;
export const VT = 10;
export const ILB = 12;
export const V2 = 14;
export const ILC = 16;
export const V3 = 18;

const SLOW = HARMONICS * STRIDE;
export const VC = SLOW;
export const EB = SLOW + 1;
export const EK = SLOW + 2;
/** ln of the arc's conductance, one a place, in the order of ARC_PLACES. */
export const LNG = SLOW + 3;

export const ARC_PLACES = [
  "tuningCapacitor",
  "coilTap",
  "loadingCapacitor",
  "beyondCoupler",
] as const;
export const ARC_COUNT = ARC_PLACES.length;
export const AT_PLATE = 0;
export const AT_TAP = 1;
export const AT_LOADING = 2;
export const AT_BEYOND = 3;

export const STATE_LENGTH = LNG + ARC_COUNT;

const ARC_NODE: readonly number[] = [V1, VT, V2, V2];
const ARC_NODE_PI_L: readonly number[] = [V1, VT, V2, V3];

/** Offset of the node voltage an arc at each place sees, inside one harmonic; with or without an output coil. */
export function arcNodes(hasOutputCoil: boolean): readonly number[] {
  return hasOutputCoil ? ARC_NODE_PI_L : ARC_NODE;
}

/** Conductance an arc starts with when its gap breaks down: small enough to leave the circuit as it is. */
export const STRIKE_LNG = -9.21; // 0.1 mS
