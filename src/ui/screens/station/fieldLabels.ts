/**
 * The fields of a station as they stand in its form: label and the unit they are typed in. One line a field, by its name
 * in the file, or by its place where one name serves several. What is not named here stands under its own name, in SI.
 */
export type FieldLabel = readonly [label: string, unit: string];

export const FIELD_LABELS: Readonly<Record<string, FieldLabel>> = {
  freqHz: ["Carrier frequency", "MHz"],
  // exciter
  sourceOhm: ["Source resistance", "Ω"],
  availableW: ["Full drive", "W"],
  keyEdgeS: ["Keyed edge", "ms"],
  overshootDb: ["Overshoot", "dB"],
  overshootS: ["Overshoot lasts", "ms"],
  thresholdW: ["Output held", "W"],
  thresholdA: ["Grid current held", "mA"],
  attackS: ["Attack", "ms"],
  releaseS: ["Release", "s"],
  rangeDb: ["Range", "dB"],
  // input circuit
  turnsRatio: ["Transformer, 1 to", ""],
  capacitanceF: ["Capacitance", "pF"],
  inductanceH: ["Inductance", "µH"],
  shuntOhm: ["Loss, parallel", "Ω"],
  cathodeOhm: ["Cathode resistance", "Ω"],
  loadedQ: ["Loaded Q", ""],
  // tube and bias
  "tube.name": ["Name", ""],
  count: ["Tubes in parallel", ""],
  mu: ["Amplification factor", ""],
  perveanceAPerV1p5: ["Perveance, one tube", "mA/V^1.5"],
  divisionRatio: ["Current division", ""],
  offsetV: ["Offset voltage", "V"],
  cathodeV: ["Cathode bias", "V"],
  // supply
  plateV: ["Plate voltage", "V"],
  noLoadV: ["Plate voltage, no load", "V"],
  "supply.sourceOhm": ["Source resistance", "Ω"],
  filterF: ["Filter capacitor", "µF"],
  surgeOhm: ["Surge resistor", "Ω"],
  bleederOhm: ["Bleeder", "kΩ"],
  bypassF: ["Bypass", "nF"],
  // tank
  plateLoadOhm: ["Plate load", "Ω"],
  intermediateOhm: ["Between pi and L", "Ω"],
  tuningF: ["Tuning, strays included", "pF"],
  coilH: ["Coil", "µH"],
  coilSeriesOhm: ["Coil loss, series", "Ω"],
  loadingF: ["Loading", "pF"],
  outputCoilH: ["Output coil", "µH"],
  outputCoilSeriesOhm: ["Output coil loss, series", "Ω"],
  chokeH: ["Plate choke", "µH"],
  strayF: ["Tube and strays", "pF"],
  "tank.bands.name": ["Band", ""],
  fromHz: ["From", "MHz"],
  toHz: ["To", "MHz"],
  coilQ: ["Coil Q", ""],
  // load
  conductanceSiemens: ["Conductance", "mS"],
  susceptanceSiemens: ["Susceptance", "mS"],
  magnitude: ["Reflection, magnitude", ""],
  phaseRad: ["Reflection, phase", "°"],
  "load.line.name": ["Line", ""],
  lineOhm: ["Line impedance", "Ω"],
  lengthM: ["Length", "m"],
  velocityFactor: ["Velocity factor", ""],
  lossAtHz: ["Losses hold at", "MHz"],
  conductorDbPerM: ["Conductor loss", "dB/100 m"],
  dielectricDbPerM: ["Insulation loss", "dB/100 m"],
  "load.antenna.name": ["Antenna", ""],
  resonanceHz: ["Resonance", "MHz"],
  resistanceOhm: ["Resistance there", "Ω"],
  "safetyChoke.resistanceOhm": ["Resistance", "Ω"],
  q: ["Antenna Q", ""],
  // site
  altitudeM: ["Altitude", "m"],
  airK: ["Air temperature", "°C"],
  relativeHumidity: ["Relative humidity", "%"],
  // ratings
  plateDissipationW: ["Plate dissipation", "W"],
  plateCurrentA: ["Plate current", "A"],
  gridCurrentA: ["Grid current", "mA"],
  gridDissipationW: ["Grid dissipation", "W"],
  plateRfPeakV: ["Plate RF, peak", "V"],
  exciterReflectedW: ["Reflected drive", "W"],
  tuningRmsA: ["Tuning capacitor, rms", "A"],
  loadingRmsA: ["Loading capacitor, rms", "A"],
  coilRmsA: ["Coil, rms", "A"],
  chokeRmsA: ["Plate choke, rms", "A"],
  blockingRmsA: ["Blocking capacitor, rms", "A"],
  outputRmsA: ["Relay and connector, rms", "A"],
  // capacitors, contacts, edges
  minF: ["Lower end stop", "pF"],
  maxF: ["Upper end stop", "pF"],
  gapM: ["Gap", "mm"],
  plateThicknessM: ["Plate thickness", "mm"],
  thicknessM: ["Thickness", "mm"],
  metal: ["Alloy", ""],
  maintainingV: ["Arc maintained at", "V"],
  edgeRadiusM: ["Edge radius", "mm"],
  ratedV: ["Rated voltage", "V"],
  "safetyChoke.inductanceH": ["Inductance", "mH"],
  tapFraction: ["Tap, from the output", "%"],
  spotAPerM2: ["Current density at the root", "A/mm²"],
  electrodeShare: ["Share into one edge", "%"],
  arcTimeConstantS: ["Arc time constant", "µs"],
  holdingW: ["Arc goes out under", "W"],
  startK: ["Parts start at", "°C"],
  // T/R
  antennaRelayS: ["Antenna relay", "ms"],
  inputRelayS: ["Input relay", "ms"],
  biasS: ["Bias", "ms"],
  driveS: ["Drive", "ms"],
  holdS: ["Hold", "ms"],
};

