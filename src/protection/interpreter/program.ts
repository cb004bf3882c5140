/**
 * Turns a monitor's definition into a program: quantities become readers, times become whole scans.
 *
 * Times are rounded up to whole scans and scans to whole samples, each with a notice: a monitor is never faster than
 * what is written on its settings sheet. A confirmation of 2 ms at a scan of 1 ms is three scans seen: the pickup and
 * the two after it.
 */
import { exp } from "../../math/elementary";
import type {
  Condition,
  Criterion,
  CurveName,
  MonitorDef,
  QuantityName,
  SensorName,
  Side,
  Timing,
} from "../../project/protection";
import { formatQuantity, formatTime } from "../../units/format";
import { confirmationScans } from "../curves/definiteTime";
import { createReader, type ExpectedForwardGainDb, type Reader, sensorsOf } from "../derived";

export interface CompileContext {
  readonly sampleNs: number;
  /** Where a sensor's reading with this smoothing stands in a row. */
  readonly rowIndex: (sensor: SensorName, smoothingS: number) => number;
  readonly expectedForwardGainDb: ExpectedForwardGainDb;
  /** Highest drive at which a gain is expected at all, watts; Infinity (as when left out) for any drive. */
  readonly gainKnownToW?: number;
}

export interface CompiledCondition {
  readonly read: Reader;
  readonly over: boolean;
  readonly level: number;
  readonly quantity: QuantityName;
  /** Index of the thermal criterion whose image is meant instead of the reading; -1 for the reading. */
  readonly image: number;
}

export type CompiledTiming =
  | { readonly kind: "instantaneous"; readonly scans: number; readonly mask: number }
  | { readonly kind: "definite"; readonly delayScans: number }
  | {
      readonly kind: "inverse";
      readonly curve: CurveName;
      readonly timeMultiplier: number;
      readonly scanS: number;
    }
  /** `decay` is exp(-scan / time constant). */
  | { readonly kind: "thermal"; readonly decay: number };

export interface Levels {
  readonly pickup: number;
  readonly dropOff: number;
}

export interface CompiledCriterion {
  readonly read: Reader;
  readonly quantity: QuantityName;
  readonly over: boolean;
  readonly operate: Levels;
  readonly tune: Levels;
  readonly timing: CompiledTiming;
  readonly when: readonly CompiledCondition[];
}

export interface CompiledArming {
  /** False for a monitor that watches at any time. */
  readonly isConditional: boolean;
  readonly onAir: boolean;
  readonly drive: Reader;
  readonly driveAboveW: number;
  /** Above this drive nothing is known to compare with: not armed. */
  readonly driveKnownToW: number;
  readonly settledScans: number;
  readonly holdScans: number;
  readonly when: readonly CompiledCondition[];
  readonly afterSupplyReadyNs: number;
  readonly blankingNs: number;
}

export interface CompiledAlarm extends CompiledCondition {
  readonly dropOff: number;
  readonly delayScans: number;
}

export interface MonitorProgram {
  readonly def: MonitorDef;
  readonly scanSamples: number;
  readonly scanNs: number;
  /** Armed at any time and all definite time: it remembers nothing while nothing is picked up. */
  readonly isPlain: boolean;
  readonly arming: CompiledArming;
  readonly criteria: readonly CompiledCriterion[];
  readonly alarm: CompiledAlarm | null;
  readonly resetWhen: readonly CompiledCondition[];
  /** What was rounded, and where it cannot watch, in words. */
  readonly notices: readonly string[];
}

const MOST_SCANS = 30; // a history is kept in the bits of one small integer
const DB_DISTANCE = 0.5;

/** The default drop-off: 0.5 dB back for levels in dB, else reset ratio 0.95 for over- and 1.05 for under-functions. */
export function defaultDropOff(quantity: QuantityName, side: Side, pickup: number): number {
  if (quantity.endsWith("Db")) return side === "over" ? pickup - DB_DISTANCE : pickup + DB_DISTANCE;
  return side === "over" ? 0.95 * pickup : 1.05 * pickup;
}

/** The drop-off that goes with a new pickup: same distance for levels in dB, same ratio for all else. */
export function movedDropOff(criterion: Criterion, pickup: number): number {
  if (criterion.pickup === 0 || criterion.quantity.endsWith("Db"))
    return pickup + (criterion.dropOff - criterion.pickup);
  return (pickup * criterion.dropOff) / criterion.pickup;
}

/** Whole steps that cover a time, rounded up. */
export function stepsCovering(timeS: number, stepNs: number): number {
  return Math.max(0, confirmationScans(timeS, stepNs / 1e9));
}

