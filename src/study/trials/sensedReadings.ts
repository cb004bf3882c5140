/** Readings of the stage behind the sensors, in the order of SENSOR_NAMES, as far as the stage has them. */
import { READING } from "../../physics/stage/readings";

export const SENSED_READINGS: readonly number[] = [
  READING.driveW,
  READING.driveReflectedW,
  READING.forwardW,
  READING.reflectedW,
  READING.plateCurrentA,
  READING.gridCurrentA,
  READING.plateV,
  READING.plateRfPeakV,
];
