/** Faults of the exciter. */
import type { FaultRows } from "./kind";

export const EXCITER_FAULTS: FaultRows<"overdrive"> = {
  overdrive: {
    fault: "overdrive",
    parts: ["exciter"],
    name: "Overdrive",
    what: "The exciter gives more than the full drive, as when its level control overshoots.",
    does: "Grid current rises steeply while the gain compresses.",
    gives: "Drive power and grid current; gain falls by a decibel or two at three times the drive.",
    caution:
      "Grid wires of a high-mu triode are lost within seconds at several times their rating.",
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
};
