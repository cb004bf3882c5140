/** What a placed fault does to the live station; one function a fault, gathered by area. */
import type { LiveStation, StationParts } from "../../physics/stage/stationCircuit";
import type { Project } from "../../project/types";
import type { MovedFeeder } from "../liveLoad";
import type { Logic, PlacedFault } from "../logic";

/** The station at one instant while switches, knobs and faults are laid over it. One object, used again. */
export interface Scene {
  project: Project;
  parts: StationParts;
  logic: Logic;
  ns: number;
  live: LiveStation;
  /** What faults add to the tuning the knob shows, per unit of the adjustable part as designed. */
  detune: number;
  /** What faults make of antenna and line; the load in `live` has it once they are through. */
  readonly feeder: MovedFeeder;
}

/** Changes the scene by the fault at the `share` of it that is there, 0 to 1. Keeps nothing. */
export type Effect = (scene: Scene, f: PlacedFault, share: number) => void;
