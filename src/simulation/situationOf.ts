/** What the protection is told of the station besides its sensors: contacts and switches, as the logic has them. */
import type { Situation } from "../protection/situation";
import type { Logic } from "./logic";

/** The situation of a logic; `inhibited` for a run in which nothing acts. */
export function situationOf(logic: Logic, inhibited: boolean): Situation {
  return {
    operate: logic.operate,
    mode: logic.mode,
    keyDown: logic.keyDown,
    keyDownAtNs: logic.keyDownAtNs,
    // a trip that holds its actuators takes the station off the air, whatever the relays still do
    transmitConfirmed: logic.sequence.phase === "transmit" && !logic.tripHeld,
    supplyReadyAtNs: logic.supplyReadyAtNs,
    inhibited,
  };
}
