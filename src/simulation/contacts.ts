/**
 * Contacts that part under power, and switches on their way. A parting contact passes through every gap, beginning with none, so
 * it draws an arc as soon as the voltage there can feed one. What is asked for is a piece of time that ends at `ns`.
 *
 * The arc lies from its place to ground, as every arc of the stage does: as if it had been carried over to the receive
 * contact, the frame or the shield. In series with the load it would keep part of it.
 */
import { FAULTS } from "../project/faults";
import type { ArcPlace } from "../project/station";
import { nanoseconds } from "../units/nanoseconds";
import type { PlacedFault } from "./logic";
import { presenceUntil } from "./presence";

/** Whether the switch that a fault turns is still between its contacts. */
export function isTravelling(f: PlacedFault, ns: number): boolean {
  const { travelS } = FAULTS[f.fault];
  return travelS !== undefined && ns <= f.placedNs + nanoseconds(travelS);
}

/** Whether the fault draws an arc at this place now. */
export function drawsArc(f: PlacedFault, place: ArcPlace, ns: number): boolean {
  switch (f.fault) {
    case "bandSwitchMoved":
      return place === "coilTap" && isTravelling(f, ns);
    case "antennaChanged":
      return place === "beyondCoupler" && isTravelling(f, ns);
    case "relayOpens":
      if (place !== "beyondCoupler") return false;
      // a relay that chatters parts anew each time
      if (f.onset.kind === "intermittent") return presenceUntil(f, ns) > 0;
      return ns <= f.placedNs + nanoseconds(f.severity);
    case "openLoad":
      // a connector that makes and breaks stays as good as touching
      return (
        place === "beyondCoupler" &&
        f.onset.kind === "intermittent" &&
        f.severity === 1 &&
        presenceUntil(f, ns) > 0
      );
    default:
      return false;
  }
}
