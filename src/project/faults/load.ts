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
    what: "The antenna or its line comes off while transmitting.",
    does: "The tank is no longer loaded: its RF voltage overshoots and stays high, the plate swings below the cathode, and grid current and reflected power rise. Where it makes and breaks, an arc burns at the contact and holds the voltage down.",
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
  feedPointBroken: {
    fault: "feedPointBroken",
    parts: ["load"],
    name: "Feed point broken",
    what: "The antenna comes off at the far end of its line, and the line hangs open.",
    does: "All power comes back through the line; what the tank sees depends on the line's length, anything from an open to a short, and a lossy line hides part of it.",
    gives: "Reflected power; behind a long thin line less of it than one expects.",
    caution: "",
    neverByHand: false,
    latent: false,
    onsets: ["sudden", "intermittent", "passing"],
    severity: PRESENT,
  },
  wrongAntenna: {
    fault: "wrongAntenna",
    parts: ["load"],
    name: "Wrong antenna",
    what: "An antenna for another band is on the line.",
    does: "It is far from resonance here, so nearly everything comes back and the tank sees a reactance.",
    gives:
      "Reflected power and VSWR; depending on the angle, plate RF voltage or grid current first.",
    caution: "",
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
    what: "The antenna selector is turned while transmitting: no load for 15 ms, then another antenna.",
    does: "For the switch's travel the tank is unloaded and the contacts draw an arc; afterwards the load is another one.",
    gives:
      "Reflected power, after 20 ms: the arc holds the output voltage down, so plate RF voltage stays silent.",
    caution:
      "Never turn an antenna selector under power: its contacts are made to carry, not to break.",
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
    what: "Ice or wet snow gathers on the wire. It takes an hour; let it grow within seconds here.",
    does: "The resonance goes down and the SWR up; the tank is loaded wrongly.",
    gives: "Reflected power and VSWR, or grid current, slowly enough for an alarm to come first.",
    caution: "",
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
    what: "The antenna swings in the wind, once in three seconds.",
    does: "The resonance goes up and down, and the load with it.",
    gives: "Meters that breathe; with a wide swing reflected power or grid current at its ends.",
    caution: "",
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
    what: "Gusts pull the antenna about, another way every 0.7 s.",
    does: "The resonance wanders, and the load with it.",
    gives: "Nothing regular: now and then reflected power or grid current.",
    caution: "",
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
    what: "The antenna relay drops out while the exciter sends, from a lost coil supply or a bad keying line.",
    does: "The parting contacts draw an arc that is carried over to the receive side, and the tank loses its load.",
    gives:
      "Reflected power; the arc keeps the output voltage down, so plate RF voltage may stay below its pickup.",
    caution: "",
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
