/** Faults of the sensing in words. */
import type { FaultWordRows } from "./kind";

export const SENSOR_WORDS = {
  sensorOpen: {
    what: "The sensor's lead is off: it reads nothing at all.",
    does: "Whatever looks for too much of it is blind; whatever looks for too little of it acts at once.",
    gives:
      "Drive: output without drive, within its 10 ms. Forward power: low gain. Plate voltage: undervoltage. All others: nothing, until a fault that only they would have shown.",
    caution: "",
  },
  sensorStuck: {
    what: "The sensor goes on reading what it read last.",
    does: "What it shows looks healthy whatever happens.",
    gives:
      "A reading that does not move with the key. At the next key-up drive trips low gain, and forward power, plate and grid current trip output without drive; all others show nothing.",
    caution: "",
  },
  sensorDrifts: {
    what: "The sensor's gain changes little by little.",
    does: "Every pickup on it moves by as much: later where it reads low, a false trip where it reads high.",
    gives:
      "A comparison with another instrument. Plate voltage that reads low ends in undervoltage, plate current that reads high in an overcurrent; the others show nothing by themselves until far out.",
    caution: "",
  },
  outputDetectorLost: {
    what: "The supply of the output coupler's detectors is gone: forward and reflected power both read nothing.",
    does: "Reflected power is blind, plate dissipation reads too much, and the gain seems gone.",
    gives: "Low gain under drive, within milliseconds. Without drive nothing.",
    caution: "",
  },
  plateShuntLost: {
    what: "The shunt in the high-voltage negative lead is bridged: its sensor and the comparator's tap both read nothing.",
    does: "Both plate overcurrents and the plate dissipation are blind at one stroke.",
    gives:
      "A needle at zero under drive. A short of the supply is then left to undervoltage, if there is drive.",
    caution: "",
  },
  gridShuntLost: {
    what: "The shunt in the grid return is bridged.",
    does: "Both grid overcurrents are blind at one stroke, and so is output without drive to grid current.",
    gives:
      "A needle at zero under drive; an overdriven or lightly loaded grid shows nowhere else for long.",
    caution: "",
  },
  scanStopped: {
    what: "The controller hangs: no scanned monitor is evaluated any more.",
    does: "Only the comparator on the plate current still acts.",
    gives: "A watchdog, where there is one, or the next fault.",
    caution: "",
  },
} satisfies FaultWordRows;
