/**
 * What a person reads off a tube's data sheet, and how far a law is from it.
 *
 * Two kinds of point. A column of typical operation: the drive is solved so that the plate current equals the column's,
 * with the plate load it states, or with the load that gives its output when it states none. A point of the curves: grid
 * and plate voltage against the cathode, plate and grid current of one tube.
 *
 * Residuals are natural logarithms of model over stated figure, so that 0.05 is 5 %; a column's idle current counts half,
 * since it varies most from sample to sample (estimate). On curves one hundredth of the largest current is added to
 * both sides: no one reads them closer, and a stated zero stays usable (estimate).
 */
import {
  idleCurrentA,
  type Operation,
  operationForOutput,
  operationForPlateCurrent,
  staticCurrents,
} from "../physics/tube/operation";
import type { TriodeLaw } from "../physics/tube/triode";

export interface OperationPoint {
  readonly kind: "operation";
  /** Tubes the currents and powers belong to. */
  readonly tubes: number;
  /** Plate to cathode. */
  readonly plateV: number;
  readonly cathodeV: number;
  readonly plateCurrentA: number;
  readonly plateLoadOhm: number | null;
  readonly idleA: number | null;
  readonly gridCurrentA: number | null;
  readonly driveW: number | null;
  readonly outputW: number | null;
}

export interface CurvePoint {
  readonly kind: "curve";
  /** Both against the cathode. */
  readonly gridV: number;
  readonly plateV: number;
  readonly plateCurrentA: number;
  readonly gridCurrentA: number | null;
}

export type TubePoint = OperationPoint | CurvePoint;

export type FittedQuantity = "idleA" | "plateCurrentA" | "gridCurrentA" | "driveW" | "outputW";

/** One figure of one point that a law is compared with. */
export interface FitTarget {
  /** Index of the point in the list. */
  readonly point: number;
  readonly quantity: FittedQuantity;
  readonly stated: number;
  readonly weight: number;
  /** Added to both sides before the logarithm. */
  readonly floor: number;
}

/** Something in the points that keeps them from being fitted. `point` is null when it is about all of them. */
export interface FitProblem {
  readonly point: number | null;
  /** Cause, without a full stop. */
  readonly message: string;
  /** What to do about it, without a full stop. */
  readonly remedy: string;
}

const IDLE_WEIGHT = 0.5;
const CURVE_FLOOR = 0.01;
/** Points beyond this number are a mistake, and would keep the page busy. */
const MOST_POINTS = 500;

const WORDS: Readonly<Record<string, string>> = {
  tubes: "number of tubes",
  plateV: "plate voltage",
  cathodeV: "cathode bias",
  gridV: "grid voltage",
  plateCurrentA: "plate current",
  gridCurrentA: "grid current",
  plateLoadOhm: "plate load",
  idleA: "idle current",
  driveW: "drive",
  outputW: "output",
};

/** Figures that may be zero or have either sign. */
const ANY_SIGN = new Set(["cathodeV", "gridV"]);
/** Largest value that is taken for a figure of a tube; no unit of ours needs more. */
const LARGEST = 1e6;

/** Everything about the points that is no figure of a tube. */
export function checkPoints(points: readonly TubePoint[]): FitProblem[] {
  if (points.length === 0) {
    return [
      {
        point: null,
        message: "there is no point to fit",
        remedy: "give a column of typical operation, or some points of the curves",
      },
    ];
  }
  if (points.length > MOST_POINTS) {
    return [
      {
        point: null,
        message: `there are ${points.length} points`,
        remedy: `keep them within ${MOST_POINTS}`,
      },
    ];
  }
  return points.flatMap(checkPoint);
}

