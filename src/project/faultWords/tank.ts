/** Faults of the tank circuit in words. */
import type { FaultWordRows } from "./kind";

export const TANK_WORDS = {
  offResonance: {
    what: "The tuning has been left, or has moved, off its dip.",
    does: "The plate sees a reactive load: less output, and the difference heats the plate.",
    gives: "Gain and plate dissipation; at small errors nothing but warmth.",
    caution: "",
  },
  lightLoading: {
    what: "The loading capacitor is meshed too far, and the tuning dipped again.",
    does: "The plate sees too high a load resistance: its RF voltage and the grid current rise.",
    gives: "Grid current, first by far; then plate RF voltage.",
    caution: "",
  },
  heavyLoading: {
    what: "The loading capacitor is opened too far, and the tuning dipped again.",
    does: "The plate sees too low a load resistance: gain falls, grid current falls, the plate warms.",
    gives: "Gain, by a decibel or two, and plate dissipation.",
    caution: "",
  },
  wrongBand: {
    what: "The band switch stands on another band: its coil, with both capacitors where they are.",
    does: "The tank is far from resonance; the plate sees next to no load resistance and turns its input into heat.",
    gives: "Gain, at once; then plate dissipation.",
    caution: "",
  },
  bandSwitchMoved: {
    what: "The band switch is turned while transmitting: 20 ms from one contact to the next.",
    does: "The coil's current breaks at the contact and draws an arc at the tap; afterwards another band's coil is in.",
    gives: "Gain, as with any arc of the tank; if the arc is out, gain again, from the wrong band.",
    caution: "Never turn a band switch under power: its contacts are made to carry, not to break.",
  },
  shortedTurn: {
    what: "A turn of the tank coil touches its neighbour.",
    does: "The coil loses inductance and gains loss: the tank is off resonance, and the turn itself gets hot.",
    gives: "Gain; a new dip can be found, but the missing output stays in the coil.",
    caution: "",
  },
  platesTouch: {
    what: "Rotor and stator of a variable capacitor touch; the blocking capacitor keeps the plate supply off.",
    does: "The RF voltage there is shorted: no output, and the input heats plate and tank.",
    gives: "Gain, at once; plate and grid current stay near normal.",
    caution: "",
  },
  loadingOpen: {
    what: "The loading capacitor, or a padder beside it, has lost its connection.",
    does: "The plate is loaded far too heavily and the tank is off resonance.",
    gives: "Gain, at once; then plate dissipation.",
    caution: "",
  },
} satisfies FaultWordRows;
