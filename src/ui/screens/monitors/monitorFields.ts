/**
 * Fields of monitors, sensors and actuators as they stand in their forms: labels, units, words of choices. A level stands in the unit
 * of the quantity it is a level of, a full scale in that of its sensor.
 */
import { projectSchema } from "../../../formats/schema/projectSchema";
import type { QuantityName } from "../../../project/protection";
import type { Project } from "../../../project/types";
import { QUANTITY_WORDS } from "../../../protection/quantityWords";
import { type FieldPath, valueAt } from "../../../state/stationKinds";
import { type FieldLabel, type FormItem, type FormWords, fieldsOf } from "../../forms/formTree";
import { upperFirst } from "../bench/views/words";
import { reachWarning } from "./reachWords";

export const MONITOR_LABELS: Readonly<Record<string, FieldLabel>> = {
  // monitor
  "monitors.name": ["Name", ""],
  deviceNumber: ["IEEE C37.2 number", ""],
  role: ["Acts", ""],
  tuneRole: ["In tune mode", ""],
  path: ["Looks", ""],
  scanS: ["Scan", "ms"],
  smoothingS: ["Smoothing", "ms"],
  blankingS: ["Blanking after key-down", "ms"],
  // criterion
  quantity: ["Quantity", ""],
  side: ["Side", ""],
  pickup: ["Pickup", ""],
  dropOff: ["Drop-off", ""],
  tunePickup: ["Pickup in tune mode", ""],
  level: ["Level", ""],
  "monitors.criteria.timing.kind": ["Timing", ""],
  "monitors.criteria.timing.delayS": ["Confirmation", "ms"],
  scans: ["Scans past it", ""],
  ofScans: ["Of the last scans", ""],
  curve: ["Curve", ""],
  timeMultiplier: ["Time multiplier", ""],
  "monitors.criteria.timing.timeConstantS": ["Time constant", "s"],
  // arming
  "monitors.arming.kind": ["Armed", ""],
  driveAboveW: ["Drive above", "W"],
  settledS: ["Settled for", "ms"],
  holdS: ["Counts held for", "ms"],
  afterSupplyReadyS: ["After supply ready", "s"],
  "monitors.alarm.level": ["Alarm level", ""],
  "monitors.alarm.delayS": ["After", "ms"],
  // reset
  "monitors.reset.kind": ["Reset", ""],
  afterS: ["Tries again after", "s"],
  tries: ["Tries", ""],
  withinS: ["Within", "s"],
  repeatWithinS: ["Second in, lockout", "s"],
  // sensors
  timeConstantS: ["Time constant", "ms"],
  fullScale: ["Full scale", ""],
  bits: ["Bits", ""],
  gainError: ["Gain error", "%"],
  offset: ["Offset", ""],
  noiseFraction: ["Noise, of full scale", "%"],
  directivityDb: ["Directivity", "dB"],
  fullScaleA: ["Full scale", "A"],
  // actuators
  delayS: ["Delay", "ms"],
  earliestRatio: ["Earliest, times it", ""],
  latestRatio: ["Latest, times it", ""],
  "actuators.cathodeCutoff.kind": ["Kind", ""],
  resistorOhm: ["Resistor", "kΩ"],
  bypassF: ["Bypass", "nF"],
  stepV: ["Step", "V"],
  releaseS: ["Release", "ms"],
  waitBelowW: ["Waits for output under", "W"],
  waitAtMostS: ["But at most", "ms"],
  fitted: ["Fitted", ""],
  resistanceOhm: ["Resistance", "Ω"],
};

const CHOICES: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    Object.entries(QUANTITY_WORDS).map(([name, { words }]) => [name, upperFirst(words)]),
  ),
  acting: "acting",
  shadow: "shadow",
  off: "off",
  scanned: "once a scan",
  comparator: "comparator, at once",
  over: "over",
  under: "under",
  always: "at any time",
  onAir: "on the air",
  instantaneous: "n of m scans",
  definite: "definite time",
  inverse: "dependent time",
  thermal: "thermal replica",
  iecA: "IEC A, inverse",
  iecB: "IEC B, very inverse",
  iecC: "IEC C, extremely inverse",
  ieeeD: "IEEE D, moderately inverse",
  ieeeE: "IEEE E, very inverse",
  ieeeF: "IEEE F, extremely inverse",
  byHand: "by hand",
  self: "by itself",
  lockout: "lockout at once",
  resistor: "resistor",
  step: "bias step",
};

/** Units a quantity is typed in. */
const QUANTITY_UNITS: Partial<Record<QuantityName, string>> = { gridCurrentA: "mA" };

/** Unit of a quantity in its box. */
export function typedUnit(quantity: QuantityName): string {
  const { unit } = QUANTITY_WORDS[quantity];
  return QUANTITY_UNITS[quantity] ?? (unit === "K" ? "°C" : unit);
}

const LEVELS: readonly string[] = ["pickup", "dropOff", "tunePickup", "level"];

function unitOf(path: FieldPath, root: unknown): string | undefined {
  const name = String(path.at(-1));
  if (LEVELS.includes(name)) {
    const quantity = valueAt(root, [...path.slice(0, -1), "quantity"]) as QuantityName | undefined;
    return quantity === undefined ? undefined : typedUnit(quantity);
  }
  if (path[0] !== "sensors" || path[1] === "comparatorTap") return undefined;
  if (name === "fullScale") return typedUnit(path[1] as QuantityName);
  // an offset is a difference: kelvins stay kelvins
  if (name === "offset")
    return path[1] === "exhaustAirK" ? "kelvin" : typedUnit(path[1] as QuantityName);
  return undefined;
}

function sharedNotes(path: FieldPath): string {
  if (path.includes("when")) return "monitors[].arming.when[]";
  return path[0] === "sensors" ? "sensors.driveForwardW" : "";
}

const WORDS: FormWords = {
  labels: MONITOR_LABELS,
  groups: {},
  choices: CHOICES,
  rootPlace: "",
  fixedKinds: [],
  sharedNotes,
  unitOf,
  warningOf: (path, root) => reachWarning(path, root as Project),
};

/** The fields of a part of a project; those named are picked, in this order. */
export function projectFields(
  project: Project,
  path: FieldPath,
  names?: readonly string[],
): readonly FormItem[] {
  const items = fieldsOf(projectSchema, project, path, WORDS);
  if (names === undefined) return items.filter((item) => item.kind !== "list");
  return names.flatMap((name) => items.filter((item) => item.path.at(-1) === name));
}

/** The file's own word in words. */
export function choiceWord(word: string): string {
  return CHOICES[word] ?? word;
}

/** Functions of the device numbers, as IEEE C37.2 names them in short. */
export const DEVICES: readonly (readonly [number: string, words: string])[] = [
  ["27", "undervoltage"],
  ["37", "undercurrent or underpower"],
  ["49", "thermal"],
  ["50", "instantaneous overcurrent"],
  ["51", "time overcurrent, alternating"],
  ["59", "overvoltage"],
  ["76", "direct-current overcurrent"],
];
