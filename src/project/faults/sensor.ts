/** Faults between a true value and its reading: one sensor, what several monitors share, and the scan itself. */
import type { SensorName } from "../protection";
import type { FaultName, PartName } from "../scenario";
import type { FaultRows, SeverityScale } from "./kind";
import { PRESENT } from "./kind";

/** In the order of a controller's readings; a sensor is the part its own faults are placed on. */
export const SENSOR_PARTS = [
  "plateCurrentA",
  "gridCurrentA",
  "plateV",
  "plateRfPeakV",
  "outputForwardW",
  "outputReflectedW",
  "driveForwardW",
  "driveReflectedW",
  "exhaustAirK",
  "tankLight",
] as const satisfies readonly (SensorName & PartName)[];

const GAIN_ERROR: SeverityScale = {
  meaning: "error of its gain, plus or minus",
  unit: "",
  usual: -0.3,
  min: -0.95,
  max: 2,
  adjustable: true,
};

/** What all of them share: they are no danger by themselves and wait for their call. */
const QUIET = { caution: "", neverByHand: false, latent: true } as const;

type SensorFault =
  | "sensorOpen"
  | "sensorStuck"
  | "sensorDrifts"
  | "outputDetectorLost"
  | "plateShuntLost"
  | "gridShuntLost"
  | "scanStopped";

export const SENSOR_FAULTS: FaultRows<SensorFault> = {
  sensorOpen: {
    ...QUIET,
    fault: "sensorOpen",
    parts: SENSOR_PARTS,
    name: "Sensor open",
    what: "The sensor's lead is off: it reads nothing at all.",
    does: "Whatever looks for too much of it is blind; whatever looks for too little of it acts at once.",
    gives:
      "Drive: output without drive, within its 10 ms. Forward power: low gain. Plate voltage: undervoltage. All others: nothing, until a fault that only they would have shown.",
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  sensorStuck: {
    ...QUIET,
    fault: "sensorStuck",
    parts: SENSOR_PARTS,
    name: "Sensor stuck",
    what: "The sensor goes on reading what it read last.",
    does: "What it shows looks healthy whatever happens.",
    gives:
      "A reading that does not move with the key. At the next key-up drive trips low gain, and forward power, plate and grid current trip output without drive; all others show nothing.",
    severity: PRESENT,
    onsets: ["sudden", "passing"],
  },
  sensorDrifts: {
    ...QUIET,
    fault: "sensorDrifts",
    parts: SENSOR_PARTS,
    name: "Sensor drifts",
    what: "The sensor's gain changes little by little.",
    does: "Every pickup on it moves by as much: later where it reads low, a false trip where it reads high.",
    gives:
      "A comparison with another instrument. Plate voltage that reads low ends in undervoltage, plate current that reads high in an overcurrent; the others show nothing by themselves until far out.",
    severity: GAIN_ERROR,
    onsets: ["sudden", "growing"],
    usualOnset: { kind: "growing", overS: 60 },
  },
  outputDetectorLost: {
    ...QUIET,
    fault: "outputDetectorLost",
    parts: ["protection"],
    name: "Output detector lost",
    what: "The supply of the output coupler's detectors is gone: forward and reflected power both read nothing.",
    does: "Reflected power is blind, plate dissipation reads too much, and the gain seems gone.",
    gives: "Low gain under drive, within milliseconds. Without drive nothing.",
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  plateShuntLost: {
    ...QUIET,
    fault: "plateShuntLost",
    parts: ["protection"],
    name: "Plate current shunt lost",
    what: "The shunt in the high-voltage negative lead is bridged: its sensor and the comparator's tap both read nothing.",
    does: "Both plate overcurrents and the plate dissipation are blind at one stroke.",
    gives:
      "A needle at zero under drive. A short of the supply is then left to undervoltage, if there is drive.",
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  gridShuntLost: {
    ...QUIET,
    fault: "gridShuntLost",
    parts: ["protection"],
    name: "Grid current shunt lost",
    what: "The shunt in the grid return is bridged.",
    does: "Both grid overcurrents are blind at one stroke, and so is output without drive to grid current.",
    gives:
      "A needle at zero under drive; an overdriven or lightly loaded grid shows nowhere else for long.",
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  scanStopped: {
    ...QUIET,
    fault: "scanStopped",
    parts: ["protection"],
    name: "Scan stopped",
    what: "The controller hangs: no scanned monitor is evaluated any more.",
    does: "Only the comparator on the plate current still acts.",
    gives: "A watchdog, where there is one, or the next fault.",
    severity: PRESENT,
    onsets: ["sudden", "passing"],
  },
};

/** The sensors a fault falsifies. */
export function sensorsHitBy(fault: FaultName, part: PartName): readonly SensorName[] {
  switch (fault) {
    case "sensorOpen":
    case "sensorStuck":
    case "sensorDrifts":
      return SENSOR_PARTS.filter((sensor) => sensor === part);
    case "outputDetectorLost":
      return ["outputForwardW", "outputReflectedW"];
    case "plateShuntLost":
      return ["plateCurrentA"];
    case "gridShuntLost":
      return ["gridCurrentA"];
    default:
      return [];
  }
}
