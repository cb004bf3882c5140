/** Faults of the load: antenna, line, what moves them, and the contact that leads there. */
import { type FaultRows, PRESENT } from "./kind";

const RESONANCE_SHARE = {
  unit: "",
  min: 0.001,
  adjustable: true,
} as const;

type LoadFault =
  | "openLoad"
  | "shortLoad"
  | "feedPointBroken"
  | "wrongAntenna"
  | "antennaChanged"
  | "ice"
  | "sway"
  | "gust"
  | "relayOpens";

export const LOAD_FAULTS: FaultRows<LoadFault> = {
  openLoad: {
    fault: "openLoad",
    parts: ["load"],
    name: "Antenna lost",
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "share of the load conductance that is lost; 1 leaves 20 µS",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
  shortLoad: {
    fault: "shortLoad",
    parts: ["load"],
    name: "Shorted line",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "resistance of the short",
      unit: "ohm",
      usual: 0.5,
      min: 0.05,
      max: 25,
      adjustable: true,
    },
  },
  feedPointBroken: {
    fault: "feedPointBroken",
    parts: ["load"],
    name: "Feed point broken",
    neverByHand: false,
    latent: false,
    onsets: ["sudden", "intermittent", "passing"],
    severity: PRESENT,
  },
  wrongAntenna: {
    fault: "wrongAntenna",
    parts: ["load"],
    name: "Wrong antenna",
    neverByHand: false,
    latent: false,
    onsets: ["sudden"],
    severity: {
      meaning: "resonance of that antenna, as a multiple of the right one's",
      unit: "",
      usual: 0.5,
      min: 0.05,
      max: 20,
      adjustable: true,
    },
  },
  antennaChanged: {
    fault: "antennaChanged",
    parts: ["load"],
    name: "Antenna changed under power",
    neverByHand: true,
    latent: false,
    onsets: ["sudden"],
    travelS: 15e-3, // a hand on a rotary switch; estimate
    severity: {
      meaning: "SWR of the other antenna, higher resistance",
      unit: "",
      usual: 2,
      min: 1,
      max: 50,
      adjustable: true,
    },
  },
  ice: {
    fault: "ice",
    parts: ["load"],
    name: "Ice on the antenna",
    neverByHand: false,
    latent: false,
    severity: {
      ...RESONANCE_SHARE,
      meaning: "share by which the resonance goes down",
      usual: 0.05,
      max: 0.3,
    },
    usualOnset: { kind: "growing", overS: 20 },
  },
  sway: {
    fault: "sway",
    parts: ["load"],
    name: "Antenna sways",
    neverByHand: false,
    latent: false,
    severity: {
      ...RESONANCE_SHARE,
      meaning: "largest share by which the resonance moves either way",
      usual: 0.01,
      max: 0.2,
    },
  },
  gust: {
    fault: "gust",
    parts: ["load"],
    name: "Gusts in the antenna",
    neverByHand: false,
    latent: false,
    severity: {
      ...RESONANCE_SHARE,
      meaning: "largest share by which the resonance moves either way",
      usual: 0.01,
      max: 0.2,
    },
  },
  relayOpens: {
    fault: "relayOpens",
    parts: ["outputContact"],
    name: "T/R relay opens under power",
    neverByHand: false,
    latent: false,
    onsets: ["sudden", "intermittent", "passing"],
    begins: "atOnce",
    severity: {
      meaning: "time the contacts take to part",
      unit: "s",
      usual: 3e-3,
      min: 0.5e-3,
      max: 20e-3,
      adjustable: true,
    },
  },
};
