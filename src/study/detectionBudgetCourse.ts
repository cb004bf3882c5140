/**
 * A course of the true quantities, and what a monitor reads of it: exact first-order filters over pieces that are constant.
 *
 *   seen    u = m + l m'                                   couplers: l = 10^(-D/10), m' the opposite wave
 *   sensor  x(t) = u + (x0 - u) e^(-t/T)
 *   smooth  y(t) = u + A e^(-t/T) + (y0 - u - A) e^(-t/Ts),  A = (x0 - u) T/(T - Ts)
 *   read    y (1 + e) + o, cut at 0 and full scale
 *
 * m true mean, D directivity in dB, T time constant of the sensor, Ts the monitor's smoothing, e gain error, o offset. Noise and
 * converter steps are left out; a reading past full scale is cut after smoothing, not before it.
 */
import { exp, powerOfTen } from "../math/elementary";
import type { MonitorDef, QuantityName, SensorName, Sensors } from "../project/protection";
import { createReader, type ExpectedForwardGainDb, sensorsOf } from "../protection/derived";
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import { CHANNEL_COUNT } from "../simulation/channels";
import { quantityOf } from "../simulation/quantityOf";

/** True values of what the sensors look at, in the order of SENSOR_NAMES. */
export type Means = readonly number[];

/** What is there before time zero, and from then on piece by piece; the last piece stays. */
export interface Course {
  readonly before: Means;
  readonly pieces: readonly { readonly fromS: number; readonly means: Means }[];
}

/** From one state to another at once. */
export function stepCourse(before: Means, after: Means): Course {
  return { before, pieces: [{ fromS: 0, means: after }] };
}

/** A recorded course: the row before it, and rows at times from time zero; what has no channel stays as in `usual`. */
export function recordedCourse(
  beforeRow: Float64Array,
  sinceNs: ArrayLike<number>,
  rows: Float64Array,
  usual: Means,
): Course {
  const meansAt = (row: Float64Array, at: number): Means =>
    SENSOR_NAMES.map((name, i) => quantityOf(name, row, at) ?? (usual[i] as number));
  const before = meansAt(beforeRow, 0);
  const pieces: { fromS: number; means: Means }[] = [];
  let last: Means | null = null;
  let fromS = 0;
  for (let k = 0; k < sinceNs.length; k++) {
    const means = meansAt(rows, k * CHANNEL_COUNT);
    const was: Means = last ?? means;
    pieces.push({ fromS, means: means.map((v, i) => 0.5 * (v + (was[i] as number))) });
    last = means;
    fromS = (sinceNs[k] as number) / 1e9;
  }
  pieces.push({ fromS, means: last ?? before });
  return { before, pieces };
}

/**
 * The state in which a quantity stands at `level` and everything that it is not made of stays: of a gain the output
 * moves, of a ratio or a dissipation the current or wave above the line.
 */
export function steppedTo(
  from: Means,
  quantity: QuantityName,
  level: number,
  expected: ExpectedForwardGainDb,
): Means {
  const of = (name: SensorName): number => from[SENSOR_NAMES.indexOf(name)] as number;
  const drive = of("driveForwardW");
  const net = of("outputForwardW") - of("outputReflectedW");
  const inputW = of("plateV") * of("plateCurrentA");
  const move = (name: SensorName, value: number): Means =>
    from.map((v, i) => (SENSOR_NAMES[i] === name ? Math.max(value, 0) : v));
  switch (quantity) {
    case "forwardGainDb":
      return move("outputForwardW", drive * powerOfTen(level / 10));
    case "gainDeviationDb":
      return move("outputForwardW", drive * powerOfTen((expected(drive) + level) / 10));
    case "netOutputW":
      return move("outputForwardW", level + of("outputReflectedW"));
    case "vswr": {
      const r = level > 1 ? (level - 1) / (level + 1) : 0;
      return move("outputReflectedW", r * r * of("outputForwardW"));
    }
    case "plateDissipationW":
      return move("plateCurrentA", (level + net) / of("plateV"));
    case "efficiency":
      return move("outputForwardW", level * inputW + of("outputReflectedW"));
    case "gridPlateRatio":
      return move("gridCurrentA", level * of("plateCurrentA"));
    case "inputReflectedRatio":
      return move("driveReflectedW", level * drive);
    default:
      return move(quantity, level);
  }
}

/** How one sensor and its smoothing answer. */
interface Line {
  readonly index: number;
  readonly tauS: number;
  readonly gain: number;
  readonly offset: number;
  readonly fullScale: number;
  /** Share of the opposite wave that is seen, and where that stands. */
  readonly leak: number;
}

