/** Faults of the plate supply, and of what keeps it off the tank. */
import { type FaultRows, HIGH_VOLTAGE, PRESENT } from "./kind";

export const SUPPLY_FAULTS: FaultRows<
  "plateSupplyShort" | "plateSupplyLost" | "plateDcArc" | "blockingShorted" | "safetyChokeOpen"
> = {
  plateSupplyShort: {
    fault: "plateSupplyShort",
    parts: ["supply"],
    name: "Plate supply shorted",
    what: "The plate supply is shorted to ground behind the surge resistor, or a tube flashes over inside.",
    does: "The filter capacitor empties through the surge resistor in about a millisecond; then the mains feeds on.",
    gives:
      "The shunt in the high-voltage negative lead, in a fraction of a microsecond; the energy is gone before any scanned monitor can act.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "resistance of the short",
      unit: "ohm",
      usual: 5,
      min: 0.1,
      max: 1000,
      adjustable: true,
    },
  },
  plateSupplyLost: {
    fault: "plateSupplyLost",
    parts: ["supply"],
    name: "Plate supply lost",
    what: "The plate supply drops out while drive goes on.",
    does: "The filter empties; then all the cathode current goes to the grid.",
    gives:
      "Plate voltage falls in tens of milliseconds, grid current climbs to several times its rating.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "share of the no-load voltage that is gone",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
  plateDcArc: {
    fault: "plateDcArc",
    parts: ["supply"],
    name: "Arc ahead of the blocking capacitor",
    what: "The plate lead or the choke arcs to the chassis on the supply's side of the blocking capacitor.",
    does: "Direct current feeds the arc through the surge resistor, drive or no drive; the RF voltage does not pin it.",
    gives: "The shunt in the high-voltage negative lead, as with a short; the gain follows.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "voltage of the arc",
      unit: "V",
      usual: 200,
      min: 20,
      max: 1000,
      adjustable: true,
    },
  },
  blockingShorted: {
    fault: "blockingShorted",
    parts: ["tank"],
    name: "Blocking capacitor shorted",
    what: "The capacitor between plate and tank has broken down.",
    does: "The plate supply stands on the tank; the safety choke takes it to ground, a short through coil and choke.",
    gives:
      "Plate current in the high-voltage negative lead, as the safety choke is meant to make it.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: PRESENT,
  },
  safetyChokeOpen: {
    fault: "safetyChokeOpen",
    parts: ["tank"],
    name: "Safety choke open",
    what: "The choke from the output to ground is broken.",
    does: "Nothing, until the blocking capacitor shorts: then the plate supply stands on the antenna, and no monitor sees a current.",
    gives:
      "Only a resistance measured from the output to ground, with the station off and discharged.",
    caution: `${HIGH_VOLTAGE} With this choke gone, one shorted capacitor puts it on the antenna.`,
    neverByHand: true,
    latent: true,
    severity: PRESENT,
  },
};
