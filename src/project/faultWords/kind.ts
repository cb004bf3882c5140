/** What there is to say of a fault, in plain sentences. */
import type { FaultName } from "../scenario";

export interface FaultWords {
  /** What it is. */
  readonly what: string;
  /** What it does. */
  readonly does: string;
  /** What usually gives it away. */
  readonly gives: string;
  /** Empty where nobody is tempted. */
  readonly caution: string;
}

/** Words of one area. */
export type FaultWordRows = Readonly<Partial<Record<FaultName, FaultWords>>>;

/** What must be said of everything that touches the plate supply. */
export const HIGH_VOLTAGE =
  "High voltage kills, and a filter capacitor holds its charge after switch-off. Discharge, verify, and leave this to the simulation.";
