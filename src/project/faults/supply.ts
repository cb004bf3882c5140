/** Faults of the plate supply, and of what keeps it off the tank. */
import { type FaultRows, PRESENT } from "./kind";

export const SUPPLY_FAULTS: FaultRows<
  "plateSupplyShort" | "plateSupplyLost" | "plateDcArc" | "blockingShorted" | "safetyChokeOpen"
> = {
  plateSupplyShort: {
    fault: "plateSupplyShort",
    parts: ["supply"],
    name: "Plate supply shorted",
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
    neverByHand: true,
    latent: false,
    severity: PRESENT,
  },
  safetyChokeOpen: {
    fault: "safetyChokeOpen",
    parts: ["tank"],
    name: "Safety choke open",
    neverByHand: true,
    latent: true,
    severity: PRESENT,
  },
};
