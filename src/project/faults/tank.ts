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
    what: "The tuning has been left, or has moved, off its dip.",
    does: "The plate sees a reactive load: less output, and the difference heats the plate.",
    gives: "Gain and plate dissipation; at small errors nothing but warmth.",
    caution: "",
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
    what: "The loading capacitor is meshed too far, and the tuning dipped again.",
    does: "The plate sees too high a load resistance: its RF voltage and the grid current rise.",
    gives: "Grid current, first by far; then plate RF voltage.",
    caution: "",
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
    what: "The loading capacitor is opened too far, and the tuning dipped again.",
    does: "The plate sees too low a load resistance: gain falls, grid current falls, the plate warms.",
    gives: "Gain, by a decibel or two, and plate dissipation.",
    caution: "",
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
    what: "The band switch stands on another band: its coil, with both capacitors where they are.",
    does: "The tank is far from resonance; the plate sees next to no load resistance and turns its input into heat.",
    gives: "Gain, at once; then plate dissipation.",
    caution: "",
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
    what: "The band switch is turned while transmitting: 20 ms from one contact to the next.",
    does: "The coil's current breaks at the contact and draws an arc at the tap; afterwards another band's coil is in.",
    gives: "Gain, as with any arc of the tank; if the arc is out, gain again, from the wrong band.",
    caution: "Never turn a band switch under power: its contacts are made to carry, not to break.",
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
    what: "A turn of the tank coil touches its neighbour.",
    does: "The coil loses inductance and gains loss: the tank is off resonance, and the turn itself gets hot.",
    gives: "Gain; a new dip can be found, but the missing output stays in the coil.",
    caution: "",
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
    what: "Rotor and stator of a variable capacitor touch; the blocking capacitor keeps the plate supply off.",
    does: "The RF voltage there is shorted: no output, and the input heats plate and tank.",
    gives: "Gain, at once; plate and grid current stay near normal.",
    caution: "",
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
    what: "The loading capacitor, or a padder beside it, has lost its connection.",
    does: "The plate is loaded far too heavily and the tank is off resonance.",
    gives: "Gain, at once; then plate dissipation.",
    caution: "",
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
