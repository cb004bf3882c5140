/**
 * Default sensors, monitors and actuators of the demonstration station: data, no code.
 *
 * Standing: every number here is a practitioner's judgement or common practice, without a published source, to be
 * confirmed or corrected by the product's own trials. `MONITOR_STANDING` says per monitor what stands behind it.
 * Sensor errors are 0 by default and varied in trials within the tolerances given beside them.
 */
import type {
  ActuatorName,
  Actuators,
  Arming,
  Criterion,
  MonitorDef,
  ResetRule,
  SensorDef,
  Sensors,
} from "./protection";

const ALWAYS: Arming = {
  kind: "always",
  driveAboveW: 0,
  settledS: 0,
  holdS: 0,
  when: [],
  afterSupplyReadyS: 0,
};

/** Operate, T/R confirmed closed, 10 ms after drive first passed 5 W; under 5 W counts are held for 100 ms. */
const ON_AIR: Arming = {
  kind: "onAir",
  driveAboveW: 5,
  settledS: 0.01,
  holdS: 0.1,
  when: [],
  afterSupplyReadyS: 0,
};

const BY_HAND: ResetRule = {
  kind: "byHand",
  afterS: 0,
  tries: 0,
  withinS: 0,
  repeatWithinS: 0,
  when: [],
};

const LOCKOUT: ResetRule = { ...BY_HAND, kind: "lockout" };

/** One try after 2 s; a further operation inside a minute is a lockout. */
const ONE_RETRY: ResetRule = { ...BY_HAND, kind: "self", afterS: 2, tries: 1, withinS: 60 };

const DRIVE: readonly ActuatorName[] = ["driveInhibit"];
const DRIVE_CATHODE: readonly ActuatorName[] = ["driveInhibit", "cathodeCutoff"];
const ALL: readonly ActuatorName[] = [
  "driveInhibit",
  "cathodeCutoff",
  "transmitReceive",
  "contactor",
];

const SCAN_S = 1e-3;

/** What most monitors share: acting, scanned every 1 ms without smoothing, always armed, no blanking. */
const SCANNED = {
  role: "acting",
  tuneRole: "acting",
  path: "scanned",
  scanS: SCAN_S,
  smoothingS: 0,
  arming: ALWAYS,
  blankingS: 0,
} as const;

/** Looks at nothing until somebody switches it on. */
const OFF = { role: "off", tuneRole: "off" } as const;

function celsius(degrees: number): number {
  return degrees + 273.15;
}

/** Over a pickup for a time, reset ratio 0.95 unless said. */
function over(
  quantity: Criterion["quantity"],
  pickup: number,
  delayS: number,
  when: Criterion["when"] = [],
  dropOff = 0.95 * pickup,
): Criterion {
  return {
    quantity,
    side: "over",
    pickup,
    dropOff,
    timing: { kind: "definite", delayS },
    when,
  };
}

/** Under a pickup for a time, reset ratio 1.05. */
function under(
  quantity: Criterion["quantity"],
  pickup: number,
  delayS: number,
  when: Criterion["when"] = [],
): Criterion {
  return { ...over(quantity, pickup, delayS, when), side: "under", dropOff: 1.05 * pickup };
}

const COUPLER_NOISE = 0.0005; // of full scale

function sensor(timeConstantS: number, fullScale: number, noiseFraction = 0): SensorDef {
  return {
    timeConstantS,
    fullScale,
    bits: 12,
    gainError: 0,
    offset: 0,
    noiseFraction,
    directivityDb: null,
  };
}

export const DEFAULT_SENSORS: Sensors = {
  driveForwardW: { ...sensor(0.2e-3, 250, COUPLER_NOISE), directivityDb: 25 },
  driveReflectedW: { ...sensor(0.2e-3, 250, COUPLER_NOISE), directivityDb: 25 },
  outputForwardW: { ...sensor(0.2e-3, 2500, COUPLER_NOISE), directivityDb: 30 },
  outputReflectedW: { ...sensor(0.2e-3, 1000, COUPLER_NOISE), directivityDb: 30 },
  plateCurrentA: sensor(0.3e-3, 2.5), // gain within 1 % in trials
  gridCurrentA: sensor(0.3e-3, 1), // 1 %
  plateV: sensor(1e-3, 5000), // 1 %
  plateRfPeakV: sensor(50e-6, 6000), // 3 %
  exhaustAirK: sensor(3, 473.15), // a bead in the air stream, 0 to 200 degC [E]
  tankLight: sensor(20e-6, 1, 0.002), // photodiode and amplifier [E]
  comparatorTap: { timeConstantS: 20e-6, fullScaleA: 10 },
};

