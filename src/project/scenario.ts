/**
 * Faults and what is done to a station, in plain data. All values are SI without prefixes.
 */
import type { MonitorRole, SensorName, Timing } from "./protection";

export type PartName =
  | "exciter"
  | "tube"
  | "supply"
  | "tuningCapacitor"
  | "bandSwitch"
  | "loadingCapacitor"
  | "tank"
  | "outputContact"
  | "load"
  | "protection"
  /** A sensor is the part its own faults are placed on. */
  | SensorName;

export type FaultName =
  | "openLoad"
  | "shortLoad"
  | "feedPointBroken"
  | "wrongAntenna"
  | "antennaChanged"
  | "ice"
  | "sway"
  | "gust"
  | "relayOpens"
  | "insect"
  | "dust"
  | "arc"
  | "overdrive"
  | "leadingEdge"
  | "alcLost"
  | "driveAhead"
  | "offResonance"
  | "lightLoading"
  | "heavyLoading"
  | "wrongBand"
  | "bandSwitchMoved"
  | "shortedTurn"
  | "platesTouch"
  | "loadingOpen"
  | "plateSupplyShort"
  | "biasLost"
  | "tubeAgeing"
  | "tubeOut"
  | "gassyTube"
  | "gridTouch"
  | "selfOscillation"
  | "airflowLost"
  | "plateSupplyLost"
  | "mainsDip"
  | "mainsLevel"
  | "stepStartStuck"
  | "bleederOpen"
  | "fuseTooLarge"
  | "plateDcArc"
  | "tubeFlashover"
  | "blockingShorted"
  | "safetyChokeOpen"
  | "driveInhibitFailed"
  | "relayStuck"
  | "contactorOnly"
  | "contactorSlow"
  | "contactorWelded"
  | "crowbarFails"
  | "relayStaysOpen"
  | "sensorOpen"
  | "sensorStuck"
  | "sensorDrifts"
  | "outputDetectorLost"
  | "plateShuntLost"
  | "gridShuntLost"
  | "scanStopped";

export type InterlockName = "lid" | "airflow";

/** How a fault comes: at once, in a straight line over a time, or coming and going. */
export type Onset =
  | { readonly kind: "sudden" }
  | { readonly kind: "growing"; readonly overS: number }
  /** There for this share of the time, on a pattern fixed by the project's seed. */
  | { readonly kind: "intermittent"; readonly share: number }
  /** There for this long, then gone for good. */
  | { readonly kind: "passing"; readonly forS: number };

/** Knobs a person can turn; they move as ramps of 50 ms. */
export type ControlName = "driveW" | "tuningRatio" | "loadingRatio" | "loadSwr" | "loadPhaseRad";

/** What the exciter sends while the key is down, as an envelope on the available drive. */
export type Signal =
  | { readonly signal: "carrier" }
  | { readonly signal: "twoTone"; readonly spacingHz: number }
  /** Another number, another talker; the same number says the same again. */
  | { readonly signal: "speech"; readonly talker: number }
  | {
      readonly signal: "processedSpeech";
      readonly talker: number;
      /** What is quiet is lifted by this much, the peak by nothing. */
      readonly processingDb: number;
    }
  /** Steady envelope at a share of the drive's power. */
  | { readonly signal: "data"; readonly powerShare: number };

export type Command =
  | { readonly do: "set"; readonly control: ControlName; readonly value: number }
  | { readonly do: "key"; readonly down: boolean }
  /** Morse sent with shaped edges (ITU-R M.1677-1 timing). */
  | { readonly do: "key"; readonly text: string; readonly wordsPerMinute: number }
  | ({ readonly do: "signal" } & Signal)
  | { readonly do: "operate" }
  | { readonly do: "standby" }
  /** Heater, fan and, once it is warm, plate supply; off leaves the fan running on. */
  | { readonly do: "power"; readonly on: boolean }
  /** A switch that lets the plate supply on while it is closed. */
  | { readonly do: "interlock"; readonly which: InterlockName; readonly closed: boolean }
  | { readonly do: "mode"; readonly mode: "operate" | "tune" }
  | {
      readonly do: "placeFault";
      readonly fault: FaultName;
      readonly part: PartName;
      readonly severity: number;
      /** Sudden when left out. */
      readonly onset?: Onset;
    }
  | { readonly do: "removeFault"; readonly fault: FaultName; readonly part: PartName }
  | { readonly do: "acknowledge" }
  | { readonly do: "reset" }
  /** Forgets the trips written down and their counts; latches stay. */
  | { readonly do: "clearTripMemory" }
  | { readonly do: "configureMonitor"; readonly monitor: string; readonly change: MonitorChange };

/** A live change; a new pickup or delay keeps a running timer, everything else clears it. */
export interface MonitorChange {
  readonly role?: MonitorRole;
  /** Index into `criteria`, 0 when left out. */
  readonly criterion?: number;
  readonly pickup?: number;
  readonly delayS?: number;
  readonly timing?: Timing;
}

export type ScenarioEntry = { readonly atS: number } & Command;
