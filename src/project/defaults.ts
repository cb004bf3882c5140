/**
 * The demonstration station "Skerry Light" and everything a project file may leave out.
 *
 * A lighthouse-island radio club with a home-built 1.5 kW amplifier round a pair of generic high-mu
 * triodes. The circuit values are a design exercise of ours, not measurements of any equipment; the
 * erosion figures are estimates [E] chosen to agree with common practice (a sustained arc of some seconds
 * leaves a visible bead, one interrupted within milliseconds next to none). All SI.
 */
import { LINE_KINDS, type LineKind } from "./feeders";
import { DEFAULT_MONITORS } from "./presets/monitors";
import { DEFAULT_ACTUATORS, DEFAULT_SENSORS } from "./presets/sensors";
import type { ScenarioEntry, Signal } from "./scenario";
import type {
  AirCapacitor,
  AirGaps,
  BandTank,
  BlockingCapacitor,
  ClockInputs,
  ContactPart,
  Cooling,
  Erosion,
  Exciter,
  FeedLine,
  HighVoltageFuse,
  InputCircuit,
  LevelControl,
  Load,
  PowerUp,
  Ratings,
  SafetyChoke,
  Site,
  Station,
  Supply,
  Tank,
  TransmitReceive,
  Triode,
} from "./station";
import type { Project } from "./types";

/** 62 W of available drive gives 1453 W out: under the 1.5 kW PEP of 47 CFR 97.313. */
export const DEFAULT_EXCITER: Exciter = {
  sourceOhm: 50,
  availableW: 62,
  keyEdgeS: 5e-3,
  alc: { kind: "none" },
  overshootDb: 0, // 1 to 3 dB is commonly reported, from memory
  overshootS: 10e-3, // 2 to 20 ms, from memory
};

/** What a level control has that says no more than its kind: 1.5 kW PEP of 47 CFR 97.313, the grid's rating; times [E]. */
export const DEFAULT_LEVEL_CONTROLS = {
  none: { kind: "none" },
  output: { kind: "output", thresholdW: 1500, attackS: 2e-3, releaseS: 0.5, rangeDb: 20 },
  grid: { kind: "grid", thresholdA: 0.15, attackS: 2e-3, releaseS: 0.5, rangeDb: 20 },
} as const satisfies { readonly [Kind in LevelControl["kind"]]: LevelControl & { kind: Kind } };

/** What a signal has that says no more than its name. */
export const DEFAULT_SIGNALS = {
  carrier: { signal: "carrier" },
  twoTone: { signal: "twoTone", spacingHz: 1200 }, // 700 and 1900 Hz: common practice
  speech: { signal: "speech", talker: 1 },
  processedSpeech: { signal: "processedSpeech", talker: 1, processingDb: 10 }, // gives 7 dB from mean to peak
  data: { signal: "data", powerShare: 0.5 }, // half power for a steady envelope: common practice
} as const satisfies { readonly [Name in Signal["signal"]]: Signal & { signal: Name } };

export const DEFAULT_INPUT_CIRCUIT: Extract<InputCircuit, { kind: "designed" }> = {
  kind: "designed",
  cathodeOhm: 58,
  loadedQ: 2.5,
  shuntOhm: 1500,
};

/** Generic high-mu triode; the values are ours. Perveance is per tube. */
export const DEFAULT_TUBE: Triode = {
  kind: "triode",
  name: "generic high-mu triode",
  count: 2,
  mu: 200,
  perveanceAPerV1p5: 0.0021,
  divisionRatio: 3,
  offsetV: 0,
};

/** About 160 ohm of source in all: 150 ohm of transformer and rectifier, 10 ohm of surge resistor. */
export const DEFAULT_SUPPLY: Extract<Supply, { kind: "rectified" }> = {
  kind: "rectified",
  noLoadV: 3180,
  sourceOhm: 150,
  filterF: 40e-6,
  surgeOhm: 10,
  bleederOhm: 100e3, // 100 W at no load [E]
  bypassF: 1e-9, // cold end of the plate choke [E]
  mains: { ratio: 1 },
  stepStart: { resistorOhm: 1000, timeS: 1 }, // 3 A of inrush, twenty time constants [E]
  fuse: { kind: "none" },
};

/** What a fuse has that says no more than its kind: a few milliseconds of a short, twice the key-down current [E]. */
export const DEFAULT_FUSES = {
  none: { kind: "none" },
  fitted: { kind: "fitted", meltingA2s: 5, meltingA: 2 },
} as const satisfies {
  readonly [Kind in HighVoltageFuse["kind"]]: HighVoltageFuse & { kind: Kind };
};

/**
 * Amateur bands, region-wide edges (ITU Radio Regulations, article 5, the wider of the regional limits).
 * Loaded Q, coil Q and strays are design choices [E]: the strays grow on the low bands with the longer leads of
 * the larger coil, 21 pF of tube and strays at 14.2 MHz; on the highest bands the capacitor's minimum makes
 * the loaded Q rise.
 */
