/** Faults of the load in words. */
import type { FaultWordRows } from "./kind";

export const LOAD_WORDS = {
  openLoad: {
    what: "The antenna or its line comes off while transmitting.",
    does: "The tank is no longer loaded: its RF voltage overshoots and stays high, the plate swings below the cathode, and grid current and reflected power rise. Where it makes and breaks, an arc burns at the contact and holds the voltage down.",
    gives:
      "Reflected power, grid current and plate RF voltage; forward gain stays near normal, so low gain is silent.",
    caution:
      "Never pull a connector under power: it burns fingers and arcs at the relay and the loading capacitor.",
  },
  shortLoad: {
    what: "The feed line or connector is shorted behind the coupler.",
    does: "The tank sees almost no resistance; power comes back, the plate load is wrong and the plate heats.",
    gives: "Reflected power and VSWR, within milliseconds.",
    caution: "",
  },
  feedPointBroken: {
    what: "The antenna comes off at the far end of its line, and the line hangs open.",
    does: "All power comes back through the line; what the tank sees depends on the line's length, anything from an open to a short, and a lossy line hides part of it.",
    gives: "Reflected power; behind a long thin line less of it than one expects.",
    caution: "",
  },
  wrongAntenna: {
    what: "An antenna for another band is on the line.",
    does: "It is far from resonance here, so nearly everything comes back and the tank sees a reactance.",
    gives:
      "Reflected power and VSWR; depending on the angle, plate RF voltage or grid current first.",
    caution: "",
  },
  antennaChanged: {
    what: "The antenna selector is turned while transmitting: no load for 15 ms, then another antenna.",
    does: "For the switch's travel the tank is unloaded and the contacts draw an arc; afterwards the load is another one.",
    gives:
      "Reflected power, after 20 ms: the arc holds the output voltage down, so plate RF voltage stays silent.",
    caution:
      "Never turn an antenna selector under power: its contacts are made to carry, not to break.",
  },
  ice: {
    what: "Ice or wet snow gathers on the wire. It takes an hour; let it grow within seconds here.",
    does: "The resonance goes down and the SWR up; the tank is loaded wrongly.",
    gives: "Reflected power and VSWR, or grid current, slowly enough for an alarm to come first.",
    caution: "",
  },
  sway: {
    what: "The antenna swings in the wind, once in three seconds.",
    does: "The resonance goes up and down, and the load with it.",
    gives: "Meters that breathe; with a wide swing reflected power or grid current at its ends.",
    caution: "",
  },
  gust: {
    what: "Gusts pull the antenna about, another way every 0.7 s.",
    does: "The resonance wanders, and the load with it.",
    gives: "Nothing regular: now and then reflected power or grid current.",
    caution: "",
  },
  relayOpens: {
    what: "The antenna relay drops out while the exciter sends, from a lost coil supply or a bad keying line.",
    does: "The parting contacts draw an arc that is carried over to the receive side, and the tank loses its load.",
    gives:
      "Reflected power; the arc keeps the output voltage down, so plate RF voltage may stay below its pickup.",
    caution: "",
  },
} satisfies FaultWordRows;
