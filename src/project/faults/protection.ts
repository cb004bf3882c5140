/** Faults of the protection itself. */
import { type FaultRows, PRESENT } from "./kind";

export const PROTECTION_FAULTS: FaultRows<
  | "driveInhibitFailed"
  | "relayStuck"
  | "contactorOnly"
  | "contactorSlow"
  | "contactorWelded"
  | "crowbarFails"
  | "relayStaysOpen"
> = {
  driveInhibitFailed: {
    fault: "driveInhibitFailed",
    parts: ["protection"],
    name: "Drive inhibit fails",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  relayStuck: {
    fault: "relayStuck",
    parts: ["protection"],
    name: "T/R relay sticks",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  contactorOnly: {
    fault: "contactorOnly",
    parts: ["protection"],
    name: "Contactor acts alone",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  contactorSlow: {
    fault: "contactorSlow",
    parts: ["protection"],
    name: "Contactor slow",
    neverByHand: false,
    latent: true,
    severity: {
      meaning: "multiple of its usual delay",
      unit: "",
      usual: 4,
      min: 1,
      max: 50,
      adjustable: true,
    },
  },
  contactorWelded: {
    fault: "contactorWelded",
    parts: ["protection"],
    name: "Contactor welded",
    neverByHand: true,
    latent: true,
    severity: PRESENT,
  },
  crowbarFails: {
    fault: "crowbarFails",
    parts: ["protection"],
    name: "Crowbar does not fire",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  relayStaysOpen: {
    fault: "relayStaysOpen",
    parts: ["protection"],
    name: "T/R relay does not close",
    neverByHand: false,
    latent: false,
    begins: "withDrive",
    onsets: ["sudden"],
    severity: PRESENT,
  },
};
