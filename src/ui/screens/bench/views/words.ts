/**
 * Words of the bench's race, plate edge and sequence of events: places, parts, actuators, readings and what a
 * quantity did. Every number leaves here with its unit.
 */
import { FAULTS } from "../../../../project/faults";
import type {
  ActuatorName,
  Condition,
  Criterion,
  MonitorDef,
  QuantityName,
} from "../../../../project/protection";
import type { FaultName, PartName } from "../../../../project/scenario";
import type { ArcPlace, MetalName, Station } from "../../../../project/station";
import { formatReading, QUANTITY_WORDS } from "../../../../protection/quantityWords";
import type { DamagePart, SupplyNews } from "../../../../simulation/benchEvent";
import { formatDb, formatQuantity, formatTime, NO_BREAK_SPACE } from "../../../../units/format";

export const PLACE_WORDS: Readonly<Record<ArcPlace, string>> = {
  tuningCapacitor: "tuning capacitor",
  loadingCapacitor: "loading capacitor",
  coilTap: "coil tap",
  beyondCoupler: "output contact",
};

export const PART_WORDS: Readonly<Record<PartName, string>> = {
  exciter: "exciter",
  tube: "tube",
  supply: "plate supply",
  tuningCapacitor: "tuning capacitor",
  bandSwitch: "band switch",
  loadingCapacitor: "loading capacitor",
  tank: "tank",
  outputContact: "output contact",
  load: "antenna",
  protection: "protection",
  driveForwardW: "drive",
  driveReflectedW: "reflected drive",
  outputForwardW: "forward power",
  outputReflectedW: "reflected power",
  plateCurrentA: "plate current",
  gridCurrentA: "grid current",
  plateV: "plate voltage",
  plateRfPeakV: "plate RF",
  exhaustAirK: "exhaust air",
  tankLight: "tank light",
};

export const DAMAGE_WORDS: Readonly<Record<DamagePart, string>> = {
  ...PLACE_WORDS,
  grid: "grid",
  anode: "anode",
  cathode: "cathode",
  exciter: "exciter",
  seal: "tube seal",
  switchContact: "band switch contact",
  tuningWiper: "tuning capacitor's wiper",
  loadingWiper: "loading capacitor's wiper",
  plateChoke: "plate choke",
  surgeResistor: "surge resistor",
  relayContact: "T/R relay contact",
};

export const METAL_WORDS: Readonly<Record<MetalName, string>> = {
  alloy5052: "aluminium alloy",
  aluminium: "aluminium",
  copper: "copper",
  brass: "brass",
};

export const ACTED_WORDS: Readonly<Record<ActuatorName, string>> = {
  driveInhibit: "drive inhibited",
  cathodeCutoff: "cathode cut off",
  transmitReceive: "T/R relay open",
  contactor: "contactor open",
  crowbar: "crowbar fired",
};

export const RELEASED_WORDS: Readonly<Record<ActuatorName, string>> = {
  driveInhibit: "drive allowed again",
  cathodeCutoff: "cathode on again",
  transmitReceive: "T/R relay free again",
  contactor: "contactor closed again",
  crowbar: "crowbar out",
};

export const ACTUATOR_WORDS: Readonly<Record<ActuatorName, string>> = {
  driveInhibit: "drive",
  cathodeCutoff: "cathode",
  transmitReceive: "T/R relay",
  contactor: "contactor",
  crowbar: "crowbar",
};

export const STEP_WORDS: Readonly<Record<ActuatorName, string>> = {
  driveInhibit: "drive inhibit",
  cathodeCutoff: "cathode cut-off",
  transmitReceive: "T/R relay",
  contactor: "contactor",
  crowbar: "crowbar",
};

export const SUPPLY_WORDS: Readonly<Record<SupplyNews, string>> = {
  heaterOn: "Power on: heater and fan",
  warm: "Warm-up over",
  stepStart: "Contactor closed through the step-start resistor",
  supplyOn: "Step-start resistor bridged: plate supply up",
  supplyOff: "Plate supply taken away by an interlock: the filter stays charged",
  powerOff: "Power off: the filter stays charged, the fan runs on",
  fanOff: "Fan off",
  discharged: "Filter under 50 V",
  fuseMelted: "High-voltage fuse melted",
  dcArcOut: "Direct-current arc out",
  antennaLive:
    "Caution first: plate voltage stands on the output, and on the antenna while the T/R relay is closed. Touch nothing, take the power off, discharge, verify",
};

/** The first letter small, unless the word is an abbreviation. */
export function lowerFirst(text: string): string {
  const second = text.charAt(1);
  const isAbbreviation = second === "/" || second !== second.toLowerCase();
  return isAbbreviation ? text : text.charAt(0).toLowerCase() + text.slice(1);
}