export const DEFAULT_BANDS: readonly BandTank[] = [
  band("160 m", 1.8e6, 2.0e6, 12, 300, 32e-12),
  band("80 m", 3.5e6, 4.0e6, 12, 300, 28e-12),
  band("40 m", 7.0e6, 7.3e6, 12, 280, 25e-12),
  band("30 m", 10.1e6, 10.15e6, 12, 265, 23e-12),
  band("20 m", 14.0e6, 14.35e6, 12, 250, 21e-12),
  band("17 m", 18.068e6, 18.168e6, 12.5, 240, 20e-12),
  band("15 m", 21.0e6, 21.45e6, 13, 225, 19e-12),
  band("12 m", 24.89e6, 24.99e6, 14.5, 200, 18e-12),
  band("10 m", 28.0e6, 29.7e6, 16, 180, 17e-12),
];

function band(
  name: string,
  fromHz: number,
  toHz: number,
  loadedQ: number,
  coilQ: number,
  strayF: number,
): BandTank {
  // One choke for all bands: 225 uH keeps its RF current on 160 m within 1 A.
  return { name, fromHz, toHz, loadedQ, coilQ, chokeH: 225e-6, strayF };
}

export const DEFAULT_TANK: Extract<Tank, { kind: "designedPi" }> = {
  kind: "designedPi",
  plateLoadOhm: 1900,
  bands: DEFAULT_BANDS,
};

/** Resistance between the pi and the L-section of a pi-L; 300 ohm is usual (ARRL Handbook, from memory). */
export const USUAL_INTERMEDIATE_OHM = 300;

/** Tube and strays at 14.2 MHz: what does not turn with the knob of an explicit tank that says nothing. */
export const DEFAULT_STRAY_F = 21e-12;

export const DEFAULT_LOAD: Load = {
  kind: "admittance",
  conductanceSiemens: 0.02,
  susceptanceSiemens: 0,
};

/** A common cable, 25 m of it: from the lamp room to the mast. What an antenna load that says no line hangs on. */
export const DEFAULT_LINE: FeedLine = { ...(LINE_KINDS[0] as LineKind), lengthM: 25 };

export const DEFAULT_SITE: Site = { altitudeM: 30, airK: 293.15, relativeHumidity: 0.6 };

export const DEFAULT_RATINGS: Ratings = {
  plateDissipationW: 1500,
  plateCurrentA: 1.0,
  gridCurrentA: 0.15,
  gridDissipationW: 25, // pair [E]
  plateV: 4000,
  plateRfPeakV: 3400,
  exciterReflectedW: 30, // finals of a 100 W exciter at VSWR 3 fold back near this [E]
  // currents of parts of this size as builders rate them [E]
  tuningRmsA: 15,
  loadingRmsA: 15,
  coilRmsA: 20,
  chokeRmsA: 1,
  blockingRmsA: 10,
  outputRmsA: 10,
};

/** Gap 1.5 mm, plates of 0.8 mm, a usual transmitting capacitor. */
export const DEFAULT_TUNING_CAPACITOR: AirCapacitor = {
  minF: 8e-12, // with switched padders on the low bands counted in its range [E]
  maxF: 700e-12,
  gapM: 1.5e-3,
  plateThicknessM: 0.8e-3,
  metal: "alloy5052",
  maintainingV: 250,
};

export const DEFAULT_LOADING_CAPACITOR: AirCapacitor = {
  minF: 30e-12,
  maxF: 5e-9, // padders counted in [E]
  gapM: 0.6e-3, // receiving-type spacing serves the low voltage side [E]
  plateThicknessM: 0.8e-3,
  metal: "alloy5052",
  maintainingV: 160,
};

export const DEFAULT_BLOCKING_CAPACITOR: BlockingCapacitor = { capacitanceF: 1e-9, ratedV: 7500 }; // [E]

/** 1 mH shows the output 1.1 kohm on 160 m; 15 ohm of wire [E]. */
export const DEFAULT_SAFETY_CHOKE: SafetyChoke = { inductanceH: 1e-3, resistanceOhm: 15 };

export const DEFAULT_BAND_SWITCH: ContactPart = {
  gapM: 3e-3,
  thicknessM: 0.8e-3,
  metal: "brass",
  maintainingV: 250,
  tapFraction: 0.3,
};

/** T/R relay, connector and balun as one part; the tap fraction has no meaning here and stays at its neutral value. */
export const DEFAULT_OUTPUT_CONTACT: ContactPart = {
  gapM: 1e-3,
  thicknessM: 0.8e-3,
  metal: "copper",
  maintainingV: 200,
  tapFraction: 0.5,
};

