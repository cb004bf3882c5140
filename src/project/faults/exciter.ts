/** Faults of the exciter, and of its order with the T/R relay. */
import type { FaultRows } from "./kind";

export const EXCITER_FAULTS: FaultRows<"overdrive" | "leadingEdge" | "alcLost" | "driveAhead"> = {
  overdrive: {
    fault: "overdrive",
    parts: ["exciter"],
    name: "Overdrive",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "multiple of the drive that was set",
      unit: "",
      usual: 3,
      min: 1,
      max: 5,
      adjustable: true,
    },
  },
  leadingEdge: {
    fault: "leadingEdge",
    parts: ["exciter"],
    name: "Power spike at key-down",
    neverByHand: false,
    latent: false,
    onsets: ["sudden"],
    begins: "withDrive",
    severity: {
      meaning: "power over the drive that was set, at the first instant",
      unit: "dB",
      usual: 3,
      min: 0.5,
      max: 12,
      adjustable: true,
    },
  },
  alcLost: {
    fault: "alcLost",
    parts: ["exciter"],
    name: "Level control lost",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "the exciter's full power, as a multiple of the drive that was set",
      unit: "",
      usual: 2,
      min: 1,
      max: 5,
      adjustable: true,
    },
  },
  driveAhead: {
    fault: "driveAhead",
    parts: ["exciter"],
    name: "Exciter ahead of the relay",
    neverByHand: false,
    latent: false,
    onsets: ["sudden"],
    begins: "withDrive",
    severity: {
      meaning: "time by which the drive is ahead of the antenna relay",
      unit: "s",
      usual: 6e-3,
      min: 0.5e-3,
      max: 50e-3,
      adjustable: true,
    },
  },
};
