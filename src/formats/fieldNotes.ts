/**
 * What the fields of a project file mean, by section and name; `fieldTable.ts` adds units, defaults and ranges. A note is the
 * meaning, or the default in words and the meaning where a default depends on something else.
 */

type Note = string | readonly [usual: string, meaning: string];
type Notes = Readonly<Record<string, Note>>;

const ENTRY: Notes = { atS: "project time at which it happens" };

const FAULT: Notes = {
  ...ENTRY,
  fault: "which fault",
  part: "the part it sits on",
};

/** Automatic level control. */
const CONTROL: Notes = {
  attackS: "how fast it lowers the drive",
  releaseS: "how fast it lets the drive rise again",
  rangeDb: "how far it can lower the drive",
};

/** Ends of an actuator's delay. */
const DELAY_SPREAD: Notes = {
  earliestRatio: "the quickest of its kind, over the delay",
  latestRatio: "the slowest of its kind, aged, over the delay",
};

const TALKER = "another number, another talker";

export const FIELD_NOTES: Readonly<Record<string, Notes>> = {
  project: {
    format: "says what the file is",
    schemaVersion: "version of these fields",
    title: "name shown to people",
    seed: "start of the sensors' noise; the same seed gives the same run",
    sampleNs: "time step of the record",
    endS: ["3, or a second after the last entry", "end of the run when it is played in one go"],
    operatorS: "when a person is taken to have lifted the key, from the fault on",
    monitors:
      "what watches the station; an entry with the id of a preset changes that preset; left out beside a station, the presets follow it",
    scenario: "what is done to the station, and when",
    accepted: "faults the trials let pass as they are",
    notes: "remarks; not used",
  },
  "accepted[]": {
    fault: "which fault",
    part: "the part it sits on",
    band: "name of the only band it is accepted on",
    reason: "why it is accepted",
  },
  station: {
    freqHz: "carrier frequency",
    arc: "an arc that burns while operating-point is worked out",
  },
  "station.exciter": {
    sourceOhm: "source resistance of the transmitter that drives the amplifier",
    availableW: "full drive: what it gives into its own resistance",
    keyEdgeS: "rise and fall of the keyed voltage, raised cosine",
    overshootDb: "how far the first peak after key-down passes the set drive",
    overshootS: "how fast that dies away",
  },
  'station.exciter.alc, "kind": "output"': { thresholdW: "output it holds", ...CONTROL },
  'station.exciter.alc, "kind": "grid"': { thresholdA: "grid current it holds", ...CONTROL },
  'station.inputCircuit, "kind": "explicit"': {
    turnsRatio: "ideal transformer from exciter to cathode, 1 to n in voltage",
    capacitanceF: "across the cathode",
    inductanceH: "across the cathode",
    shuntOhm: "loss across the cathode",
  },
  'station.inputCircuit, "kind": "designed"': {
    cathodeOhm: "resistance the cathode is meant to show; sets the transformer",
    loadedQ: "loaded Q of the tuned circuit",
    shuntOhm: "loss across the cathode",
  },
  'station.tube, "kind": "triode"': {
    name: "name shown to people",
    count: "tubes in parallel",
    mu: "amplification factor",
    perveanceAPerV1p5: "of one tube: cathode current = perveance (drive voltage)^1.5",
    divisionRatio: "delta of plate current/grid current = delta sqrt(plate V/grid V)",
    offsetV: "added to the drive voltage of the law",
  },
  'station.tube, "kind": "registered"': {
    type: "registered type with its own fitted values",
    count: "tubes in parallel",
  },
  "station.bias": { cathodeV: "cathode above ground while on the air" },
  'station.supply, "kind": "stiff"': { plateV: "plate voltage whatever the current" },
  'station.supply, "kind": "rectified"': {
    noLoadV: "plate voltage without current",
    sourceOhm: "resistance before the filter capacitor",
    filterF: "filter capacitor",
    surgeOhm: "surge resistor between filter and plate choke",
    bleederOhm: "bleeder across the filter",
    bypassF: "bypass at the cold end of the plate choke",
  },
  "station.supply.mains": { ratio: "line voltage over nominal; the no-load voltage follows it" },
  "station.supply.stepStart": {
    resistorOhm: "limits the inrush, referred to the direct-current side",
    timeS: "from the contactor's closing until it is bridged",
  },
  'station.supply.fuse, "kind": "none"': {},
  'station.supply.fuse, "kind": "fitted"': {
    meltingA2s: "action integral that melts it when it comes at once",
    meltingA: "current that melts it in the end",
  },
  'station.tank, "kind": "explicitPi"': {
    tuningF: "whole capacitance at the plate, tube and strays included",
    coilH: "tank coil",
    coilSeriesOhm: "loss of the coil, in series",
    loadingF: "loading capacitor",
    chokeH: "plate choke, in parallel for RF",
    strayF: ["2.1e-11, or half of tuningF", "part of tuningF that does not turn with the knob"],
  },
  'station.tank, "kind": "explicitPiL"': {
    tuningF: "whole capacitance at the plate, tube and strays included",
    coilH: "tank coil",
    coilSeriesOhm: "loss of the coil, in series",
    loadingF: "loading capacitor",
    outputCoilH: "second coil, from the loading capacitor to the connector",
    outputCoilSeriesOhm: "its loss, in series",
    chokeH: "plate choke, in parallel for RF",
    strayF: "part of tuningF that does not turn with the knob",
  },
  'station.tank, "kind": "designedPiL"': {
    plateLoadOhm: "load resistance the plate is meant to see",
    intermediateOhm: "resistance between the pi and its L-section",
    bands: "values band by band",
  },
  'station.tank, "kind": "designedPi"': {
    plateLoadOhm: "load resistance the plate is meant to see",
    bands: "values band by band",
  },
  "station.tank.bands[]": {
    name: "an entry with the name of a usual band keeps what it does not say",
    fromHz: "lower edge",
    toHz: "upper edge",
    loadedQ: "loaded Q of the network",
    coilQ: "unloaded Q of the coil",
    chokeH: "plate choke",
    strayF: "part of the plate's capacitance that does not turn with the knob",
  },
  'station.load, "kind": "admittance"': {
    conductanceSiemens: "at the connector; 0.02 is 50 ohm, negative is refused",
    susceptanceSiemens: "at the carrier; positive a capacitor, negative an inductor",
  },
  'station.load, "kind": "reflection"': {
    magnitude: "of the reflection coefficient on 50 ohm; under 1",
    phaseRad: "of the reflection coefficient",
  },
  "station.load.line": {
    name: "kind of line, shown to people",
    lineOhm: "characteristic impedance",
    lengthM: "length",
    velocityFactor: "wave speed on it over that of light",
    lossAtHz: "frequency at which the two losses hold",
    conductorDbPerM: "loss in the conductors; grows with the root of frequency",
    dielectricDbPerM: "loss in the insulation; grows with frequency",
  },
  'station.load.antenna, "kind": "resonant"': {
    name: "shown to people",
    resonanceHz: "where it is a plain resistance",
    resistanceOhm: "that resistance",
    q: "how fast it leaves resonance",
  },
  'station.load.antenna, "kind": "reflection"': {
    magnitude: "of the reflection coefficient at the far end",
    phaseRad: "of the reflection coefficient at the far end",
  },
  "station.site": {
    altitudeM: "above the sea; thin air strikes earlier",
    airK: "air temperature",
    relativeHumidity: "of the air",
  },
  "station.ratings": {
    plateDissipationW: "heat the plates stand for good",
    plateCurrentA: "plate current the cathode stands for good",
    gridCurrentA: "grid current at its limit",
    gridDissipationW: "heat the grids stand for good",
    plateV: "highest direct plate voltage",
    plateRfPeakV: "highest RF voltage at the plate",
    exciterReflectedW: "reflected drive the exciter stands for good",
    tuningRmsA: "RF current the tuning capacitor stands for good",
    loadingRmsA: "RF current the loading capacitor stands for good",
    coilRmsA: "RF current the coil stands for good",
    chokeRmsA: "RF current the plate choke stands for good",
    blockingRmsA: "RF current the blocking capacitor stands for good",
    outputRmsA: "RF current relay and connector stand for good",
  },
  "station.tuningCapacitor": {
    minF: "at the knob's end stop, strays not counted",
    maxF: "at the knob's other end stop, strays not counted",
    gapM: "air gap between the plates",
    plateThicknessM: "thickness of a plate's edge",
    metal: "what the plates are made of",
    maintainingV: "voltage that keeps an arc burning, peak of the fundamental",
  },
  "station.blockingCapacitor": {
    capacitanceF: "keeps the plate supply off the tank",
    ratedV: "direct voltage it stands",
  },
  "station.safetyChoke": {
    inductanceH: "from the output to ground",
    resistanceOhm: "of its wire",
  },
  "station.bandSwitch": {
    gapM: "air gap between open contacts",
    thicknessM: "thickness of the contact's edge",
    metal: "what the contact is made of",
    maintainingV: "voltage that keeps an arc burning, peak of the fundamental",
    tapFraction: "share of the coil between tap and output; band switch only",
  },
  "station.cooling": {
    airflowM3PerS: "what the blower moves through the anode's cooler",
    inletK: ["the site's airK", "air that enters the cooler"],
    anodeHeatCapacityJPerK: "of anode and cooler: 231 is 0.6 kg of copper",
    ratedRiseK: "anode over inlet at rated dissipation and full airflow, at sea level",
    stillShare: "share of the cooling left in still air",
    anodeLimitK: "anode temperature that damages",
    sealTimeConstantS: "how slowly the seal follows the anode",
    sealLimitK: "seal temperature that damages: 523.15 ceramic, 498.15 glass",
  },
  "station.clocks": {
    emitter: "an oxide coating is stripped by less plate current than thoriated tungsten",
    gridRatedK: "grid wires at rated grid dissipation",
    gridIdleK: "grid wires without grid current",
    gridLimitK: "grid temperature that damages",
    gridTimeConstantS: "of the wires near their rated temperature",
    exciterTimeConstantS: "of the exciter's finals under reflected drive",
    contactTimeConstantS: "of band switch contact and coil tap",
    capacitorTimeConstantS: "of tuning and loading capacitor",
    chokeTimeConstantS: "of the plate choke",
    surgeRatedJ: "energy at once that destroys the surge resistor",
    surgeCoolingS: "how slowly the surge resistor cools",
    relayRatedJ: "energy of hot switching that wears out the T/R relay",
  },
  "station.airGaps": {
    rfStrength: "strength at radio frequency over that at direct voltage",
    edgeFactor: "1 for a uniform field between rounded edges, less for sharp ones",
    strikeSpread: "standard deviation of the strike voltage over its mean, drawn from the seed",
    moltenEdgeLowers: "whether a molten edge needs less voltage to keep its arc",
  },
  "station.airGaps.arcVoltage": {
    tuningCapacitor: "its own maintainingV, or the law by gap, current, metal and density",
    coilTap: "that of the band switch, or the law",
    loadingCapacitor: "its own maintainingV, or the law",
    beyondCoupler: "that of the output contact, or the law",
  },
  "station.erosion": {
    arcTimeConstantS: "how fast an arc's conductance follows its heat",
    holdingW: "an arc fed with less goes out",
    startK: "temperature of the parts when a run begins",
  },
  "station.erosion.nominal": {
    spotAPerM2: "current density at the arc's root",
    electrodeShare: "share of the arc's power that heats one edge",
  },
  "station.powerUp": {
    warmUpS: "heater on to plate voltage allowed",
    fanRunOnS: "the fan goes on this long after switch-off",
  },
  "station.transmitReceive": {
    antennaRelayS: "from key to antenna relay closed",
    inputRelayS: "then to input relay closed",
    biasS: "then to operating bias",
    driveS: "then to drive let through",
    holdS: "relays stay closed this long after the key",
  },
  "station.arc": {
    place: "where it burns",
    maintainingV: ["that of the place", "voltage that keeps it burning, peak of the fundamental"],
    tapFraction: ["that of the band switch", "coilTap only: share of the coil to the output"],
  },
  "sensors.driveForwardW": {
    timeConstantS: "of the detector",
    fullScale: "where the converter ends",
    bits: "of the converter",
    gainError: "0.01 reads 1 % too high",
    offset: "added to the reading",
    noiseFraction: "standard deviation of the noise over full scale",
    directivityDb: "of a coupler: how well it tells the two waves apart; null is ideal",
  },
  "sensors.comparatorTap": {
    timeConstantS: "of the fast tap on the plate-current shunt",
    fullScaleA: "where the tap ends",
  },
  "monitors[]": {
    id: "short name, used once",
    name: ["the id", "name shown to people"],
    deviceNumber: "IEEE C37.2 number, shown as a second label",
    role: "acting trips, shadow only shows, off does not look",
    tuneRole: ["the role", "role in tune mode"],
    path: "scanned looks once a scan; comparator watches plate current without a scan",
    scanS: "time between two looks, a whole number of samples",
    smoothingS: "time constant laid over its readings",
    blankingS: "looks away this long after key-down",
    criteria: "any of them operates the monitor",
    alarm: "a warning before it operates, or null",
    actions: "what it opens when it operates",
  },
  "monitors[].arming": {
    kind: "onAir judges only while drive and T/R relay are there",
    driveAboveW: "drive that counts as on the air",
    settledS: "wait after drive passed that",
    holdS: "without drive a running count is kept this long",
    when: "further conditions, all of which must hold",
    afterSupplyReadyS: "wait after plate voltage came up",
  },
  "monitors[].arming.when[]": {
    quantity: "what is looked at",
    side: "over or under the level",
    level: "the level",
  },
  "monitors[].criteria[]": {
    quantity: "what is watched",
    side: "over or under the pickup",
    pickup: "where timing begins",
    dropOff: ["5 % inside the pickup", "where it lets go"],
    tunePickup: "pickup in tune mode, where it differs",
    when: "further conditions at the same look",
  },
  'monitors[].criteria[].timing, "kind": "instantaneous"': {
    scans: "operates when this many",
    ofScans: "of the last this many looks were past the pickup",
  },
  'monitors[].criteria[].timing, "kind": "definite"': {
    delayS: "operates after this long past the pickup, rounded up to scans",
  },
  'monitors[].criteria[].timing, "kind": "inverse"': {
    curve: "IEC 60255-151 A to C or IEEE C37.112 D to F: the further past, the sooner",
    timeMultiplier: "times the curve's own time",
  },
  'monitors[].criteria[].timing, "kind": "thermal"': {
    timeConstantS: "of the heat image, which operates at the pickup",
  },
  "monitors[].alarm": {
    quantity: "what is watched",
    side: "over or under the level",
    level: "where the alarm comes",
    delayS: "after this long",
  },
  "monitors[].reset": {
    kind: "byHand waits for a person, self tries again, lockout needs a person at once",
    afterS: "self: wait before trying again",
    tries: "self: tries allowed",
    withinS: "self: inside this time",
    repeatWithinS: "operating again inside this time locks out; 0 never",
    when: "reset is refused until all hold",
  },
  "actuators.driveInhibit": { delayS: "from trip to drive gone", ...DELAY_SPREAD },
  "actuators.cathodeCutoff": {
    delayS: "from trip to cathode opened",
    ...DELAY_SPREAD,
    kind: "resistor lets the tube bias itself off, step adds bias",
    resistorOhm: "the resistor",
    bypassF: "capacitor across it",
    stepV: "the step",
  },
  "actuators.transmitReceive": {
    releaseS: "from release to relay open",
    ...DELAY_SPREAD,
    waitBelowW: "release waits until output is under this",
    waitAtMostS: "but no longer than this",
  },
  "actuators.contactor": { delayS: "from trip to plate supply off the mains", ...DELAY_SPREAD },
  "actuators.crowbar": {
    fitted: "false: there is none, and what names it gets nothing",
    delayS: "from trip to the filter shorted",
    ...DELAY_SPREAD,
    resistanceOhm: "of the short across the filter",
  },
  'scenario[], "do": "set"': {
    ...ENTRY,
    control: "knob; it moves in 50 ms",
    value: "where it goes: watts, or a ratio of the tuned value, or VSWR, or radians",
  },
  'scenario[], "do": "key"': {
    ...ENTRY,
    down: "true presses, false lifts",
    text: "or Morse to send",
    wordsPerMinute: "its speed",
  },
  'scenario[], "do": "signal", "signal": "carrier"': ENTRY,
  'scenario[], "do": "signal", "signal": "twoTone"': { ...ENTRY, spacingHz: "between the tones" },
  'scenario[], "do": "signal", "signal": "speech"': { ...ENTRY, talker: TALKER },
  'scenario[], "do": "signal", "signal": "processedSpeech"': {
    ...ENTRY,
    talker: TALKER,
    processingDb: "how far quiet parts are lifted",
  },
  'scenario[], "do": "signal", "signal": "data"': {
    ...ENTRY,
    powerShare: "steady envelope at this share of the drive",
  },
  'scenario[], "do": "operate"': ENTRY,
  'scenario[], "do": "standby"': ENTRY,
  'scenario[], "do": "power"': {
    ...ENTRY,
    on: "true: heater and fan, plate voltage when it is warm; false: off, the fan runs on",
  },
  'scenario[], "do": "interlock"': {
    ...ENTRY,
    which: "lid of the cabinet, or switch in the air stream",
    closed: "false takes the plate supply away",
  },
  'scenario[], "do": "mode"': { ...ENTRY, mode: "operate, or tune with its own pickups" },
  'scenario[], "do": "placeFault"': {
    ...FAULT,
    severity: ["the usual one", "how bad; what the number means depends on the fault"],
    onset: ["sudden", "how it comes: at once, growing, coming and going, or for a time"],
  },
  'scenario[].onset, "kind": "sudden"': {},
  'scenario[].onset, "kind": "growing"': { overS: "until it is all there, in a straight line" },
  'scenario[].onset, "kind": "intermittent"': {
    share: "of the time it is there, on a pattern fixed by the seed",
  },
  'scenario[].onset, "kind": "passing"': { forS: "there for this long, then gone" },
  'scenario[], "do": "removeFault"': FAULT,
  'scenario[], "do": "acknowledge"': ENTRY,
  'scenario[], "do": "clearTripMemory"': ENTRY,
  'scenario[], "do": "reset"': ENTRY,
  'scenario[], "do": "configureMonitor"': {
    ...ENTRY,
    monitor: "id of the monitor",
  },
  "scenario[].change": {
    role: "new role",
    criterion: ["0", "which of its criteria, counted from 0"],
    pickup: "new pickup",
    delayS: "new delay",
    timing: "new timing, as in monitors[].criteria[].timing",
  },
};

/** Units that are more than one letter of the schema, or depend on a neighbour. */
export const FIELD_UNITS: Readonly<Record<string, string>> = {
  perveanceAPerV1p5: "A/V^1.5",
  spotAPerM2: "A/m2",
  level: "quantity's",
  pickup: "quantity's",
  dropOff: "quantity's",
  tunePickup: "quantity's",
  fullScale: "sensor's",
  offset: "sensor's",
  value: "control's",
  severity: "fault's",
};
