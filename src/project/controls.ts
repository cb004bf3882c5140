/** How far the knobs go, for whoever turns one: the project file and a person's command. */
import type { ControlName } from "./scenario";

export interface ControlRange {
  readonly min: number;
  readonly max: number;
  /** Empty for a plain ratio. */
  readonly unit: string;
}

export const CONTROL_RANGES: Readonly<Record<ControlName, ControlRange>> = {
  driveW: { min: 0, max: 1e4, unit: "W" },
  tuningRatio: { min: 0.1, max: 5, unit: "" },
  loadingRatio: { min: 0.1, max: 5, unit: "" },
  loadSwr: { min: 1, max: 1000, unit: "" },
  loadPhaseRad: { min: -7, max: 7, unit: "rad" },
};
