/**
 * A project in plain data: the station, its sensors, monitors and actuators, and the scenario that is
 * played on it. All values are SI without prefixes; the unit is the end of each name. Nothing here
 * computes; `formats` checks that a file has this shape, everything above reads it.
 */

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
  readonly notes: string;
}

// ---------------------------------------------------------------- station

export interface Station {
  readonly freqHz: number;
  readonly exciter: Exciter;
  readonly inputCircuit: InputCircuit;
  readonly tube: Triode;
  readonly bias: Bias;
  readonly supply: Supply;
  readonly tank: Tank;
  readonly load: Load;
  readonly site: Site;
  readonly ratings: Ratings;
  readonly tuningCapacitor: AirCapacitor;
  readonly loadingCapacitor: AirCapacitor;
  /** The contact that stands for band switch and coil tap. */
  readonly bandSwitch: ContactPart;
  /** The contact that stands for everything beyond the coupler: T/R relay, connector, balun. */
  readonly outputContact: ContactPart;
  /** How a struck part is heated: the estimates behind the melt band, with their early and late edge. */
  readonly erosion: Erosion;
  readonly transmitReceive: TransmitReceive;
  /** A burning arc whose steady state is asked for; only `operating-point` uses it. */
  readonly arc?: SteadyArc;
}

export interface Exciter {
  readonly sourceOhm: number;
  /** Available drive at the start of a run, and the full drive that monitors compare with. */
  readonly availableW: number;
  /** Shaped key edge, raised cosine in voltage. */
  readonly keyEdgeS: number;
}

export type InputCircuit =
  | {
      readonly kind: "explicit";
      /** Ideal transformer 1:n from source to cathode. */
      readonly turnsRatio: number;
      readonly capacitanceF: number;
      readonly inductanceH: number;
      /** Loss, parallel. */
      readonly shuntOhm: number;
    }
  | {
      readonly kind: "designed";
      /** Resistance the cathode is meant to show; sets the turns ratio. */
      readonly cathodeOhm: number;
      readonly loadedQ: number;
      readonly shuntOhm: number;
    };

export interface Triode {
  readonly kind: "triode";
  readonly name: string;
  readonly count: number;
  readonly mu: number;
  /** Per tube. */
  readonly perveanceAPerV1p5: number;
  /** delta of the current division ip/ig = delta sqrt(vp/vg). */
  readonly divisionRatio: number;
  readonly offsetV: number;
}

export interface Bias {
  /** Cathode held this far above ground while the station is on the air. */
  readonly cathodeV: number;
}

export type Supply =
  | { readonly kind: "stiff"; readonly plateV: number }
  | {
      readonly kind: "rectified";
      readonly noLoadV: number;
      readonly sourceOhm: number;
      readonly filterF: number;
      readonly surgeOhm: number;
      readonly bleederOhm: number;
      /** Bypass at the cold end of the plate choke. */
      readonly bypassF: number;
    };

export type Tank =
  | {
      readonly kind: "explicitPi";
      /** Whole plate-node capacitance, strays included. */
      readonly tuningF: number;
      readonly coilH: number;
      readonly coilSeriesOhm: number;
      readonly loadingF: number;
      readonly chokeH: number;
      /** Part of the plate-node capacitance that does not turn with the knob. */
      readonly strayF: number;
    }
  | {
      readonly kind: "designedPi";
      readonly plateLoadOhm: number;
      readonly bands: readonly BandTank[];
    };

/** Values that belong to one band, so that bands do not look alike. */
export interface BandTank {
  readonly name: string;
  readonly fromHz: number;
  readonly toHz: number;
  readonly loadedQ: number;
  readonly coilQ: number;
  readonly chokeH: number;
  readonly strayF: number;
}

export type Load =
  | {
      readonly kind: "admittance";
      readonly conductanceSiemens: number;
      /** At the carrier. Positive behaves as a capacitor at the harmonics, negative as an inductor. */
      readonly susceptanceSiemens: number;
    }
  | { readonly kind: "reflection"; readonly magnitude: number; readonly phaseRad: number };

export interface Site {
  readonly altitudeM: number;
  readonly airK: number;
  readonly relativeHumidity: number;
}

export interface Ratings {
  readonly plateDissipationW: number;
  readonly plateCurrentA: number;
  readonly gridCurrentA: number;
  readonly gridDissipationW: number;
  readonly plateV: number;
  readonly plateRfPeakV: number;
  /** Reflected drive the exciter's finals stand for good. */
  readonly exciterReflectedW: number;
}

