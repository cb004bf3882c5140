/** Faults of the plate supply and of the mains behind it. */
import { type FaultRows, HIGH_VOLTAGE } from "./kind";

export const SUPPLY_FAULTS: FaultRows<"plateSupplyShort" | "plateSupplyLost"> = {
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
};
