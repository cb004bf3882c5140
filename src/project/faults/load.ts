/** Faults of the load: antenna, line and what moves them. */
import type { FaultRows } from "./kind";

export const LOAD_FAULTS: FaultRows<"openLoad" | "shortLoad"> = {
  openLoad: {
    fault: "openLoad",
    parts: ["load"],
    name: "Antenna lost",
    what: "The antenna or its line comes off while transmitting.",
    does: "The tank is no longer loaded: its RF voltage overshoots and stays high, the plate swings below the cathode, and grid current and reflected power rise.",
    gives:
      "Reflected power, grid current and plate RF voltage; forward gain stays near normal, so low gain is silent.",
    caution:
      "Never pull a connector under power: it burns fingers and arcs at the relay and the loading capacitor.",
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "share of the load conductance that is lost; 1 leaves 20 uS",
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
    what: "The feed line or connector is shorted behind the coupler.",
    does: "The tank sees almost no resistance; power comes back, the plate load is wrong and the plate heats.",
    gives: "Reflected power and VSWR, within milliseconds.",
    caution: "",
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
};
