/** Faults of the tubes and their bias. */
import type { FaultRows } from "./kind";

export const TUBE_FAULTS: FaultRows<"biasLost"> = {
  biasLost: {
    fault: "biasLost",
    parts: ["tube"],
    name: "Cathode bias lost",
    what: "The bias element in the cathode return is shorted.",
    does: "The idle current rises to what the perveance allows, and the plate heats even without drive.",
    gives: "Plate current and plate dissipation between words; nothing sudden.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the bias that is gone",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
};
