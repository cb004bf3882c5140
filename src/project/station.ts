/**
 * The station in plain data: amplifier, supply, exciter, load and site. All values are SI without prefixes; the
 * unit is the end of each name.
 */

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
  /** Keeps the plate supply off the tank. */
  readonly blockingCapacitor: BlockingCapacitor;
  /** From the output to ground: trips the supply if the blocking capacitor shorts. */
  readonly safetyChoke: SafetyChoke;
  /** The contact that stands for band switch and coil tap. */
  readonly bandSwitch: ContactPart;
  /** The contact that stands for everything beyond the coupler: T/R relay, connector, balun. */
  readonly outputContact: ContactPart;
  /** Forced air through the anode's cooler, and what anode and seal stand. */
  readonly cooling: Cooling;
  /** What the other parts' clocks run on. */
  readonly clocks: ClockInputs;
  /** How gaps break down, and what voltage an arc keeps. */
  readonly airGaps: AirGaps;
  /** How a struck part is heated: the estimates behind the melt band, with their early and late edge. */
  readonly erosion: Erosion;
  readonly transmitReceive: TransmitReceive;
  readonly powerUp: PowerUp;
  /** A burning arc whose steady state is asked for; only `operating-point` uses it. */
  readonly arc?: SteadyArc;
}

export interface Exciter {
  readonly sourceOhm: number;
  /** Available drive at the start of a run, and the full drive that monitors compare with. */
  readonly availableW: number;
  /** Shaped key edge, raised cosine in voltage. */
  readonly keyEdgeS: number;
  readonly alc: LevelControl;
  /** Power above the set drive as it begins at each key-down; 0 for none. */
  readonly overshootDb: number;
  /** Time constant with which the overshoot passes. */
  readonly overshootS: number;
}

/** Level control that the amplifier asks of its exciter. */
export type LevelControl =
  | { readonly kind: "none" }
  | ({ readonly kind: "output"; readonly thresholdW: number } & LevelControlTimes)
  | ({ readonly kind: "grid"; readonly thresholdA: number } & LevelControlTimes);

export interface LevelControlTimes {
  readonly attackS: number;
  readonly releaseS: number;
  /** The drive is reduced by this much at most. */
  readonly rangeDb: number;
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
      readonly mains: Mains;
      readonly stepStart: StepStart;
      readonly fuse: HighVoltageFuse;
    };

/** Line voltage as it usually is, 1 for nominal: the no-load voltage follows it. */
export interface Mains {
  readonly ratio: number;
}

/** Resistor that limits the inrush, bridged some time after the contactor has closed. */
export interface StepStart {
  /** Referred to the direct-current side. */
  readonly resistorOhm: number;
  readonly timeS: number;
}

/** In the lead from the filter to the plate; heats with the current's square, cools, and opens when it melts. */
export type HighVoltageFuse =
  | { readonly kind: "none" }
  | {
      readonly kind: "fitted";
      /** Melts it when it comes at once. */
      readonly meltingA2s: number;
      /** A current that melts it in the end. */
      readonly meltingA: number;
    };

/** From cold to ready, and from ready to cold. */
export interface PowerUp {
  /** Heater on to plate voltage allowed. */
  readonly warmUpS: number;
  /** The fan goes on this long after switch-off. */
  readonly fanRunOnS: number;
}

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
      readonly kind: "explicitPiL";
      readonly tuningF: number;
      readonly coilH: number;
      readonly coilSeriesOhm: number;
      readonly loadingF: number;
      /** In series from the loading capacitor to the connector. */
      readonly outputCoilH: number;
      readonly outputCoilSeriesOhm: number;
      readonly chokeH: number;
      readonly strayF: number;
    }
  | {
      readonly kind: "designedPi";
      readonly plateLoadOhm: number;
      readonly bands: readonly BandTank[];
    }
  | {
      readonly kind: "designedPiL";
      readonly plateLoadOhm: number;
      /** Resistance between the pi and its L-section. */
      readonly intermediateOhm: number;
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
  | { readonly kind: "reflection"; readonly magnitude: number; readonly phaseRad: number }
  | { readonly kind: "antenna"; readonly line: FeedLine; readonly antenna: Antenna };

/** Line between connector and antenna: attenuation a metre is `conductorDbPerM` sqrt(r) + `dielectricDbPerM` r, r = f/`lossAtHz`. */
export interface FeedLine {
  readonly name: string;
  readonly lineOhm: number;
  readonly lengthM: number;
  readonly velocityFactor: number;
  readonly lossAtHz: number;
  readonly conductorDbPerM: number;
  readonly dielectricDbPerM: number;
}

/** At the far end of the line. */
export type Antenna =
  | {
      readonly kind: "resonant";
      readonly name: string;
      readonly resonanceHz: number;
      /** At resonance. */
      readonly resistanceOhm: number;
      /** (f0/2R) dX/df at resonance. */
      readonly q: number;
    }
  /** On the line's own impedance. */
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
  /** RF currents the parts carry for good, rms. */
  readonly tuningRmsA: number;
  readonly loadingRmsA: number;
  readonly coilRmsA: number;
  readonly chokeRmsA: number;
  readonly blockingRmsA: number;
  readonly outputRmsA: number;
}