/** Compiles one monitor. Pure; the definition is kept so that a live edit can compare. */
export function compileMonitor(def: MonitorDef, context: CompileContext): MonitorProgram {
  const notices: string[] = [];
  const scanSamples = Math.max(1, stepsCovering(def.scanS, context.sampleNs));
  const scanNs = scanSamples * context.sampleNs;
  notice(notices, def, "scan", def.scanS, scanNs);

  const scansOf = (what: string, timeS: number): number => {
    const scans = stepsCovering(timeS, scanNs);
    notice(notices, def, what, timeS, scans * scanNs);
    return scans;
  };
  const at = (sensor: SensorName): number => context.rowIndex(sensor, def.smoothingS);
  const reader = (quantity: QuantityName): Reader =>
    createReader(quantity, at, context.expectedForwardGainDb);
  const reading = (c: Condition): CompiledCondition => ({
    read: reader(c.quantity),
    over: c.side === "over",
    level: c.level,
    quantity: c.quantity,
    image: -1,
  });
  const readingOrImage = (c: Condition): CompiledCondition => ({
    ...reading(c),
    image: def.criteria.findIndex((k) => k.timing.kind === "thermal" && k.quantity === c.quantity),
  });

  const { arming, alarm } = def;
  const driveKnownToW = comparesGain(def) ? (context.gainKnownToW ?? Infinity) : Infinity;
  if (driveKnownToW < Infinity) notices.push(unknownGainWords(def, driveKnownToW));
  const isConditional =
    driveKnownToW < Infinity ||
    arming.kind === "onAir" ||
    arming.when.length > 0 ||
    arming.afterSupplyReadyS > 0 ||
    def.blankingS > 0;
  return {
    def,
    scanSamples,
    scanNs,
    isPlain: !isConditional && def.criteria.every((c) => c.timing.kind === "definite"),
    arming: {
      isConditional,
      onAir: arming.kind === "onAir",
      drive: reader("driveForwardW"),
      driveAboveW: arming.driveAboveW,
      driveKnownToW,
      settledScans: scansOf("settling time", arming.settledS),
      holdScans: scansOf("hold time", arming.holdS),
      when: arming.when.map(reading),
      afterSupplyReadyNs: Math.round(arming.afterSupplyReadyS * 1e9),
      blankingNs: Math.round(def.blankingS * 1e9),
    },
    criteria: def.criteria.map((c) => ({
      read: reader(c.quantity),
      quantity: c.quantity,
      over: c.side === "over",
      operate: { pickup: c.pickup, dropOff: c.dropOff },
      tune:
        c.tunePickup === undefined
          ? { pickup: c.pickup, dropOff: c.dropOff }
          : { pickup: c.tunePickup, dropOff: movedDropOff(c, c.tunePickup) },
      timing: compileTiming(c.timing, scanNs, scansOf),
      when: c.when.map(reading),
    })),
    alarm:
      alarm === null
        ? null
        : {
            ...readingOrImage(alarm),
            dropOff: defaultDropOff(alarm.quantity, alarm.side, alarm.level),
            delayScans: scansOf("alarm delay", alarm.delayS),
          },
    resetWhen: def.reset.when.map(readingOrImage),
    notices,
  };
}

function compileTiming(
  timing: Timing,
  scanNs: number,
  scansOf: (what: string, timeS: number) => number,
): CompiledTiming {
  switch (timing.kind) {
    case "instantaneous": {
      const ofScans = Math.min(Math.max(1, Math.round(timing.ofScans)), MOST_SCANS);
      const scans = Math.min(Math.max(1, Math.round(timing.scans)), ofScans);
      return { kind: "instantaneous", scans, mask: (1 << ofScans) - 1 };
    }
    case "definite":
      return { kind: "definite", delayScans: scansOf("confirmation", timing.delayS) };
    case "inverse":
      return {
        kind: "inverse",
        curve: timing.curve,
        timeMultiplier: timing.timeMultiplier,
        scanS: scanNs / 1e9,
      };
    case "thermal":
      return { kind: "thermal", decay: exp(-scanNs / 1e9 / timing.timeConstantS) };
  }
}

function comparesGain({ criteria, alarm }: MonitorDef): boolean {
  const read = criteria.flatMap((c) => [c.quantity, ...c.when.map((w) => w.quantity)]);
  if (alarm !== null) read.push(alarm.quantity);
  return read.includes("gainDeviationDb");
}

function unknownGainWords({ name }: MonitorDef, knownToW: number): string {
  const why = "no settled state of the tuned and matched station was found";
  return knownToW >= 0
    ? `${name}: not armed above ${formatQuantity(knownToW, "W")} of drive, for ${why} there to expect a gain from`
    : `${name}: never armed, for ${why} to expect a gain from`;
}

function notice(
  notices: string[],
  def: MonitorDef,
  what: string,
  askedS: number,
  usedNs: number,
): void {
  if (Math.abs(usedNs - askedS * 1e9) < 0.5) return;
  notices.push(
    `${def.name}: ${what} of ${formatTime(askedS)} is rounded up to ${formatTime(usedNs / 1e9)}`,
  );
}

/** The smoothed copies a set of monitors reads; give them to `createSensing`. */
export function smoothingsOf(
  monitors: readonly MonitorDef[],
): readonly { readonly sensor: SensorName; readonly smoothingS: number }[] {
  const wanted: { sensor: SensorName; smoothingS: number }[] = [];
  for (const def of monitors) {
    const quantities: QuantityName[] = ["driveForwardW"];
    for (const c of def.criteria) {
      quantities.push(c.quantity);
      for (const w of c.when) quantities.push(w.quantity);
    }
    for (const w of [...def.arming.when, ...def.reset.when]) quantities.push(w.quantity);
    if (def.alarm !== null) quantities.push(def.alarm.quantity);
    for (const sensor of new Set(quantities.flatMap(sensorsOf)))
      wanted.push({ sensor, smoothingS: def.smoothingS });
  }
  return wanted;
}
