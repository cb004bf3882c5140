/**
 * What the two sensors beside the circuit see: the photodiode in the tank compartment, the thermometer in the exhaust.
 *
 *   L = Parc/P1 + La        light, 1 at the diode's full scale; La with the lid open
 *
 * Parc power of the RF arcs in W; a direct-current arc at the plate's feed lies outside the diode's view. Light goes with
 * an arc's power; how much of it reaches the diode is not modelled, nor its colour. P1 and La are estimates of ours [E].
 */
import { READING } from "../physics/stage/readings";
import { SENSOR_NAMES } from "../protection/sensing/sensing";

/** Arc power whose light fills the diode's scale, W [E]. */
const FULL_LIGHT_W = 500;
/** Room light with the lid open [E]. */
const OPEN_LID_LIGHT = 0.05;

const EXHAUST = SENSOR_NAMES.indexOf("exhaustAirK");
const LIGHT = SENSOR_NAMES.indexOf("tankLight");

/** Light of arcs that take `arcW` together, in the dark compartment. */
export function lightOfArcs(arcW: number): number {
  return arcW > 0 ? arcW / FULL_LIGHT_W : 0;
}

/** Means of one piece for both sensors, in the order of SENSOR_NAMES; `before` and `after` are the stage's readings. */
export function fillSurroundings(
  means: Float64Array,
  before: Float64Array,
  after: Float64Array,
  exhaustAirK: number,
  lidClosed: boolean,
): void {
  const arcW = 0.5 * ((before[READING.arcW] as number) + (after[READING.arcW] as number));
  means[EXHAUST] = exhaustAirK;
  means[LIGHT] = lightOfArcs(arcW) + (lidClosed ? 0 : OPEN_LID_LIGHT);
}