export type MetalName = "alloy5052" | "aluminium" | "copper" | "brass";

export interface AirCapacitor {
  /** End stops of the knob, strays not counted. */
  readonly minF: number;
  readonly maxF: number;
  readonly gapM: number;
  readonly plateThicknessM: number;
  readonly metal: MetalName;
  /** Maintaining voltage of an arc across it, peak of the fundamental. */
  readonly maintainingV: number;
}

export interface BlockingCapacitor {
  readonly capacitanceF: number;
  /** Direct voltage it stands. */
  readonly ratedV: number;
}

export interface SafetyChoke {
  readonly inductanceH: number;
  readonly resistanceOhm: number;
}

export interface ContactPart {
  readonly gapM: number;
  readonly thicknessM: number;
  readonly metal: MetalName;
  readonly maintainingV: number;
  /** Band switch only: fraction of the coil between the tap and the output. */
  readonly tapFraction: number;
}

export interface Cooling {
  /** What the blower moves through the cooler, at the density of the site. */
  readonly airflowM3PerS: number;
  /** Air that enters the cooler; absent, the air of the site. */
  readonly inletK?: number;
  /** Anode and cooler together. */
  readonly anodeHeatCapacityJPerK: number;
  /** Anode over inlet at rated dissipation and full airflow, at sea level. */
  readonly ratedRiseK: number;
  /** Share of the cooling that is left when the air stands still. */
  readonly stillShare: number;
  readonly anodeLimitK: number;
  /** The seal follows the anode with this time constant. */
  readonly sealTimeConstantS: number;
  readonly sealLimitK: number;
}

export interface ClockInputs {
  readonly emitter: "oxide" | "thoriatedTungsten";
  /** Grid wires at rated dissipation, without grid current, and where they are damaged. */
  readonly gridRatedK: number;
  readonly gridIdleK: number;
  readonly gridLimitK: number;
  readonly gridTimeConstantS: number;
  /** Final transistors of the exciter. */
  readonly exciterTimeConstantS: number;
  /** Band switch contact and coil tap. */
  readonly contactTimeConstantS: number;
  /** Both variable capacitors. */
  readonly capacitorTimeConstantS: number;
  readonly chokeTimeConstantS: number;
  /** Energy that destroys the surge resistor when it comes at once, and how fast it cools. */
  readonly surgeRatedJ: number;
  readonly surgeCoolingS: number;
  /** Energy of hot switching that wears out the T/R relay's contacts. */
  readonly relayRatedJ: number;
}

export interface AirGaps {
  /** Radio-frequency strength over that at direct voltage. */
  readonly rfStrength: number;
  /** 1 for a uniform field between rounded edges, less for sharp ones. */
  readonly edgeFactor: number;
  /** Standard deviation of the strike voltage, over its mean; 0: every strike at the mean. */
  readonly strikeSpread: number;
  /** Per place: the part's own maintaining voltage, or the law by gap, current, metal and density. */
  readonly arcVoltage: Readonly<Record<ArcPlace, ArcVoltageKind>>;
  /** A molten edge needs less voltage to keep its arc. */
  readonly moltenEdgeLowers: boolean;
}

export type ArcVoltageKind = "value" | "law";

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