interface Piece {
  readonly fromS: number;
  readonly u: readonly number[];
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** What a monitor reads of one quantity at any instant of a course. */
export interface Reading {
  /** The quantity `sinceS` after time zero; NaN is no reading. */
  at(sinceS: number): number;
  /** Before time zero, and when all has settled. */
  readonly before: number;
  readonly settled: number;
  /** From this time on nothing moves any more, to a ten-millionth. */
  readonly settledByS: number;
  /** The slowest of its sensors. */
  readonly sensorLagS: number;
  /** First instant past a level; null where it never is. */
  firstPast(level: number, over: boolean): number | null;
}

const COMPARATOR = "comparator";

/** The reading of `quantity` by a monitor with these sensors; `smoothingS` 0 leaves the smoothing out. */
export function readingOf(
  course: Course,
  quantity: QuantityName,
  sensors: Sensors,
  path: MonitorDef["path"],
  smoothingS: number,
  expected: ExpectedForwardGainDb,
): Reading {
  const names = sensorsOf(quantity);
  const read = createReader(quantity, (name) => names.indexOf(name), expected);
  const lines = names.map((name) => lineOf(name, sensors, path));
  const seen = (means: Means): number[] =>
    lines.map(({ index, leak }) =>
      leak === 0
        ? (means[index] as number)
        : (means[index] as number) + leak * (means[index ^ 1] as number),
    );
  const row = new Float64Array(names.length);
  const readFrom = (filtered: readonly number[]): number => {
    for (const [i, { gain, offset, fullScale }] of lines.entries()) {
      row[i] = Math.min(Math.max((filtered[i] as number) * gain + offset, 0), fullScale);
    }
    return read(row);
  };

  const start = seen(course.before);
  const pieces: Piece[] = [];
  let x = start;
  let y = start;
  for (const [k, { fromS, means }] of course.pieces.entries()) {
    const u = seen(means);
    pieces.push({ fromS, u, x, y });
    const endS = course.pieces[k + 1]?.fromS;
    if (endS === undefined) break;
    const here = { u, x, y };
    x = lines.map(({ tauS }, i) => firstOrder(here, i, endS - fromS, tauS));
    y = lines.map(({ tauS }, i) => secondOrder(here, i, endS - fromS, tauS, smoothingS));
  }
  const last = pieces.at(-1) as Piece;
  const sensorLagS = Math.max(...lines.map((l) => l.tauS));
  const settledByS = last.fromS + 20 * Math.max(smoothingS, sensorLagS);

  const within = (piece: Piece, dtS: number): number =>
    readFrom(lines.map(({ tauS }, i) => secondOrder(piece, i, dtS, tauS, smoothingS)));
  const at = (sinceS: number): number => {
    const piece = pieces.findLast((p) => p.fromS <= sinceS) ?? (pieces[0] as Piece);
    return within(piece, Math.max(sinceS - piece.fromS, 0));
  };

  const firstPast = (level: number, over: boolean): number | null => {
    const isPast = (value: number): boolean => (over ? value > level : value < level);
    if (isPast(readFrom(start))) return 0;
    for (const [k, piece] of pieces.entries()) {
      const lengthS = (pieces[k + 1]?.fromS ?? settledByS) - piece.fromS;
      let lowS = 0;
      for (const highS of looks(lengthS)) {
        if (isPast(within(piece, highS))) {
          return piece.fromS + crossing((dt) => isPast(within(piece, dt)), lowS, highS);
        }
        lowS = highS;
      }
    }
    return null;
  };
  const [before, settled] = [readFrom(start), readFrom(last.u)];
  return { at, before, settled, settledByS, sensorLagS, firstPast };
}

/** Instants of a piece at which it is looked at: finer towards its beginning. */
function looks(lengthS: number): readonly number[] {
  const count = 64;
  return Array.from({ length: count }, (_, k) => {
    const share = (k + 1) / count;
    return lengthS * share * share * share;
  });
}

function crossing(isPast: (dtS: number) => boolean, beforeS: number, pastS: number): number {
  let low = beforeS;
  let high = pastS;
  for (let k = 0; k < 60 && high - low > 1e-9; k++) {
    const middle = 0.5 * (low + high);
    if (isPast(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function lineOf(name: SensorName, sensors: Sensors, path: MonitorDef["path"]): Line {
  const index = SENSOR_NAMES.indexOf(name);
  if (path === COMPARATOR) {
    const { timeConstantS, fullScaleA } = sensors.comparatorTap;
    return { index, tauS: timeConstantS, gain: 1, offset: 0, fullScale: fullScaleA, leak: 0 };
  }
  const { timeConstantS, gainError, offset, fullScale, directivityDb } = sensors[name];
  const leak = directivityDb === null ? 0 : powerOfTen(-directivityDb / 10);
  return { index, tauS: timeConstantS, gain: 1 + gainError, offset, fullScale, leak };
}

type State = Pick<Piece, "u" | "x" | "y">;

function firstOrder({ u, x }: State, i: number, dtS: number, tauS: number): number {
  const end = u[i] as number;
  return tauS > 0 ? end + ((x[i] as number) - end) * exp(-dtS / tauS) : end;
}

function secondOrder(
  state: State,
  i: number,
  dtS: number,
  tauS: number,
  smoothingS: number,
): number {
  if (!(smoothingS > 0)) return firstOrder(state, i, dtS, tauS);
  const u = state.u[i] as number;
  const dx = (state.x[i] as number) - u;
  const dy = (state.y[i] as number) - u;
  const slow = exp(-dtS / smoothingS);
  if (!(tauS > 0)) return u + dy * slow;
  // two equal time constants are the limit of nearly equal ones
  const T = Math.abs(tauS - smoothingS) < 1e-6 * tauS ? tauS * (1 + 1e-6) : tauS;
  const a = (dx * T) / (T - smoothingS);
  return u + a * exp(-dtS / T) + (dy - a) * slow;
}
