/**
 * What detection costs, stage by stage, best and worst: from a fault's time zero to the first actuator's effect.
 *
 *   sensor        until the sensed quantity passes the pickup, by the exact filters of `detectionBudgetCourse`
 *   smoothing     what the monitor's own smoothing adds; it works on whole samples, so up to one sample less
 *   scan          0 to one whole scan: the passing is seen by the next scan, whichever instant that is
 *   confirmation  definite time rounded up to whole scans; n of m, n - 1 scans; dependent time, scan by scan along its
 *                 curve; thermal replica, t = T ln((u - H0)/(u - p)) with the image as it is in use (best) and cold (worst)
 *   actuator      its delay times earliest and latest ratio; the quickest of those that end the fault counts
 *
 * A comparator sees its own tap at once: no scan and no confirmation. Arming is taken as fulfilled, conditions are judged on the settled
 * readings. Noise and converter steps are left out.
 */
import { ln } from "../math/elementary";
import type {
  ActuatorName,
  Actuators,
  Condition,
  Criterion,
  MonitorDef,
  Sensors,
} from "../project/protection";
import { actuatorSteps } from "../protection/actuators/schedule";
import { travelRatePerS } from "../protection/curves/dependentTime";
import { thermalOperateTimeS } from "../protection/curves/thermalReplica";
import type { ExpectedForwardGainDb } from "../protection/derived";
import { stepsCovering } from "../protection/interpreter/program";
import { type Course, type Reading, readingOf } from "./detectionBudgetCourse";

/** From the best to the worst case, seconds. */
export interface Span {
  readonly bestS: number;
  readonly worstS: number;
}

export interface BudgetStage extends Span {
  readonly kind: "sensor" | "smoothing" | "scan" | "confirmation";
}

export interface ActuatorCost extends Span {
  readonly actuator: ActuatorName;
  /** The T/R relay waits for a falling output, this long at most; 0 for all others. */
  readonly waitAtMostS: number;
  /** Whether its effect ends the fault by itself; a relay that waits for the end does not. */
  readonly ends: boolean;
}

export type BudgetOutcome =
  | "operates"
  /** The reading does not pass the pickup, */
  | "never"
  /** or passes it and comes back before the confirmation is complete, */
  | "letsGo"
  /** or does so unless the scan's phase is a good one. */
  | "byChance";

export interface DetectionBudget {
  readonly outcome: BudgetOutcome;
  /** What the monitor reads before, and once all has settled; NaN is no reading. */
  readonly before: number;
  readonly settled: number;
  /** Empty where it does not operate. */
  readonly stages: readonly BudgetStage[];
  readonly operate: Span | null;
  readonly actuators: readonly ActuatorCost[];
  /** Operate and the quickest actuator that ends the fault; null without either. */
  readonly acted: Span | null;
  /** Conditions of arming and criterion that the settled readings do not fulfil. */
  readonly unfulfilled: readonly Condition[];
}

export interface BudgetInput {
  readonly def: MonitorDef;
  /** Index of the criterion. */
  readonly criterion: number;
  readonly sensors: Sensors;
  readonly actuators: Actuators;
  readonly sampleNs: number;
  readonly course: Course;
  readonly expected: ExpectedForwardGainDb;
}

/** The budget of one criterion; null where the monitor has no such criterion. */
export function detectionBudget(input: BudgetInput): DetectionBudget | null {
  const { def, sensors, course, expected } = input;
  const criterion = def.criteria[input.criterion];
  if (criterion === undefined) return null;
  const isComparator = def.path === "comparator";
  const smoothingS = isComparator ? 0 : def.smoothingS;
  const { quantity, pickup } = criterion;
  const over = criterion.side === "over";
  const reading = readingOf(course, quantity, sensors, def.path, smoothingS, expected);
  const actuators = actuatorCosts(def, input.actuators);
  const unfulfilled = [...def.arming.when, ...criterion.when].filter((c) => {
    const value = readingOf(course, c.quantity, sensors, "scanned", smoothingS, expected).settled;
    return !(c.side === "over" ? value > c.level : value < c.level);
  });
  const common = { before: reading.before, settled: reading.settled, actuators, unfulfilled };
  const silent = { ...common, stages: [], operate: null, acted: null };

  const passedS = reading.firstPast(pickup, over);
  if (passedS === null) return { ...silent, outcome: "never" };
  const barely = readingOf(course, quantity, sensors, def.path, 0, expected);
  const sensorS = Math.min(barely.firstPast(pickup, over) ?? passedS, passedS);
  const sampleS = input.sampleNs / 1e9;
  const smoothedS = passedS - sensorS;
  const scanS = isComparator ? 0 : scanOf(def, input.sampleNs);
  const confirmation = isComparator
    ? { bestS: 0, worstS: 0 }
    : confirmationOf(criterion, reading, passedS, scanS, def.smoothingS);
  if (confirmation === null) return { ...silent, outcome: "never" };
  const heldS = heldUntilS(
    criterion,
    reading,
    passedS,
    passedS + scanS + confirmation.worstS,
    scanS,
  );
  if (heldS < passedS + confirmation.bestS) return { ...silent, outcome: "letsGo" };
  const outcome = heldS < passedS + scanS + confirmation.worstS ? "byChance" : "operates";
  const leadS = smoothingS > 0 ? Math.min(sampleS, smoothedS) : 0;
  const stages: readonly BudgetStage[] = [
    { kind: "sensor", bestS: sensorS, worstS: sensorS },
    { kind: "smoothing", bestS: smoothedS - leadS, worstS: smoothedS },
    { kind: "scan", bestS: 0, worstS: scanS },
    { kind: "confirmation", ...confirmation },
  ];
  const operate = sum(stages);
  const ending = actuators.filter((a) => a.ends);
  const acted =
    ending.length === 0
      ? null
      : sum([
          operate,
          {
            bestS: Math.min(...ending.map((a) => a.bestS)),
            worstS: Math.min(...ending.map((a) => a.worstS)),
          },
        ]);
  return { ...common, outcome, stages, operate, acted };
}

