/**
 * A project in plain data: the station, its sensors, monitors and actuators, and the scenario that is
 * played on it. All values are SI without prefixes; the unit is the end of each name. Nothing here
 * computes; `formats` checks that a file has this shape, everything above reads it.
 */

import type { Actuators, MonitorDef, Sensors } from "./protection";
import type { FaultName, PartName, ScenarioEntry } from "./scenario";
import type { Station } from "./station";

/** A fault that a designer has looked at and accepts as it is. */
export interface AcceptedFault {
  readonly fault: FaultName;
  readonly part: PartName;
  /** On this band only; on all where it is left out. */
  readonly band?: string;
  readonly reason: string;
}

export interface Project {
  readonly format: "quietarc-project";
  readonly schemaVersion: 1;
  readonly title: string;
  /** Seed of the sensor noise; the same seed gives the same record, bit for bit. */
  readonly seed: number;
  /** Grid step in seconds, a whole number of nanoseconds. */
  readonly sampleNs: number;
  /** End of the scenario when it is run in one go. */
  readonly endS: number;
  /** When a person is taken to have opened the key, from the fault's time zero. */
  readonly operatorS: number;
  readonly station: Station;
  readonly sensors: Sensors;
  readonly monitors: readonly MonitorDef[];
  readonly actuators: Actuators;
  readonly scenario: readonly ScenarioEntry[];
  /** What the scheme need not cover, each with the reason. */
  readonly accepted: readonly AcceptedFault[];
  readonly notes: string;
}
