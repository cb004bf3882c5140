/**
 * What the fields of a project file mean, by section and name; `fieldTable.ts` adds units, defaults and ranges. A note is the
 * meaning, or the default in words and the meaning where a default depends on something else.
 */

import { type Notes, STATION_NOTES } from "./stationNotes";

const ENTRY: Notes = { atS: "project time at which it happens" };

const FAULT: Notes = {
  ...ENTRY,
  fault: "which fault",
  part: "the part it sits on",
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
  ...STATION_NOTES,
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
