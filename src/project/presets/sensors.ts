/**
 * Default sensors and actuators of the demonstration station: data, no code.
 *
 * Standing: a practitioner's judgement or common practice, without a published source. Sensor errors are 0 by default
 * and varied in trials within the tolerances given beside them; [E] marks an estimate.
 */
import type { Actuators, SensorDef, Sensors } from "../protection";

const COUPLER_NOISE = 0.0005; // of full scale

function sensor(timeConstantS: number, fullScale: number, noiseFraction = 0): SensorDef {
  return {
    timeConstantS,
    fullScale,
    bits: 12,
    gainError: 0,
    offset: 0,
    noiseFraction,
    directivityDb: null,
  };
}

export const DEFAULT_SENSORS: Sensors = {
  driveForwardW: { ...sensor(0.2e-3, 250, COUPLER_NOISE), directivityDb: 25 },
  driveReflectedW: { ...sensor(0.2e-3, 250, COUPLER_NOISE), directivityDb: 25 },
  outputForwardW: { ...sensor(0.2e-3, 2500, COUPLER_NOISE), directivityDb: 30 },
  outputReflectedW: { ...sensor(0.2e-3, 1000, COUPLER_NOISE), directivityDb: 30 },
  plateCurrentA: sensor(0.3e-3, 2.5), // gain within 1 % in trials
  gridCurrentA: sensor(0.3e-3, 1), // 1 %
  plateV: sensor(1e-3, 5000), // 1 %
  plateRfPeakV: sensor(50e-6, 6000), // 3 %
  exhaustAirK: sensor(3, 473.15), // a bead in the air stream, 0 to 200 degC [E]
  tankLight: sensor(20e-6, 1, 0.002), // photodiode and amplifier [E]
  comparatorTap: { timeConstantS: 20e-6, fullScaleA: 10 },
};

export const DEFAULT_ACTUATORS: Actuators = {
  // solid state; through an exciter's inhibit line 5-20 ms
  driveInhibit: { delayS: 0.2e-3, earliestRatio: 0.5, latestRatio: 2.5 },
  cathodeCutoff: {
    delayS: 0.1e-3,
    earliestRatio: 1,
    latestRatio: 1,
    kind: "resistor",
    resistorOhm: 10e3,
    bypassF: 10e-9,
    stepV: 100,
  },
  // a vacuum relay takes 3 ms, an open frame 15 ms
  transmitReceive: {
    releaseS: 8e-3,
    earliestRatio: 0.375,
    latestRatio: 1.875,
    waitBelowW: 10,
    waitAtMostS: 30e-3,
  },
  contactor: { delayS: 25e-3, earliestRatio: 0.6, latestRatio: 1.6 }, // 15-40 ms
  // a triggered gap or thyratron fires in some 20 us; half an ohm of leads and limiting resistor [E]
  crowbar: { fitted: false, delayS: 20e-6, earliestRatio: 1, latestRatio: 1, resistanceOhm: 0.5 },
};
