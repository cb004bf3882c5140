/** Shape and ranges of sensors, monitors and actuators. */
import * as z from "zod/mini";
import type { SensorName } from "../../project/protection";
import { anObject, durationS, flag, list, quantity, record, text, whole } from "./parts";

const SENSOR_NAMES = [
  "driveForwardW",
  "driveReflectedW",
  "outputForwardW",
  "outputReflectedW",
  "plateCurrentA",
  "gridCurrentA",
  "plateV",
  "plateRfPeakV",
  "exhaustAirK",
  "tankLight",
] as const satisfies readonly SensorName[];

const sensor = record({
  timeConstantS: quantity("s", { min: 0, max: 10 }),
  fullScale: quantity("", { min: 0, aboveMin: true, max: 1e6 }),
  bits: whole("", 4, 24),
  gainError: quantity("", { min: -0.9, max: 9 }),
  offset: quantity("", { min: -1e6, max: 1e6 }),
  noiseFraction: quantity("", { min: 0, max: 0.5 }),
  directivityDb: z.nullable(quantity("dB", { min: 0, max: 100 })),
});

export const sensorsSchema = record({
  driveForwardW: sensor,
  driveReflectedW: sensor,
  outputForwardW: sensor,
  outputReflectedW: sensor,
  plateCurrentA: sensor,
  gridCurrentA: sensor,
  plateV: sensor,
  plateRfPeakV: sensor,
  exhaustAirK: sensor,
  tankLight: sensor,
  comparatorTap: record({
    timeConstantS: quantity("s", { min: 0, max: 10 }),
    fullScaleA: quantity("A", { min: 0, aboveMin: true, max: 1e6 }),
  }),
});

const quantityName = z.enum([
  ...SENSOR_NAMES,
  "forwardGainDb",
  "gainDeviationDb",
  "netOutputW",
  "vswr",
  "plateDissipationW",
  "efficiency",
  "gridPlateRatio",
  "inputReflectedRatio",
]);
const side = z.enum(["over", "under"]);
const role = z.enum(["acting", "shadow", "off"]);
/** Watts, amperes, volts, decibels or a ratio, by the quantity watched. */
const level = quantity("", { min: -1e6, max: 1e6 });
const condition = record({ quantity: quantityName, side, level });
const conditions = list(condition);

export const timingSchema = z.discriminatedUnion(
  "kind",
  [
    record({
      kind: z.literal("instantaneous"),
      scans: whole("", 1, 1000),
      ofScans: whole("", 1, 1000),
    }),
    record({ kind: z.literal("definite"), delayS: durationS }),
    record({
      kind: z.literal("inverse"),
      curve: z.enum(["iecA", "iecB", "iecC", "ieeeD", "ieeeE", "ieeeF"]),
      timeMultiplier: quantity("", { min: 1e-3, max: 100 }),
    }),
    record({
      kind: z.literal("thermal"),
      timeConstantS: quantity("s", { min: 1e-3, max: 3600 }),
    }),
  ],
  anObject,
);

const criterion = record({
  quantity: quantityName,
  side,
  pickup: level,
  dropOff: level,
  tunePickup: z.exactOptional(level),
  timing: timingSchema,
  when: conditions,
});

export const actuatorName = z.enum([
  "driveInhibit",
  "cathodeCutoff",
  "transmitReceive",
  "contactor",
  "crowbar",
]);

const monitor = record({
  id: text(60),
  name: text(100),
  deviceNumber: text(20),
  role,
  tuneRole: role,
  path: z.enum(["scanned", "comparator"]),
  scanS: quantity("s", { min: 1e-6, max: 1 }),
  smoothingS: quantity("s", { min: 0, max: 10 }),
  arming: record({
    kind: z.enum(["always", "onAir"]),
    driveAboveW: quantity("W", { min: 0, max: 1e4 }),
    settledS: durationS,
    holdS: durationS,
    when: conditions,
    afterSupplyReadyS: durationS,
  }),
  blankingS: durationS,
  criteria: list(criterion),
  alarm: z.nullable(record({ quantity: quantityName, side, level, delayS: durationS })),
  actions: list(actuatorName),
  reset: record({
    kind: z.enum(["byHand", "self", "lockout"]),
    afterS: durationS,
    tries: whole("", 0, 1000),
    withinS: durationS,
    repeatWithinS: durationS,
    when: conditions,
  }),
});

export const monitorsSchema = list(monitor);

/** The live change of a monitor, as a scenario gives it. */
export const monitorChangeSchema = record({
  role: z.exactOptional(role),
  criterion: z.exactOptional(whole("", 0, 100)),
  pickup: z.exactOptional(level),
  delayS: z.exactOptional(durationS),
  timing: z.exactOptional(timingSchema),
});

const delayS = quantity("s", { min: 0, max: 10 });
const delaySpread = {
  earliestRatio: quantity("", { min: 0, max: 1 }),
  latestRatio: quantity("", { min: 1, max: 100 }),
};

export const actuatorsSchema = record({
  driveInhibit: record({ delayS, ...delaySpread }),
  cathodeCutoff: record({
    delayS,
    ...delaySpread,
    kind: z.enum(["resistor", "step"]),
    resistorOhm: quantity("ohm", { min: 1, max: 1e7 }),
    bypassF: quantity("F", { min: 0, max: 1e-3 }),
    stepV: quantity("V", { min: 0, max: 5000 }),
  }),
  transmitReceive: record({
    releaseS: delayS,
    ...delaySpread,
    waitBelowW: quantity("W", { min: 0, max: 1e6 }),
    waitAtMostS: delayS,
  }),
  contactor: record({ delayS, ...delaySpread }),
  crowbar: record({
    fitted: flag,
    delayS,
    ...delaySpread,
    resistanceOhm: quantity("ohm", { min: 1e-3, max: 1000 }),
  }),
});
