/** Faults of the tank circuit and of who tunes it. */
import type { FaultRows, SeverityScale } from "./kind";

type TankFault =
  | "offResonance"
  | "lightLoading"
  | "heavyLoading"
  | "wrongBand"
  | "bandSwitchMoved"
  | "shortedTurn"
  | "platesTouch"
  | "loadingOpen";

const OTHER_BAND: SeverityScale = {
  meaning: "frequency of the band switched to, as a multiple of the one in use",
  unit: "",
  usual: 0.5,
  min: 0.05,
  max: 20,
  adjustable: true,
};

export const TANK_FAULTS: FaultRows<TankFault> = {
  offResonance: {
    fault: "offResonance",
    parts: ["tank"],
    name: "Tank off resonance",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "error of the adjustable part of the tuning capacitance, plus or minus",
      unit: "",
      usual: 0.1,
      min: -0.5,
      max: 0.5,
      adjustable: true,
    },
  },
  lightLoading: {
    fault: "lightLoading",
    parts: ["tank"],
    name: "Loaded too lightly",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "multiple of the matched loading capacitance",
      unit: "",
      usual: 1.5,
      min: 1,
      max: 3,
      adjustable: true,
    },
  },
  heavyLoading: {
    fault: "heavyLoading",
    parts: ["tank"],
    name: "Loaded too heavily",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "multiple of the matched loading capacitance",
      unit: "",
      usual: 0.7,
      min: 0.3,
      max: 1,
      adjustable: true,
    },
  },
  wrongBand: {
    fault: "wrongBand",
    parts: ["bandSwitch"],
    name: "Wrong band",
    neverByHand: false,
    latent: false,
    onsets: ["sudden"],
    begins: "atOnce",
    severity: OTHER_BAND,
  },
  bandSwitchMoved: {
    fault: "bandSwitchMoved",
    parts: ["bandSwitch"],
    name: "Band switch turned under power",
    neverByHand: true,
    latent: false,
    onsets: ["sudden"],
    begins: "atOnce",
    travelS: 20e-3, // a hand on a rotary switch; estimate
    severity: OTHER_BAND,
  },
  shortedTurn: {
    fault: "shortedTurn",
    parts: ["tank"],
    name: "Shorted coil turn",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the inductance that is lost",
      unit: "",
      usual: 0.1,
      min: 0.005,
      max: 0.6,
      adjustable: true,
    },
  },
  platesTouch: {
    fault: "platesTouch",
    parts: ["tuningCapacitor", "loadingCapacitor"],
    name: "Plates touch",
    neverByHand: false,
    latent: false,
    begins: "atOnce",
    severity: {
      meaning: "resistance where they touch",
      unit: "ohm",
      usual: 0.1,
      min: 0.01,
      max: 100,
      adjustable: true,
    },
  },
  loadingOpen: {
    fault: "loadingOpen",
    parts: ["loadingCapacitor"],
    name: "Loading capacitor open",
    neverByHand: false,
    latent: false,
    begins: "atOnce",
    severity: {
      meaning: "share of the loading capacitance that is lost",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
};
