/** Faults of the gaps in words. */
import type { FaultWordRows } from "./kind";

export const GAP_WORDS = {
  insect: {
    what: "An insect or a hair bridges most of the air gap.",
    does: "The gap strikes at an RF voltage it would withstand when clean, and the arc feeds on the tank while every current stays near normal. Left to burn it melts a bead, and a bead that bridges the gap is a dead short: no output, all heat in the tube, until the fault is removed, which mends the part.",
    gives:
      "A fall of the gain within microseconds; plate dissipation rises seconds later, grid current falls.",
    caution:
      "Opening the lid to look means working beside a charged supply: switch off, discharge, verify.",
  },
  dust: {
    what: "Dust, salt or moisture narrows the gap.",
    does: "The gap withstands less, so that it strikes at a mistuned moment or on a voltage peak rather than at once.",
    gives: "Nothing until the strike; then the gain, as with any RF arc.",
    caution: "",
  },
  arc: {
    what: "An arc burns at this place from now on, however it was struck.",
    does: "It pins the RF peak at its place near the maintaining voltage and takes the power the circuit can feed it.",
    gives:
      "A fall of the gain, large at the tuning capacitor and small at the loading capacitor; beyond the coupler reflected power rises too.",
    caution:
      "An arc at the plate side throws molten metal and ultraviolet light; never strike one to see.",
  },
} satisfies FaultWordRows;
