/**
 * Sensors, monitors and actuators in plain data. All values are SI without prefixes; the unit is the end of
 * each name.
 */

export type SensorName =
  | "driveForwardW"
  | "driveReflectedW"
  | "outputForwardW"
  | "outputReflectedW"
  | "plateCurrentA"
  | "gridCurrentA"
  | "plateV"
  | "plateRfPeakV"
  /** Air that leaves the anode's cooler. */
  | "exhaustAirK"
  /** Light in the tank compartment, 1 at the photodiode's full scale. */
  | "tankLight";

export interface SensorDef {
  readonly timeConstantS: number;
  /** Watts, amperes, volts, kelvins or light at the converter's full scale; readings saturate there. */
  readonly fullScale: number;
  readonly bits: number;
  /** Relative gain error, 0 by default; varied in trials. */
  readonly gainError: number;
  readonly offset: number;
  /** Standard deviation as a fraction of full scale, drawn from the seeded stream once a sample. */
  readonly noiseFraction: number;
  /** Couplers only; null for everything else. */
  readonly directivityDb: number | null;
}

export type Sensors = Readonly<Record<SensorName, SensorDef>> & {
  /** The tap on the plate-current shunt that feeds the unscanned comparator. */
  readonly comparatorTap: { readonly timeConstantS: number; readonly fullScaleA: number };
};

/** What a monitor may watch: the sensors, and what can be worked out from them. */
export type QuantityName =
  | SensorName
  | "forwardGainDb"
  | "gainDeviationDb"
  | "netOutputW"
  | "vswr"
  | "plateDissipationW"
  | "efficiency"
  | "gridPlateRatio"
  | "inputReflectedRatio";

export type MonitorRole = "acting" | "shadow" | "off";
export type Side = "over" | "under";
export type CurveName = "iecA" | "iecB" | "iecC" | "ieeeD" | "ieeeE" | "ieeeF";
export type ActuatorName =
  | "crowbar"
  | "driveInhibit"
  | "cathodeCutoff"
  | "transmitReceive"
  | "contactor";

export interface Condition {
  readonly quantity: QuantityName;
  readonly side: Side;
  readonly level: number;
}

export type Timing =
  /** At once when the quantity is past its pickup on n of the last m scans. */
  | { readonly kind: "instantaneous"; readonly scans: number; readonly ofScans: number }
  /** Past its pickup for this long without a break; rounded up to whole scans. */
  | { readonly kind: "definite"; readonly delayS: number }
  /** IEC 60255-151 / IEEE C37.112 travel. */
  | { readonly kind: "inverse"; readonly curve: CurveName; readonly timeMultiplier: number }
  /** First-order heat image, linear in the quantity; operates when the image reaches the pickup. */
  | { readonly kind: "thermal"; readonly timeConstantS: number };

/** One criterion of a monitor; a monitor operates when any of its criteria does. */
export interface Criterion {
  readonly quantity: QuantityName;
  readonly side: Side;
  readonly pickup: number;
  readonly dropOff: number;
  /** Pickup in tune mode where it differs; the drop-off keeps its distance (dB) or ratio (all else). */
  readonly tunePickup?: number;
  readonly timing: Timing;
  /** Further conditions that must hold at the same scan. */
  readonly when: readonly Condition[];
}

export interface Arming {
  /** `always`: at any time; `onAir`: operate, T/R confirmed closed and `settledS` after drive first passed `driveAboveW`. */
  readonly kind: "always" | "onAir";
  readonly driveAboveW: number;
  readonly settledS: number;
  /** Below the drive floor a running count is held this long, then cleared. */
  readonly holdS: number;
  readonly when: readonly Condition[];
  /** After plate voltage first passed 90 % of no load, wait this long. */
  readonly afterSupplyReadyS: number;
}

export interface ResetRule {
  /** `byHand` waits for a person; `self` tries again; `lockout` needs a person at once. */
  readonly kind: "byHand" | "self" | "lockout";
  readonly afterS: number;
  /** Self-resets allowed inside `withinS`; the next operation is a lockout. */
  readonly tries: number;
  readonly withinS: number;
  /** A second operation inside this time locks out (0: never). */
  readonly repeatWithinS: number;
  /** Reset is refused until this holds. */
  readonly when: readonly Condition[];
}

export interface MonitorDef {
  readonly id: string;
  readonly name: string;
  /** IEEE C37.2 number where one fits, as a secondary label; empty where none does. */
  readonly deviceNumber: string;
  readonly role: MonitorRole;
  /** Role in tune mode. */
  readonly tuneRole: MonitorRole;
  /** `comparator` watches the shunt's fast tap between scans; it has one criterion on plateCurrentA. */
  readonly path: "scanned" | "comparator";
  readonly scanS: number;
  /** Common smoothing of every sensor this monitor reads. */
  readonly smoothingS: number;
  readonly arming: Arming;
  readonly blankingS: number;
  /**
   * The quantity of a thermal criterion means its heat image wherever this monitor's alarm and reset rule name it.
   */
  readonly criteria: readonly Criterion[];
  readonly alarm: {
    readonly quantity: QuantityName;
    readonly side: Side;
    readonly level: number;
    readonly delayS: number;
  } | null;
  readonly actions: readonly ActuatorName[];
  readonly reset: ResetRule;
}

// ---------------------------------------------------------------- actuators

/** What units, ageing and contact bounce make of a delay, as multiples of it. */
export interface DelaySpread {
  /** At most 1. */
  readonly earliestRatio: number;
  /** At least 1. */
  readonly latestRatio: number;
}

export interface Actuators {
  readonly driveInhibit: { readonly delayS: number } & DelaySpread;
  readonly cathodeCutoff: DelaySpread & {
    readonly delayS: number;
    /** `resistor` lets the tube bias itself off; `step` adds a fixed bias, the weaker choice. */
    readonly kind: "resistor" | "step";
    readonly resistorOhm: number;
    readonly bypassF: number;
    readonly stepV: number;
  };
  /** Its spread is that of the release. */
  readonly transmitReceive: DelaySpread & {
    readonly releaseS: number;
    /** The release waits until the output is under this, */
    readonly waitBelowW: number;
    /** but no longer than this. */
    readonly waitAtMostS: number;
  };
  readonly contactor: { readonly delayS: number } & DelaySpread;
  /** Shorts the filter ahead of the surge resistor and conducts until it is reset. */
  readonly crowbar: DelaySpread & {
    /** False: there is none, and whoever names it gets nothing. */
    readonly fitted: boolean;
    readonly delayS: number;
    readonly resistanceOhm: number;
  };
}