function sum(spans: readonly Span[]): Span {
  return spans.reduce<Span>(
    (all, s) => ({ bestS: all.bestS + s.bestS, worstS: all.worstS + s.worstS }),
    { bestS: 0, worstS: 0 },
  );
}

/** The scan as it is kept: a whole number of samples. */
function scanOf(def: MonitorDef, sampleNs: number): number {
  return (Math.max(1, stepsCovering(def.scanS, sampleNs)) * sampleNs) / 1e9;
}

function confirmationOf(
  criterion: Criterion,
  reading: Reading,
  passedS: number,
  scanS: number,
  smoothingS: number,
): Span | null {
  const { timing, pickup } = criterion;
  const same = (s: number): Span => ({ bestS: s, worstS: s });
  switch (timing.kind) {
    case "definite":
      return same(stepsCovering(timing.delayS, Math.round(scanS * 1e9)) * scanS);
    case "instantaneous":
      return same((Math.max(1, Math.min(timing.scans, timing.ofScans)) - 1) * scanS);
    case "inverse": {
      const scans = [0, scanS].map((phaseS) =>
        travelScans(criterion, reading, passedS + phaseS, scanS),
      );
      if (scans.some((n) => n === null)) return null;
      const counts = scans as number[];
      return { bestS: Math.min(...counts) * scanS, worstS: Math.max(...counts) * scanS };
    }
    case "thermal": {
      const T = timing.timeConstantS;
      const heating = reading.settled / pickup;
      const fromWarm = thermalOperateTimeS(T, heating, Math.min(reading.before / pickup, 1));
      const fromCold = thermalOperateTimeS(T, heating, 0);
      if (criterion.side === "under" || !(fromCold < Infinity)) return null;
      // the reading lags the quantity, and the image the reading
      const addS = [smoothingS, reading.sensorLagS].reduce(
        (s, t) => s + (t < T ? T * ln(T / (T - t)) : T),
        0,
      );
      const warmS = Number.isNaN(fromWarm) ? fromCold : fromWarm;
      return {
        bestS: Math.max(warmS - scanS - passedS, 0),
        worstS: Math.max(fromCold + addS - passedS, 0),
      };
    }
  }
}

/** Scans after the one that saw the pickup until the travel is complete; null where it never is. */
function travelScans(
  { timing, pickup, side }: Criterion,
  reading: Reading,
  seenS: number,
  scanS: number,
): number | null {
  if (timing.kind !== "inverse") return null;
  const rateAt = (sinceS: number): number => {
    const value = reading.at(sinceS);
    const multiple = side === "over" ? value / pickup : pickup / value;
    return travelRatePerS(timing.curve, multiple, timing.timeMultiplier);
  };
  let travel = 0;
  let n = 0;
  for (; seenS + n * scanS < reading.settledByS; n++) {
    if (travel >= 1) return n;
    travel = Math.max(travel + rateAt(seenS + (n + 1) * scanS) * scanS, 0);
  }
  const rate = rateAt(reading.settledByS);
  if (travel >= 1) return n;
  return rate > 0 ? n + Math.ceil((1 - travel) / (rate * scanS) - 1e-9) : null;
}

const MOST_LOOKS = 400;

/** How long the reading stays past its drop-off without a break; at most as long as is asked. */
function heldUntilS(
  { side, dropOff, timing }: Criterion,
  reading: Reading,
  fromS: number,
  untilS: number,
  scanS: number,
): number {
  if (timing.kind === "thermal" || timing.kind === "inverse") return untilS;
  const byS = Math.max(0.1 * scanS, (untilS - fromS) / MOST_LOOKS);
  if (!(byS > 0)) return untilS;
  for (let s = fromS; s < untilS + byS; s += byS) {
    const atS = Math.min(s, untilS);
    const value = reading.at(atS);
    if (!(side === "over" ? value >= dropOff : value <= dropOff)) return atS;
  }
  return untilS;
}

function actuatorCosts(def: MonitorDef, actuators: Actuators): readonly ActuatorCost[] {
  return actuatorSteps(def.actions, actuators).map(({ actuator, delayNs, wait }) => {
    const { earliestRatio, latestRatio } = actuators[actuator];
    return {
      actuator,
      bestS: (delayNs / 1e9) * earliestRatio,
      worstS: (delayNs / 1e9) * latestRatio,
      waitAtMostS: wait === null ? 0 : wait.atMostNs / 1e9,
      ends: wait === null,
    };
  });
}
