/** Faults of the protection itself. */
import { type FaultRows, HIGH_VOLTAGE, PRESENT } from "./kind";

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
  contactorSlow: {
    fault: "contactorSlow",
    parts: ["protection"],
    name: "Contactor slow",
    what: "The high-voltage contactor drops out late: sticky armature, or a diode across its coil.",
    does: "Nothing until a trip; then the mains feed the fault for longer.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
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
    what: "The contacts of the high-voltage contactor have welded together.",
    does: "Nothing until a trip or an open lid; then the plate supply stays on.",
    gives: "Only a test of the chain, or the next trip.",
    caution: `${HIGH_VOLTAGE} An interlock that opens a welded contactor protects nobody.`,
    neverByHand: true,
    latent: true,
    severity: PRESENT,
  },
  crowbarFails: {
    fault: "crowbarFails",
    parts: ["protection"],
    name: "Crowbar does not fire",
    what: "The crowbar, where one is fitted, is commanded and stays dark.",
    does: "Nothing until a trip; then the filter empties into the fault.",
    gives: "Only a test of the chain, or the next trip.",
    caution: HIGH_VOLTAGE,
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  relayStaysOpen: {
    fault: "relayStaysOpen",
    parts: ["protection"],
    name: "T/R relay does not close",
    what: "At the next key-down the antenna contact stays open, while the contact that confirms it closes.",
    does: "The drive works into a tank without a load: plate RF voltage and grid current rise.",
    gives: "Plate RF voltage, as with an antenna that is lost, at the head of the key-down.",
    caution: "",
    neverByHand: false,
    latent: false,
    begins: "withDrive",
    onsets: ["sudden"],
    severity: PRESENT,
  },
};
