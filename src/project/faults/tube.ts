/** Faults of the tubes and their bias. */
import { type FaultRows, HIGH_VOLTAGE } from "./kind";

export const TUBE_FAULTS: FaultRows<"biasLost" | "tubeFlashover"> = {
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
  tubeFlashover: {
    fault: "tubeFlashover",
    parts: ["tube"],
    name: "Flashover in the tube",
    what: "Plate and grid flash over inside the tube, once, as a little gas or a whisker lets them.",
    does: "The filter empties through surge resistor and arc; a few joules stay in the tube, the rest in the resistor. Then the mains feed the arc until somebody takes them away.",
    gives:
      "The shunt in the high-voltage negative lead, in a fraction of a microsecond; gone before any scanned monitor can act.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "voltage of the arc",
      unit: "V",
      usual: 50,
      min: 10,
      max: 300,
      adjustable: true,
    },
  },
};
