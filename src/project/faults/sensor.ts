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
const QUIET = { neverByHand: false, latent: true } as const;

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
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  sensorStuck: {
    ...QUIET,
    fault: "sensorStuck",
    parts: SENSOR_PARTS,
    name: "Sensor stuck",
    severity: PRESENT,
    onsets: ["sudden", "passing"],
  },
  sensorDrifts: {
    ...QUIET,
    fault: "sensorDrifts",
    parts: SENSOR_PARTS,
    name: "Sensor drifts",
    severity: GAIN_ERROR,
    onsets: ["sudden", "growing"],
    usualOnset: { kind: "growing", overS: 60 },
  },
  outputDetectorLost: {
    ...QUIET,
    fault: "outputDetectorLost",
    parts: ["protection"],
    name: "Output detector lost",
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  plateShuntLost: {
    ...QUIET,
    fault: "plateShuntLost",
    parts: ["protection"],
    name: "Plate current shunt lost",
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  gridShuntLost: {
    ...QUIET,
    fault: "gridShuntLost",
    parts: ["protection"],
    name: "Grid current shunt lost",
    severity: PRESENT,
    onsets: ["sudden", "intermittent", "passing"],
  },
  scanStopped: {
    ...QUIET,
    fault: "scanStopped",
    parts: ["protection"],
    name: "Scan stopped",
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