/** Sections in the order of the form, with their titles; what is not named here follows under its own name. */
export const SECTION_TITLES: Readonly<Record<string, string>> = {
  freqHz: "Frequency and band",
  tube: "Tube",
  bias: "Bias",
  supply: "Supply",
  tank: "Tank",
  exciter: "Exciter",
  inputCircuit: "Input circuit",
  load: "Line and antenna",
  tuningCapacitor: "Tuning capacitor",
  loadingCapacitor: "Loading capacitor",
  blockingCapacitor: "Blocking capacitor",
  safetyChoke: "Safety choke",
  ratings: "Ratings",
  site: "Site",
  transmitReceive: "T/R times",
  bandSwitch: "Band switch",
  outputContact: "Relay and connector",
  erosion: "Plate edge under an arc",
};

/** Sections that are open when the screen is first seen. */
export const OPEN_SECTIONS: readonly string[] = ["freqHz", "tube", "bias", "supply", "tank"];

/** Headings of parts inside a section. */
export const GROUP_TITLES: Readonly<Record<string, string>> = {
  "exciter.alc": "Level control (ALC)",
  "load.line": "Line",
  "load.antenna": "Antenna",
  "erosion.nominal": "Nominal",
  "erosion.early": "Early edge of the band",
  "erosion.late": "Late edge of the band",
};

/** Words of the file's own words. */
export const CHOICE_WORDS: Readonly<Record<string, string>> = {
  explicit: "explicit values",
  designed: "designed",
  explicitPi: "pi, explicit values",
  explicitPiL: "pi-L, explicit values",
  designedPi: "pi, designed",
  designedPiL: "pi-L, designed",
  stiff: "stiff",
  rectified: "rectifier and filter",
  none: "none",
  output: "from output",
  grid: "from grid current",
  admittance: "plain admittance",
  reflection: "plain reflection",
  antenna: "line and antenna",
  resonant: "resonant antenna",
  alloy5052: "aluminium alloy 5052",
  aluminium: "aluminium",
  copper: "copper",
  brass: "brass",
};

/** A name nobody has labelled yet, as words: `edgeRadiusM` reads `Edge radius`. */
export function plainWords(name: string): string {
  const words = name
    .replace(/(Siemens|Rad|Hz|Ohm|Db|[VAWFHSMK])$/, "")
    .replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
  return words.charAt(0).toUpperCase() + words.slice(1);
}