/** RF factor: estimate, published experience says 0 to 20 % lower than at direct voltage. The rest is off. */
export const DEFAULT_AIR_GAPS: AirGaps = {
  rfStrength: 0.85,
  edgeFactor: 1, // plates with rounded edges [E]; bare sheared edges 0.7 to 0.9
  strikeSpread: 0,
  arcVoltage: {
    tuningCapacitor: "value",
    coilTap: "value",
    loadingCapacitor: "value",
    beyondCoupler: "value",
  },
  moltenEdgeLowers: false,
};

/** Estimates [E]: spot current density 2 to 10 A/mm2, electrode share 0.25 to 0.45; see the model notes. */
export const DEFAULT_EROSION: Erosion = {
  nominal: { spotAPerM2: 2e6, electrodeShare: 0.4 },
  early: { spotAPerM2: 10e6, electrodeShare: 0.45 },
  late: { spotAPerM2: 2e6, electrodeShare: 0.25 },
  arcTimeConstantS: 3e-6,
  holdingW: 1,
  startK: 310,
};

/**
 * Cooler of 0.6 kg of copper at 385 J/(kg K), 225 K over the air at 1500 W: 34.7 s. 16.5 l/s take 1500 W up at 75 K. Seal
 * limit of ceramic types, 250 degC (data sheets, from memory; 225 degC for glass). The rest are estimates [E].
 */
export const DEFAULT_COOLING: Cooling = {
  airflowM3PerS: 0.0165, // 35 cubic feet a minute, usual for 1500 W (from memory)
  anodeHeatCapacityJPerK: 231,
  ratedRiseK: 225,
  stillShare: 0.03, // natural draught and radiation [E]
  anodeLimitK: 630, // half the rated rise more than it is rated for [E]
  sealTimeConstantS: 120, // 60 to 300 s [E]
  sealLimitK: 523.15,
};

/** Estimates [E] unless said. */
export const DEFAULT_CLOCKS: ClockInputs = {
  emitter: "oxide",
  gridRatedK: 1050, // 2.8 times the rated heat brings it to the limit
  gridIdleK: 600, // beside the hot cathode
  gridLimitK: 1337.33, // gold plating melts: ITS-90 fixed point
  gridTimeConstantS: 0.3, // 0.1 to 0.5 s
  exciterTimeConstantS: 5,
  contactTimeConstantS: 10,
  capacitorTimeConstantS: 30,
  chokeTimeConstantS: 20,
  surgeRatedJ: 500, // one short gives it the filter's 200 J
  surgeCoolingS: 20,
  relayRatedJ: 20, // about a hundred times at full output
};

/** Antenna relay, input relay, bias, drive: 15 ms from key to drive; held 300 ms between Morse elements. */
export const DEFAULT_TRANSMIT_RECEIVE: TransmitReceive = {
  antennaRelayS: 8e-3,
  inputRelayS: 3e-3,
  biasS: 2e-3,
  driveS: 2e-3,
  holdS: 0.3,
};

/** Oxide cathodes of this class ask for 180 s (data sheet of the 8877, from memory); the fan as long again [E]. */
export const DEFAULT_POWER_UP: PowerUp = { warmUpS: 180, fanRunOnS: 180 };

export const DEFAULT_STATION: Station = {
  freqHz: 14.2e6,
  exciter: DEFAULT_EXCITER,
  inputCircuit: DEFAULT_INPUT_CIRCUIT,
  tube: DEFAULT_TUBE,
  bias: { cathodeV: 9 },
  supply: DEFAULT_SUPPLY,
  tank: DEFAULT_TANK,
  load: DEFAULT_LOAD,
  site: DEFAULT_SITE,
  ratings: DEFAULT_RATINGS,
  tuningCapacitor: DEFAULT_TUNING_CAPACITOR,
  loadingCapacitor: DEFAULT_LOADING_CAPACITOR,
  blockingCapacitor: DEFAULT_BLOCKING_CAPACITOR,
  safetyChoke: DEFAULT_SAFETY_CHOKE,
  bandSwitch: DEFAULT_BAND_SWITCH,
  outputContact: DEFAULT_OUTPUT_CONTACT,
  cooling: DEFAULT_COOLING,
  clocks: DEFAULT_CLOCKS,
  airGaps: DEFAULT_AIR_GAPS,
  erosion: DEFAULT_EROSION,
  transmitReceive: DEFAULT_TRANSMIT_RECEIVE,
  powerUp: DEFAULT_POWER_UP,
};

/** The project a file is laid over: the demonstration station with the scenario given, empty unless said. */
export function defaultProject(scenario: readonly ScenarioEntry[] = []): Project {
  return {
    format: "quietarc-project",
    schemaVersion: 1,
    title: "Skerry Light",
    seed: 1,
    sampleNs: 50_000,
    endS: 3,
    operatorS: 2.5,
    station: DEFAULT_STATION,
    sensors: DEFAULT_SENSORS,
    monitors: DEFAULT_MONITORS,
    actuators: DEFAULT_ACTUATORS,
    scenario,
    accepted: [],
    notes: "",
  };
}
