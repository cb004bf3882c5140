/** Sensors and actuators of the demonstration station and one monitor, until the presets are in place. */
import type { Actuators, MonitorDef, SensorDef, Sensors } from "./types";

function sensor(
  timeConstantS: number,
  fullScale: number,
  noiseFraction: number,
  directivityDb: number | null,
): SensorDef {
  return {
    timeConstantS,
    fullScale,
    bits: 12,
    gainError: 0,
    offset: 0,
    noiseFraction,
    directivityDb,
  };
}

export const DEFAULT_SENSORS: Sensors = {
  driveForwardW: sensor(0.2e-3, 250, 5e-4, 25),
  driveReflectedW: sensor(0.2e-3, 250, 5e-4, 25),
  outputForwardW: sensor(0.2e-3, 2500, 5e-4, 30),
  outputReflectedW: sensor(0.2e-3, 1000, 5e-4, 30),
  plateCurrentA: sensor(0.3e-3, 2.5, 0, null),
  gridCurrentA: sensor(0.3e-3, 1, 0, null),
  plateV: sensor(1e-3, 5000, 0, null),
  plateRfPeakV: sensor(50e-6, 6000, 0, null),
  comparatorTap: { timeConstantS: 20e-6, fullScaleA: 10 },
};

export const DEFAULT_ACTUATORS: Actuators = {
  driveInhibit: { delayS: 0.2e-3 },
  cathodeCutoff: {
    delayS: 0.1e-3,
    kind: "resistor",
    resistorOhm: 10e3,
    bypassF: 10e-9,
    stepV: 100,
  },
  transmitReceive: { releaseS: 8e-3, waitBelowW: 10, waitAtMostS: 30e-3 },
  contactor: { delayS: 25e-3 },
};

export const PRESET_MONITORS: readonly MonitorDef[] = [
  {
    id: "lowGain",
    name: "Low gain",
    deviceNumber: "",
    role: "acting",
    tuneRole: "shadow",
    path: "scanned",
    scanS: 1e-3,
    smoothingS: 2e-3,
    arming: {
      kind: "onAir",
      driveAboveW: 5,
      settledS: 10e-3,
      holdS: 0.1,
      when: [],
      afterSupplyReadyS: 0,
    },
    blankingS: 0,
    criteria: [
      {
        quantity: "gainDeviationDb",
        side: "under",
        pickup: -2,
        dropOff: -1.5,
        timing: { kind: "definite", delayS: 2e-3 },
        when: [],
      },
    ],
    alarm: { quantity: "gainDeviationDb", side: "under", level: -1.2, delayS: 0.5 },
    actions: ["driveInhibit", "cathodeCutoff", "transmitReceive"],
    reset: { kind: "byHand", afterS: 0, tries: 0, withinS: 0, repeatWithinS: 60, when: [] },
  },
];
