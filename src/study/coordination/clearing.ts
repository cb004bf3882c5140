/**
 * From a monitor's operation to the end of the stress: the first of its actuators that ends it, with the spread of its delay.
 *
 *   drive inhibit, cathode cut-off   end everything that lives on RF or tube current
 *   crowbar                          takes the plate voltage away
 *   contactor                        the filter feeds on for about one time constant: C V / I of the stress
 *   T/R relay                        ends nothing: it only disconnects the antenna, and waits for the output to fall
 *
 * What the circuits take to ring down (microseconds) is left out.
 */
import type { ActuatorName, Actuators, MonitorDef } from "../../project/protection";
import { actuatorSteps } from "../../protection/actuators/schedule";
import type { StressName } from "./stress";

export interface Delay {
  readonly actuator: ActuatorName;
  readonly shortestS: number;
  readonly nominalS: number;
  readonly longestS: number;
}

const ENDS_RF: readonly ActuatorName[] = ["driveInhibit", "cathodeCutoff", "contactor", "crowbar"];
const ENDS_SUPPLY: readonly ActuatorName[] = ["contactor", "crowbar"];

/** Delay from operation to the end of the stress by this monitor's actions; null where none of them ends it. */
export function clearingDelay(
  def: MonitorDef,
  actuators: Actuators,
  stress: StressName,
  filterDecayS: number,
): Delay | null {
  const ending = stress === "supplyShort" ? ENDS_SUPPLY : ENDS_RF;
  let best: Delay | null = null;
  for (const { actuator, delayNs } of actuatorSteps(def.actions, actuators)) {
    if (!ending.includes(actuator)) continue;
    const { earliestRatio, latestRatio } = actuators[actuator];
    const s = delayNs / 1e9;
    const after = actuator === "contactor" ? filterDecayS : 0;
    const delay = {
      actuator,
      shortestS: s * earliestRatio + after,
      nominalS: s + after,
      longestS: s * latestRatio + after,
    };
    if (best === null || delay.nominalS < best.nominalS) best = delay;
  }
  return best;
}
