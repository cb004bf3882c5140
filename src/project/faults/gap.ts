/** Faults of the gaps that can arc. */
import type { FaultRows } from "./kind";

export const GAP_FAULTS: FaultRows<"insect" | "dust" | "arc"> = {
  insect: {
    fault: "insect",
    parts: ["tuningCapacitor", "loadingCapacitor", "bandSwitch"],
    name: "Insect in the gap",
    what: "An insect or a hair bridges most of the air gap.",
    does: "The gap strikes at an RF voltage it would withstand when clean, and the arc feeds on the tank while every current stays near normal. Left to burn it melts a bead, and a bead that bridges the gap is a dead short: no output, all heat in the tube, until the fault is removed, which mends the part.",
    gives:
      "A fall of the gain within microseconds; plate dissipation rises seconds later, grid current falls.",
    caution:
      "Opening the lid to look means working beside a charged supply: switch off, discharge, verify.",
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
    what: "Dust, salt or moisture narrows the gap.",
    does: "The gap withstands less, so that it strikes at a mistuned moment or on a voltage peak rather than at once.",
    gives: "Nothing until the strike; then the gain, as with any RF arc.",
    caution: "",
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
    what: "An arc burns at this place from now on, however it was struck.",
    does: "It pins the RF peak at its place near the maintaining voltage and takes the power the circuit can feed it.",
    gives:
      "A fall of the gain, large at the tuning capacitor and small at the loading capacitor; beyond the coupler reflected power rises too.",
    caution:
      "An arc at the plate side throws molten metal and ultraviolet light; never strike one to see.",
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
