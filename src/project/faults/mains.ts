/** Faults of the mains, and of what stands between them and the filter: step-start, bleeder, fuse. */
import { type FaultRows, PRESENT } from "./kind";

export const MAINS_FAULTS: FaultRows<
  "mainsDip" | "mainsLevel" | "stepStartStuck" | "bleederOpen" | "fuseTooLarge"
> = {
  mainsDip: {
    fault: "mainsDip",
    parts: ["supply"],
    name: "Mains dip",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the line voltage that is gone",
      unit: "",
      usual: 0.3,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
    usualOnset: { kind: "passing", forS: 0.2 },
  },
  mainsLevel: {
    fault: "mainsLevel",
    parts: ["supply"],
    name: "Mains high or low",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "line voltage over nominal",
      unit: "",
      usual: 0.9,
      min: 0.7,
      max: 1.2,
      adjustable: true,
    },
  },
  stepStartStuck: {
    fault: "stepStartStuck",
    parts: ["supply"],
    name: "Step-start stuck",
    neverByHand: false,
    latent: false,
    severity: PRESENT,
  },
  bleederOpen: {
    fault: "bleederOpen",
    parts: ["supply"],
    name: "Bleeder open",
    neverByHand: true,
    latent: true,
    severity: PRESENT,
  },
  fuseTooLarge: {
    fault: "fuseTooLarge",
    parts: ["supply"],
    name: "Fuse too large",
    neverByHand: false,
    latent: true,
    severity: {
      meaning: "multiple of the melting integral that belongs there",
      unit: "",
      usual: 10,
      min: 1,
      max: 1000,
      adjustable: true,
    },
  },
};