export const DEFAULT_ACTUATORS: Actuators = {
  // solid state; through an exciter's inhibit line 5-20 ms
  driveInhibit: { delayS: 0.2e-3, earliestRatio: 0.5, latestRatio: 2.5 },
  cathodeCutoff: {
    delayS: 0.1e-3,
    earliestRatio: 1,
    latestRatio: 1,
    kind: "resistor",
    resistorOhm: 10e3,
    bypassF: 10e-9,
    stepV: 100,
  },
  // a vacuum relay takes 3 ms, an open frame 15 ms
  transmitReceive: {
    releaseS: 8e-3,
    earliestRatio: 0.375,
    latestRatio: 1.875,
    waitBelowW: 10,
    waitAtMostS: 30e-3,
  },
  contactor: { delayS: 25e-3, earliestRatio: 0.6, latestRatio: 1.6 }, // 15-40 ms
  // a triggered gap or thyratron fires in some 20 us; half an ohm of leads and limiting resistor [E]
  crowbar: { fitted: false, delayS: 20e-6, earliestRatio: 1, latestRatio: 1, resistanceOhm: 0.5 },
};

export const DEFAULT_MONITORS: readonly MonitorDef[] = [
  {
    ...SCANNED,
    id: "lowGain",
    name: "Low gain",
    deviceNumber: "",
    tuneRole: "shadow",
    smoothingS: 2e-3,
    arming: { ...ON_AIR, when: [{ quantity: "plateV", side: "over", level: 2500 }] },
    criteria: [
      {
        quantity: "gainDeviationDb",
        side: "under",
        pickup: -2,
        dropOff: -1.5,
        timing: { kind: "definite", delayS: 2e-3 },
        when: [],
      },
    ],
    alarm: { quantity: "gainDeviationDb", side: "under", level: -1.2, delayS: 0.5 },
    actions: ["driveInhibit", "cathodeCutoff", "transmitReceive"],
    reset: { ...BY_HAND, repeatWithinS: 60 },
  },
  {
    ...SCANNED,
    id: "gridTimed",
    name: "Grid overcurrent, timed",
    deviceNumber: "76",
    criteria: [over("gridCurrentA", 0.15, 100e-3)],
    alarm: { quantity: "gridCurrentA", side: "over", level: 0.145, delayS: 0.5 },
    actions: DRIVE_CATHODE,
    reset: ONE_RETRY,
  },
  {
    ...SCANNED,
    id: "gridFast",
    name: "Grid overcurrent, fast",
    deviceNumber: "76",
    criteria: [over("gridCurrentA", 0.35, 15e-3)],
    alarm: null,
    actions: DRIVE_CATHODE,
    reset: BY_HAND,
  },
  {
    ...SCANNED,
    id: "overdrive",
    name: "Overdrive",
    deviceNumber: "",
    smoothingS: 2e-3,
    criteria: [
      { ...over("driveForwardW", 100, 30e-3), tunePickup: 25 },
      over("driveForwardW", 180, 3e-3),
    ],
    alarm: { quantity: "driveForwardW", side: "over", level: 75, delayS: 0.5 },
    actions: DRIVE,
    reset: { ...BY_HAND, kind: "self", afterS: 2, tries: 3, withinS: 30 },
  },
  {
    ...SCANNED,
    id: "reflectedPower",
    name: "Reflected power",
    deviceNumber: "",
    smoothingS: 0.5e-3,
    criteria: [
      over("outputReflectedW", 170, 20e-3),
      over("outputReflectedW", 350, 2e-3),
      over("vswr", 3, 0.2, [{ quantity: "outputForwardW", side: "over", level: 50 }]),
    ],
    alarm: { quantity: "outputReflectedW", side: "over", level: 120, delayS: 0.2 },
    actions: DRIVE, // the T/R relay is held: it must not open onto a bad load
    reset: ONE_RETRY,
  },
  {
    ...SCANNED,
    id: "plateInstantaneous",
    name: "Plate overcurrent, instantaneous",
    deviceNumber: "76",
    path: "comparator",
    criteria: [
      {
        quantity: "plateCurrentA",
        side: "over",
        pickup: 2,
        dropOff: 1.9,
        timing: { kind: "instantaneous", scans: 1, ofScans: 1 },
        when: [],
      },
    ],
    alarm: null,
    actions: ALL,
    reset: LOCKOUT,
  },
  {
    ...SCANNED,
    id: "plateTimed",
    name: "Plate overcurrent, timed",
    deviceNumber: "76",
    criteria: [over("plateCurrentA", 1.05, 2)],
    alarm: { quantity: "plateCurrentA", side: "over", level: 0.95, delayS: 1 },
    actions: DRIVE_CATHODE,
    reset: BY_HAND,
  },
  {
    ...SCANNED,
    id: "plateRfOvervoltage",
    name: "Plate RF overvoltage",
    deviceNumber: "59",
    scanS: 50e-6, // every sample
    criteria: [over("plateRfPeakV", 3400, 0.2e-3)],
    alarm: { quantity: "plateRfPeakV", side: "over", level: 3200, delayS: 50e-3 },
    actions: DRIVE_CATHODE,
    reset: ONE_RETRY,
  },
  {
    ...SCANNED,
    id: "plateDissipation",
    name: "Plate dissipation",
    deviceNumber: "49",
    scanS: 10e-3, // a tenth of a per cent of the time constant; slower costs nothing here
    criteria: [
      {
        quantity: "plateDissipationW",
        side: "over",
        pickup: 1700,
        dropOff: 0.95 * 1700,
        timing: { kind: "thermal", timeConstantS: 15 },
        when: [],
      },
    ],
    alarm: { quantity: "plateDissipationW", side: "over", level: 0.95 * 1700, delayS: 0 },
    actions: DRIVE_CATHODE,
    reset: {
      ...BY_HAND,
      when: [{ quantity: "plateDissipationW", side: "under", level: 0.8 * 1700 }],
    },
  },
  {
    ...SCANNED,
    id: "supplyUndervoltage",
    name: "Supply undervoltage",
    deviceNumber: "27",
    arming: { ...ALWAYS, afterSupplyReadyS: 1 },
    criteria: [
      under("plateV", 2500, 0.1),
      under("plateV", 1500, 2e-3, [{ quantity: "driveForwardW", side: "over", level: 5 }]),
    ],
    alarm: { quantity: "plateV", side: "under", level: 2650, delayS: 1 },
    actions: DRIVE,
    reset: {
      ...BY_HAND,
      kind: "self",
      afterS: 1,
      tries: 1,
      withinS: 0, // no window: it may try again as often as the supply comes back
      when: [{ quantity: "plateV", side: "over", level: 2650 }],
    },
  },
  {
    ...SCANNED,
    id: "outputWithoutDrive",
    name: "Output without drive",
    deviceNumber: "",
    criteria: [
      over("outputForwardW", 20, 10e-3, [{ quantity: "driveForwardW", side: "under", level: 0.5 }]),
      over("gridCurrentA", 0.01, 10e-3, [{ quantity: "driveForwardW", side: "under", level: 0.5 }]),
      // beside the band the couplers' circuits see little; the plate current says what the tube does,
      // as long as the supply stands: in a short the current is no tube's
      over("plateCurrentA", 0.5, 20e-3, [
        { quantity: "driveForwardW", side: "under", level: 0.5 },
        { quantity: "plateV", side: "over", level: 2500 },
      ]),
    ],
    alarm: null,
    actions: ALL,
    reset: LOCKOUT,
  },
  {
    ...SCANNED,
    id: "exhaustAir",
    name: "Exhaust air temperature",
    deviceNumber: "49",
    scanS: 10e-3,
    criteria: [over("exhaustAirK", celsius(110), 1, [], celsius(105))],
    alarm: { quantity: "exhaustAirK", side: "over", level: celsius(90), delayS: 0 },
    // without air the idle current alone would go on heating the plate; the fan runs as long as the station is on
    actions: DRIVE_CATHODE,
    reset: { ...BY_HAND, when: [{ quantity: "exhaustAirK", side: "under", level: celsius(80) }] },
  },
  {
    ...SCANNED,
    ...OFF,
    id: "gridPlateRatio",
    name: "Grid to plate current",
    deviceNumber: "",
    smoothingS: 2e-3,
    criteria: [over("gridPlateRatio", 0.2, 0.1)],
    alarm: null,
    actions: DRIVE,
    reset: BY_HAND,
  },
  {
    ...SCANNED,
    ...OFF,
    id: "tankLight",
    name: "Light in the tank compartment",
    deviceNumber: "",
    scanS: 0.1e-3,
    criteria: [
      {
        quantity: "tankLight",
        side: "over",
        pickup: 0.1,
        dropOff: 0.095,
        timing: { kind: "instantaneous", scans: 3, ofScans: 4 },
        when: [],
      },
    ],
    alarm: null,
    actions: DRIVE_CATHODE,
    reset: { ...BY_HAND, repeatWithinS: 60 },
  },
  {
    ...SCANNED,
    ...OFF,
    id: "efficiency",
    name: "Efficiency",
    deviceNumber: "",
    smoothingS: 2e-3,
    arming: ON_AIR,
    criteria: [
      under("efficiency", 0.35, 20e-3, [{ quantity: "driveForwardW", side: "over", level: 30 }]),
    ],
    alarm: null,
    actions: DRIVE_CATHODE,
    reset: BY_HAND,
  },
  {
    ...SCANNED,
    ...OFF,
    id: "inputReflected",
    name: "Input reflected power",
    deviceNumber: "",
    smoothingS: 2e-3,
    arming: ON_AIR,
    criteria: [
      over("inputReflectedRatio", 0.25, 50e-3, [
        { quantity: "driveForwardW", side: "over", level: 30 },
      ]),
    ],
    alarm: null,
    actions: DRIVE,
    reset: BY_HAND,
  },
];

