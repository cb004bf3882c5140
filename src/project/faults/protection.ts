/** Faults of the protection itself. */
import { type FaultRows, PRESENT } from "./kind";

export const PROTECTION_FAULTS: FaultRows<"driveInhibitFailed" | "relayStuck" | "contactorOnly"> = {
  driveInhibitFailed: {
    fault: "driveInhibitFailed",
    parts: ["protection"],
    name: "Drive inhibit fails",
    what: "The command to stop the drive is given, and the drive goes on.",
    does: "Nothing until a trip; then the other actuators must end the fault alone.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  relayStuck: {
    fault: "relayStuck",
    parts: ["protection"],
    name: "T/R relay sticks",
    what: "The antenna relay stays closed when it is released.",
    does: "Nothing until a trip; then the antenna stays connected.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  contactorOnly: {
    fault: "contactorOnly",
    parts: ["protection"],
    name: "Contactor acts alone",
    what: "Trips open the high-voltage contactor and nothing else.",
    does: "Nothing until a trip; then drive stays on, the arc burns on from the filter capacitor and grid current climbs.",
    gives: "Only a test of the chain, or the next trip.",
    caution:
      "Taking plate voltage away under drive is harmful by itself; no scheme should rely on it.",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
};