export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A fault and where it is: `insect in the gap, tuning capacitor`; the part is left out where the name says it. */
export function faultWords(fault: FaultName, part: PartName): string {
  const name = lowerFirst(FAULTS[fault].name);
  return FAULTS[fault].parts.length === 1 ? name : `${name}, ${PART_WORDS[part]}`;
}

/**
 * A reading written the way of the level it is held against: amperes where the level is in amperes, and zero for what
 * is under a thousandth of it, or less than nothing by under a hundredth.
 */
export function readingNear(quantity: QuantityName, value: number, near: number): string {
  const { unit } = QUANTITY_WORDS[quantity];
  if (unit === "dB") return formatReading(quantity, value);
  const shown = orNothing(value, near);
  return unit === "A" && shown !== 0 ? ampereNear(shown, near) : formatReading(quantity, shown);
}

/** Zero for what is nothing beside a level. */
export function orNothing(value: number, near: number): number {
  const size = Math.abs(near);
  return Math.abs(value) < size * 1e-3 || (value < 0 && value > -size * 1e-2) ? 0 : value;
}

/** A current in amperes beside a level of an ampere or more: `0.815 A`. */
export function ampereNear(value: number, near: number): string {
  return Math.abs(near) >= 1 && Math.abs(value) < 1
    ? formatQuantity(value, "A", { prefix: "" })
    : formatQuantity(value, "A");
}

/** Two readings with the unit said once where it is the same: `93.0 to 71.0 mA`, `2.42 kV to 244 V`. */
export function spanWords(from: string, to: string): string {
  const [fromNumber = from, fromUnit = ""] = from.split(NO_BREAK_SPACE);
  const toUnit = to.split(NO_BREAK_SPACE)[1] ?? "";
  return fromUnit === toUnit ? `${fromNumber} to ${to}` : `${from} to ${to}`;
}

/** A deviation from the expected gain: `0.9 dB under expected`. */
export function deviationWords(db: number): string {
  if (Math.abs(db) < 0.05) return "as expected";
  return `${formatDb(Math.abs(db))} ${db < 0 ? "under" : "over"} expected`;
}

/** The pickup as it is set: `pickup 150 mA`, `pickup 2.0 dB under expected`. */
export function pickupWords(criterion: Criterion, pickup = criterion.pickup): string {
  return criterion.quantity === "gainDeviationDb"
    ? `pickup ${deviationWords(pickup)}`
    : `pickup ${formatReading(criterion.quantity, pickup)}`;
}

/** A condition in words: `drive under 500 mW`. */
export function conditionWords({ quantity, side, level }: Condition): string {
  return `${QUANTITY_WORDS[quantity].words} ${side} ${formatReading(quantity, level)}`;
}

/** How a criterion times: `3 scans of 1.00 ms`, `50.0 ms`, `thermal replica, 15.0 s`. */
export function timingWords(def: MonitorDef, criterion: Criterion): string {
  const { timing } = criterion;
  switch (timing.kind) {
    case "instantaneous":
      return def.path === "comparator"
        ? "at once"
        : `${timing.scans} of ${timing.ofScans} scans of ${formatTime(def.scanS)}`;
    case "definite": {
      // A delay between scans is rounded up to whole scans; 1e-9 forgives the last bit of the division.
      const scans = Math.ceil(timing.delayS / def.scanS - 1e-9) + 1;
      return scans <= 5
        ? `${scans} scans of ${formatTime(def.scanS)}`
        : `for ${formatTime(timing.delayS)}`;
    }
    case "inverse":
      return `inverse time, multiplier ${timing.timeMultiplier}`;
    case "thermal":
      return `thermal replica, ${formatTime(timing.timeConstantS)}`;
  }
}

/** The setting of a criterion in words: `2.0 dB under expected, 3 scans of 1.00 ms`. */
export function settingWords(def: MonitorDef, criterion: Criterion, pickup: number): string {
  const level =
    criterion.quantity === "gainDeviationDb"
      ? deviationWords(pickup)
      : `${criterion.side} ${formatReading(criterion.quantity, pickup)}`;
  return `${level}, ${timingWords(def, criterion)}`;
}

/** The electrode an arc at a place burns on, and the gap it burns across. */
export function electrodeOf(
  station: Station,
  place: ArcPlace,
): { readonly metal: MetalName; readonly gapM: number } {
  switch (place) {
    case "tuningCapacitor":
      return station.tuningCapacitor;
    case "loadingCapacitor":
      return station.loadingCapacitor;
    case "coilTap":
      return station.bandSwitch;
    case "beyondCoupler":
      return station.outputContact;
  }
}