/** What stands behind each monitor's numbers; by monitor id. */
export const MONITOR_STANDING: Readonly<Record<string, string>> = {
  lowGain:
    "2 dB under expected and 2 ms: estimate, to be confirmed by trials on speech; an absolute floor of 12 dB is common practice, no source.",
  gridTimed:
    "Grid rating 150 mA of the generic pair; 100 ms outlasts a mains dip of 60 ms at VSWR 1.5, which 50 ms did not: own trial.",
  gridFast: "A little over twice the rating; 15 ms is an estimate.",
  overdrive: "Full drive 62 W; 1.6 and 2.9 times that are estimates. 25 W in tune mode: estimate.",
  reflectedPower: "VSWR 2 at full output is 161 W reflected; VSWR 3 is common practice, no source.",
  plateInstantaneous: "Twice the rating: common practice, no source.",
  plateTimed: "A little over the continuous rating for a few seconds: common practice, no source.",
  plateRfOvervoltage: "Normal peak 2.5 kV, open load 3.7 kV; between the two: estimate.",
  plateDissipation:
    "Rating 1500 W and sensing tolerance; 15 s is an estimate of the plate's time constant.",
  supplyUndervoltage: "No-load 3180 V, key-down about 3050 V; 2.50 kV is an estimate.",
  outputWithoutDrive:
    "Over leakage and noise of the couplers, plate current over any idle current; 10 and 20 ms are estimates.",
  exhaustAir:
    "1500 W warm the rated air by 75 K: 100 °C from a room of 25 °C; 110 °C and 1 s are estimates.",
  gridPlateRatio: "8 % at full carrier, 14 % at 100 W of drive; 20 % and 100 ms are estimates.",
  tankLight: "A tenth of the diode's scale, 50 W of arc, twice the room's light; estimates.",
  efficiency: "58 % at full carrier, some 15 % with an arc in the tank; 35 % is an estimate.",
  inputReflected: "A quarter of the drive is VSWR 3 at the input: common practice, no source.",
};
