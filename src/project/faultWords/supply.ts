/** Faults of the plate supply in words. */
import { type FaultWordRows, HIGH_VOLTAGE } from "./kind";

export const SUPPLY_WORDS = {
  plateSupplyShort: {
    what: "The plate supply is shorted to ground behind the surge resistor, or a tube flashes over inside.",
    does: "The filter capacitor empties through the surge resistor in about a millisecond; then the mains feeds on.",
    gives:
      "The shunt in the high-voltage negative lead, in a fraction of a microsecond; the energy is gone before any scanned monitor can act.",
    caution: HIGH_VOLTAGE,
  },
  plateSupplyLost: {
    what: "The plate supply drops out while drive goes on.",
    does: "The filter empties; then all the cathode current goes to the grid.",
    gives:
      "Plate voltage falls in tens of milliseconds, grid current climbs to several times its rating.",
    caution: HIGH_VOLTAGE,
  },
  plateDcArc: {
    what: "The plate lead or the choke arcs to the chassis on the supply's side of the blocking capacitor.",
    does: "Direct current feeds the arc through the surge resistor, drive or no drive; the RF voltage does not pin it.",
    gives: "The shunt in the high-voltage negative lead, as with a short; the gain follows.",
    caution: HIGH_VOLTAGE,
  },
  blockingShorted: {
    what: "The capacitor between plate and tank has broken down.",
    does: "The plate supply stands on the tank; the safety choke takes it to ground, a short through coil and choke.",
    gives:
      "Plate current in the high-voltage negative lead, as the safety choke is meant to make it.",
    caution: HIGH_VOLTAGE,
  },
  safetyChokeOpen: {
    what: "The choke from the output to ground is broken.",
    does: "Nothing, until the blocking capacitor shorts: then the plate supply stands on the antenna, and no monitor sees a current.",
    gives:
      "Only a resistance measured from the output to ground, with the station off and discharged.",
    caution: `${HIGH_VOLTAGE} With this choke gone, one shorted capacitor puts it on the antenna.`,
  },
} satisfies FaultWordRows;