export type MetalName = "alloy5052" | "aluminium" | "copper" | "brass";

export interface AirCapacitor {
  readonly gapM: number;
  readonly plateThicknessM: number;
  readonly metal: MetalName;
  /** Maintaining voltage of an arc across it, peak of the fundamental. */
  readonly maintainingV: number;
}

export interface ContactPart {
  readonly gapM: number;
  readonly thicknessM: number;
  readonly metal: MetalName;
  readonly maintainingV: number;
  /** Band switch only: fraction of the coil between the tap and the output. */
  readonly tapFraction: number;
}

export interface ErosionEdge {
  readonly spotAPerM2: number;
  readonly electrodeShare: number;
}

export interface Erosion {
  readonly nominal: ErosionEdge;
  readonly early: ErosionEdge;
  readonly late: ErosionEdge;
  /** Time constant of the arc's conductance. */
  readonly arcTimeConstantS: number;
  /** An arc that the circuit feeds with less than this goes out. */
  readonly holdingW: number;
  /** Inside the cabinet, warm. */
  readonly startK: number;
}

export interface TransmitReceive {
  readonly antennaRelayS: number;
  readonly inputRelayS: number;
  readonly biasS: number;
  readonly driveS: number;
  /** The relays stay closed this long after the key opens. */
  readonly holdS: number;
}

export type ArcPlace = "tuningCapacitor" | "loadingCapacitor" | "coilTap" | "beyondCoupler";

export interface SteadyArc {
  readonly place: ArcPlace;
  readonly maintainingV: number;
  /** Measured from the output; `coilTap` only. */
  readonly tapFraction?: number;
}

// ---------------------------------------------------------------- sensing

export type SensorName =
  | "driveForwardW"
  | "driveReflectedW"
  | "outputForwardW"
  | "outputReflectedW"
  | "plateCurrentA"
  | "gridCurrentA"
  | "plateV"
  | "plateRfPeakV";

export interface SensorDef {
  readonly timeConstantS: number;
  /** Watts, amperes or volts at the converter's full scale; readings saturate there. */
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
  | "efficiency";

// ---------------------------------------------------------------- monitors

export type MonitorRole = "acting" | "shadow" | "off";
export type Side = "over" | "under";
export type CurveName = "iecA" | "iecB" | "iecC" | "ieeeD" | "ieeeE" | "ieeeF";
export type ActuatorName = "driveInhibit" | "cathodeCutoff" | "transmitReceive" | "contactor";

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

export interface Actuators {
  readonly driveInhibit: { readonly delayS: number };
  readonly cathodeCutoff: {
    readonly delayS: number;
    /** `resistor` lets the tube bias itself off; `step` adds a fixed bias, the weaker choice. */
    readonly kind: "resistor" | "step";
    readonly resistorOhm: number;
    readonly bypassF: number;
    readonly stepV: number;
  };
  readonly transmitReceive: {
    readonly releaseS: number;
    /** The release waits until the output is under this, */
    readonly waitBelowW: number;
    /** but no longer than this. */
    readonly waitAtMostS: number;
  };
  readonly contactor: { readonly delayS: number };
}

// ---------------------------------------------------------------- faults and scenario

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
  | "protection";

export type FaultName =
  | "openLoad"
  | "shortLoad"
  | "insect"
  | "dust"
  | "arc"
  | "overdrive"
  | "offResonance"
  | "lightLoading"
  | "heavyLoading"
  | "plateSupplyShort"
  | "biasLost"
  | "plateSupplyLost"
  | "driveInhibitFailed"
  | "relayStuck"
  | "contactorOnly";

/** Knobs a person can turn; they move as ramps of 50 ms. */
export type ControlName = "driveW" | "tuningRatio" | "loadingRatio" | "loadSwr" | "loadPhaseRad";

export type Command =
  | { readonly do: "set"; readonly control: ControlName; readonly value: number }
  | { readonly do: "key"; readonly down: boolean }
  /** Morse sent with shaped edges (ITU-R M.1677-1 timing). */
  | { readonly do: "key"; readonly text: string; readonly wordsPerMinute: number }
  | { readonly do: "operate" }
  | { readonly do: "standby" }
  | { readonly do: "mode"; readonly mode: "operate" | "tune" }
  | {
      readonly do: "placeFault";
      readonly fault: FaultName;
      readonly part: PartName;
      readonly severity: number;
    }
  | { readonly do: "removeFault"; readonly fault: FaultName; readonly part: PartName }
  | { readonly do: "acknowledge" }
  | { readonly do: "reset" }
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
