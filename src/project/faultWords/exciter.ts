/** Faults of the exciter in words. */
import type { FaultWordRows } from "./kind";

export const EXCITER_WORDS = {
  overdrive: {
    what: "The exciter gives more than the full drive, as when its level control overshoots.",
    does: "Grid current rises steeply while the gain compresses.",
    gives: "Drive power and grid current; gain falls by a decibel or two at three times the drive.",
    caution:
      "Grid wires of a high-mu triode are lost within seconds at several times their rating.",
  },
  leadingEdge: {
    what: "The exciter starts every key-down with too much power, which passes within 10 ms.",
    does: "Drive and grid current peak at the head of each dot; nothing is wrong afterwards.",
    gives: "Hardly anything: at 3 dB it is over before a confirmed monitor acts.",
    caution: "",
  },
  alcLost: {
    what: "The line that holds the exciter's power back is broken, and the exciter gives what it can.",
    does: "Drive rises to the exciter's own full power; nothing takes it back when output or grid current rise.",
    gives: "Drive power and grid current.",
    caution: "",
  },
  driveAhead: {
    what: "Exciter and bias come with the key, before the antenna relay has closed.",
    does: "At the head of each transmission the tank is driven without a load, and the relay closes on full RF voltage.",
    gives:
      "Plate RF voltage, if its monitor looks that early; low gain waits for the relay and sees nothing.",
    caution: "",
  },
} satisfies FaultWordRows;
