/** Faults of the gaps that can arc. */
import type { FaultRows } from "./kind";

export const GAP_FAULTS: FaultRows<"insect" | "dust" | "arc"> = {
  insect: {
    fault: "insect",
    parts: ["tuningCapacitor", "loadingCapacitor", "bandSwitch"],
    name: "Insect in the gap",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the gap that is bridged",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
  dust: {
    fault: "dust",
    parts: ["tuningCapacitor", "loadingCapacitor", "bandSwitch", "outputContact"],
    name: "Dust and damp",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the gap that is lost",
      unit: "",
      usual: 0.7,
      min: 0.05,
      max: 0.95,
      adjustable: true,
    },
  },
  arc: {
    fault: "arc",
    parts: ["tuningCapacitor", "loadingCapacitor", "bandSwitch", "outputContact"],
    name: "Arc struck",
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "maintaining voltage, peak of the fundamental",
      unit: "V",
      usual: 250,
      min: 50,
      max: 1000,
      adjustable: true,
    },
    usualOn: { tuningCapacitor: 250, bandSwitch: 250, loadingCapacitor: 160, outputContact: 200 },
  },
};
