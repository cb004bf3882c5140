/** Faults of the mains in words. */
import { type FaultWordRows, HIGH_VOLTAGE } from "./kind";

export const MAINS_WORDS = {
  mainsDip: {
    what: "The line voltage falls for a short time, as when a motor starts nearby.",
    does: "The rectifier stops charging until the filter has come down to it; the filter carries the stage meanwhile.",
    gives: "Plate voltage; what is over before the undervoltage monitor has timed out passes.",
    caution: "",
  },
  mainsLevel: {
    what: "The line voltage stands above or below its nominal value for good.",
    does: "Plate voltage follows: low mains cost output, high mains raise RF voltage and idle current.",
    gives: "Plate voltage; gain by some tenths of a decibel.",
    caution: "",
  },
  stepStartStuck: {
    what: "The relay that bridges the inrush resistor stays open.",
    does: "The supply is up without load and sags under key, while the resistor takes the difference and burns.",
    gives: "Plate voltage under key; nothing in receive.",
    caution: HIGH_VOLTAGE,
  },
  bleederOpen: {
    what: "The bleeder across the filter is broken.",
    does: "Nothing while the supply runs; after switch-off the filter keeps its charge for as long as its own leakage lets it.",
    gives: "Only the plate voltage after switch-off: it does not fall.",
    caution: HIGH_VOLTAGE,
  },
  fuseTooLarge: {
    what: "A fuse with a larger melting integral stands in the high-voltage lead.",
    does: "Nothing until a short; then it melts later, or not at all.",
    gives: "Only a look at it, or the next short.",
    caution: HIGH_VOLTAGE,
  },
} satisfies FaultWordRows;