function checkPoint(point: TubePoint, index: number): FitProblem[] {
  const problems: FitProblem[] = [];
  const say = (message: string, remedy: string) => problems.push({ point: index, message, remedy });
  for (const [name, value] of Object.entries(point)) {
    if (name === "kind" || value === null) continue;
    const words = WORDS[name] ?? name;
    const onCurve = point.kind === "curve" && name !== "plateV";
    if (typeof value !== "number" || !Number.isFinite(value) || Math.abs(value) > LARGEST) {
      say(`the ${words} is ${String(value)}`, "give a number in volts, amperes, watts or ohms");
    } else if (ANY_SIGN.has(name)) {
      // both signs are fine
    } else if (onCurve ? value < 0 : value <= 0) {
      say(`the ${words} is ${value}`, onCurve ? "give zero or more" : "give more than zero");
    }
  }
  if (point.kind === "operation" && problems.length === 0) {
    const { idleA, plateCurrentA } = point;
    if (!Number.isInteger(point.tubes)) say("the number of tubes is not whole", "give 1, 2, ...");
    if (idleA !== null && idleA >= plateCurrentA) {
      say(
        `the idle current, ${idleA} A, is not below the plate current under drive, ${plateCurrentA} A`,
        "check which of the two is which, and their unit",
      );
    }
  }
  return problems;
}

/** The figures that count, in the order of the points. */
export function targetsOf(points: readonly TubePoint[]): readonly FitTarget[] {
  const curves = points.filter((point): point is CurvePoint => point.kind === "curve");
  const largest = (of: (point: CurvePoint) => number | null) =>
    curves.reduce((most, point) => Math.max(most, of(point) ?? 0), 0);
  const plateFloor = CURVE_FLOOR * largest((point) => point.plateCurrentA);
  const gridFloor = CURVE_FLOOR * largest((point) => point.gridCurrentA);
  const targets: FitTarget[] = [];
  for (const [point, given] of points.entries()) {
    const add = (
      quantity: FittedQuantity,
      stated: number | null,
      weight: number,
      floor: number,
    ): void => {
      if (stated !== null && stated + floor > 0) {
        targets.push({ point, quantity, stated, weight, floor });
      }
    };
    if (given.kind === "curve") {
      add("plateCurrentA", given.plateCurrentA, 1, plateFloor);
      add("gridCurrentA", given.gridCurrentA, 1, gridFloor);
      continue;
    }
    add("idleA", given.idleA, IDLE_WEIGHT, 0);
    if (!isDriven(given)) continue;
    add("gridCurrentA", given.gridCurrentA, 1, 0);
    add("driveW", given.driveW, 1, 0);
    // Without a plate load the output is what the load is found from, and tests nothing.
    if (given.plateLoadOhm !== null) add("outputW", given.outputW, 1, 0);
  }
  return targets;
}

/** Whether the column says enough to work out the stage under drive. */
function isDriven(point: OperationPoint): boolean {
  return point.plateLoadOhm !== null || point.outputW !== null;
}

/** What the law of ONE tube gives for a target; NaN where it cannot reach the column at all. */
export function modelledFigures(
  law: TriodeLaw,
  points: readonly TubePoint[],
  targets: readonly FitTarget[],
): Float64Array {
  const figures = new Float64Array(targets.length);
  let solvedFor = -1;
  let operation: Operation | null = null;
  let plateCurrentA = 0;
  let gridCurrentA = 0;
  for (const [index, { point: at, quantity }] of targets.entries()) {
    const point = points[at] as TubePoint;
    if (point.kind === "curve") {
      if (solvedFor !== at) {
        ({ plateCurrentA, gridCurrentA } = staticCurrents(law, point.gridV, point.plateV));
      }
      solvedFor = at;
      figures[index] = quantity === "gridCurrentA" ? gridCurrentA : plateCurrentA;
      continue;
    }
    const all = { ...law, perveance: law.perveance * point.tubes };
    if (quantity === "idleA") {
      figures[index] = idleCurrentA(all, point);
      continue;
    }
    if (solvedFor !== at) operation = solve(all, point);
    solvedFor = at;
    figures[index] = operation === null ? Number.NaN : operation[quantity];
  }
  return figures;
}

function solve(law: TriodeLaw, point: OperationPoint): Operation | null {
  const { plateLoadOhm, outputW, plateCurrentA } = point;
  const search =
    plateLoadOhm !== null
      ? operationForPlateCurrent(law, { ...point, plateLoadOhm }, plateCurrentA)
      : operationForOutput(law, point, plateCurrentA, outputW ?? 0);
  return search.ok ? search.operation : null;
}
