/** Faults of the protection itself in words. */
import { type FaultWordRows, HIGH_VOLTAGE } from "./kind";

export const PROTECTION_WORDS = {
  driveInhibitFailed: {
    what: "The command to stop the drive is given, and the drive goes on.",
    does: "Nothing until a trip; then the other actuators must end the fault alone.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
  },
  relayStuck: {
    what: "The antenna relay stays closed when it is released.",
    does: "Nothing until a trip; then the antenna stays connected.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
  },
  contactorOnly: {
    what: "Trips open the high-voltage contactor and nothing else.",
    does: "Nothing until a trip; then drive stays on, the arc burns on from the filter capacitor and grid current climbs.",
    gives: "Only a test of the chain, or the next trip.",
    caution:
      "Taking plate voltage away under drive is harmful by itself; no scheme should rely on it.",
  },
  contactorSlow: {
    what: "The high-voltage contactor drops out late: sticky armature, or a diode across its coil.",
    does: "Nothing until a trip; then the mains feed the fault for longer.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
  },
  contactorWelded: {
    what: "The contacts of the high-voltage contactor have welded together.",
    does: "Nothing until a trip or an open lid; then the plate supply stays on.",
    gives: "Only a test of the chain, or the next trip.",
    caution: `${HIGH_VOLTAGE} An interlock that opens a welded contactor protects nobody.`,
  },
  crowbarFails: {
    what: "The crowbar, where one is fitted, is commanded and stays dark.",
    does: "Nothing until a trip; then the filter empties into the fault.",
    gives: "Only a test of the chain, or the next trip.",
    caution: HIGH_VOLTAGE,
  },
  relayStaysOpen: {
    what: "At the next key-down the antenna contact stays open, while the contact that confirms it closes.",
    does: "The drive works into a tank without a load: plate RF voltage and grid current rise.",
    gives: "Plate RF voltage, as with an antenna that is lost, at the head of the key-down.",
    caution: "",
  },
} satisfies FaultWordRows;
