/**
 * What the monitors see: detectors, couplers and converters between the true quantities and a row of readings.
 *
 *   x' = (m - x) / T            detector, exact over each segment for a constant mean m
 *   r = round(clamp(x (1 + e) + o + n s F, 0, F) (2^b - 1) / F) F / (2^b - 1)
 *   y' = (r - y) / Ts           digital smoothing, exact over the sample
 *
 * T time constant in s, e gain error, o offset, n unit noise, s noise fraction, F full scale, b bits. Couplers are
 * square law, so their detectors filter watts; plate RF is the fundamental's peak in volts; all else is linear.
 * Directivity D in dB lets the opposite wave leak in as watts, 10^(-D/10) of it: the mean over the unknown phase.
 * Readings stop at 0 and at full scale (clamp diodes, converter); the sensors' own defaults are [E], see presets.
 * A faulty sensor reads a share of that, 0 when it is open, or goes on reading what it read last.
 *
 * Everything that changes lies in one Float64Array, so a snapshot is a copy.
 */
import { exp, powerOfTen } from "../../math/elementary";
import type { SensorDef, SensorName, Sensors } from "../../project/protection";
import { advanceTap, TAP_STATE_LENGTH } from "./comparatorTap";
import { mixBits, noiseUnit, sampleBits } from "./noise";

/** The order of true means, of readings and of the first places of a row. */
export const SENSOR_NAMES: readonly SensorName[] = [
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
];

const SENSOR_COUNT = SENSOR_NAMES.length;
const COUNT_AT = SENSOR_COUNT; // samples ended so far
const SEED_AT = SENSOR_COUNT + 1;
const SMOOTHED_AT = SENSOR_COUNT + 2;

/** A digitally smoothed copy of one sensor. */
export interface Smoothing {
  readonly sensor: SensorName;
  readonly smoothingS: number;
}

export interface SensingParts {
  readonly sensors: Sensors;
  readonly sampleNs: number;
}

/** What is wrong with the sensors, in the order of SENSOR_NAMES. */
export interface SensorFaults {
  /** Share of the reading that is left, offset and noise included; 1 for a healthy one. */
  readonly share: Float64Array;
  /** 1: the reading stays what it was. */
  readonly stuck: Uint8Array;
}

export interface Sensing {
  /** Numbers this sensing keeps in the world's state. */
  readonly stateLength: number;
  /** Numbers in a row: the readings, then the smoothed copies. */
  readonly rowLength: number;
  /** Where a reading stands in a row; throws for a smoothing that was not asked for. */
  rowIndex(sensor: SensorName, smoothingS: number): number;
  /** All detectors at rest at zero. */
  init(state: Float64Array, offset: number, seed: number): void;
  /**
   * As after so long on constant `means` that all detectors and copies have come to rest, `samples` samples after the start: the
   * row is read without noise. Comparators are left alone.
   */
  restOn(
    state: Float64Array,
    offset: number,
    row: Float64Array,
    means: Float64Array,
    samples: number,
  ): void;
  /** One solver segment of `dtS`; `means` holds the time means of the true quantities in the order of SENSOR_NAMES. */
  advanceSegment(state: Float64Array, offset: number, dtS: number, means: Float64Array): void;
  /** Ends a sample: reads all converters into `row`, which holds the last readings, then smooths. */
  endSample(
    state: Float64Array,
    offset: number,
    row: Float64Array,
    faults?: SensorFaults | null,
  ): void;
  /**
   * Moves a comparator's filter over a segment of `dtNs` in which the shunt current runs from `i0A` to `i1A`.
   * Answers the offset in ns, 1 to dtNs, at which it first passes `pickupA`, or -1. It must fall below `dropOffA`
   * before it can pass again. One slot for each comparator.
   */
  advanceComparator(
    state: Float64Array,
    offset: number,
    dtNs: number,
    i0A: number,
    i1A: number,
    pickupA: number,
    dropOffA?: number,
    slot?: number,
  ): number;
}

/** Builds the sensing of a project; `comparatorSlots` is the number of monitors on the comparator path. */
export function createSensing(
  parts: SensingParts,
  smoothings: readonly Smoothing[],
  comparatorSlots = 1,
): Sensing {
  const sampleS = parts.sampleNs / 1e9;
  const defs = SENSOR_NAMES.map((name) => parts.sensors[name]);
  const copies = distinctSmoothings(smoothings);
  const tapAt = SMOOTHED_AT + copies.length;
  const tap = parts.sensors.comparatorTap;

  const timeConstantsS = [...new Set(defs.map((d) => d.timeConstantS))];
  const constantOf = Int32Array.from(defs, (d) => timeConstantsS.indexOf(d.timeConstantS));
  const sampleDecay = Float64Array.from(timeConstantsS, (tauS) => decay(sampleS, tauS));
  const segmentDecay = new Float64Array(timeConstantsS.length); // scratch, filled before each use
  const decayOf = new Float64Array(SENSOR_COUNT); // scratch, filled before each use
  const leak = Float64Array.from(defs, (d) =>
    d.directivityDb === null ? 0 : powerOfTen(-d.directivityDb / 10),
  );

  const gain = Float64Array.from(defs, (d) => 1 + d.gainError);
  const bias = Float64Array.from(defs, (d) => d.offset);
  const noise = Float64Array.from(defs, (d) => d.noiseFraction * d.fullScale);
  const fullScale = Float64Array.from(defs, (d) => d.fullScale);
  const codes = Float64Array.from(defs, topCode);

  const copySource = Int32Array.from(copies, (c) => SENSOR_NAMES.indexOf(c.sensor));
  const copyDecay = Float64Array.from(copies, (c) => decay(sampleS, c.smoothingS));

  /** What converter `i` makes of a value. */
  const converted = (i: number, value: number): number => {
    const top = fullScale[i] as number;
    const n = codes[i] as number;
    const r = value > top ? top : value > 0 ? value : 0;
    return (Math.floor((r / top) * n + 0.5) * top) / n;
  };

  return {
    stateLength: tapAt + comparatorSlots * TAP_STATE_LENGTH,
    rowLength: SENSOR_COUNT + copies.length,

    rowIndex(sensor, smoothingS) {
      if (smoothingS === 0) return SENSOR_NAMES.indexOf(sensor);
      const k = copies.findIndex((c) => c.sensor === sensor && c.smoothingS === smoothingS);
      if (k < 0) throw new Error(`no smoothed copy of ${sensor} over ${smoothingS} s`);
      return SENSOR_COUNT + k;
    },

    init(state, offset, seed) {
      state.fill(0, offset, offset + tapAt + comparatorSlots * TAP_STATE_LENGTH);
      state[offset + SEED_AT] = mixBits(seed);
    },

    restOn(state, offset, row, means, samples) {
      for (let i = 0; i < SENSOR_COUNT; i++) {
        const other = i < 4 ? (leak[i] as number) * (means[i ^ 1] as number) : 0;
        const x = (means[i] as number) + other;
        state[offset + i] = x;
        row[i] = converted(i, x * (gain[i] as number) + (bias[i] as number));
      }
      for (let k = 0; k < copies.length; k++) {
        const r = row[copySource[k] as number] as number;
        state[offset + SMOOTHED_AT + k] = r;
        row[SENSOR_COUNT + k] = r;
      }
      state[offset + COUNT_AT] = samples;
    },

    advanceSegment(state, offset, dtS, means) {
      let table = sampleDecay;
      if (dtS !== sampleS) {
        table = segmentDecay;
        for (let k = 0; k < timeConstantsS.length; k++)
          segmentDecay[k] = decay(dtS, timeConstantsS[k] as number);
      }
      for (let i = 0; i < SENSOR_COUNT; i++) decayOf[i] = table[constantOf[i] as number] as number;
      // Forward and reflected are neighbours: 0 with 1, 2 with 3.
      for (let i = 0; i < 4; i++) {
        const seen = (means[i] as number) + (leak[i] as number) * (means[i ^ 1] as number);
        const x = state[offset + i] as number;
        state[offset + i] = seen + (x - seen) * (decayOf[i] as number);
      }
      for (let i = 4; i < SENSOR_COUNT; i++) {
        const seen = means[i] as number;
        const x = state[offset + i] as number;
        state[offset + i] = seen + (x - seen) * (decayOf[i] as number);
      }
    },

    endSample(state, offset, row, faults = null) {
      const count = state[offset + COUNT_AT] as number;
      const bits = sampleBits(state[offset + SEED_AT] as number, count);
      for (let i = 0; i < SENSOR_COUNT; i++) {
        if (faults !== null && faults.stuck[i] === 1) continue;
        let r = (state[offset + i] as number) * (gain[i] as number) + (bias[i] as number);
        const deviation = noise[i] as number;
        if (deviation !== 0) r += deviation * noiseUnit(bits, i);
        if (faults !== null) r *= faults.share[i] as number;
        row[i] = converted(i, r);
      }
      for (let k = 0; k < copies.length; k++) {
        const at = offset + SMOOTHED_AT + k;
        const r = row[copySource[k] as number] as number;
        const y = r + ((state[at] as number) - r) * (copyDecay[k] as number);
        state[at] = y;
        row[SENSOR_COUNT + k] = y;
      }
      state[offset + COUNT_AT] = count + 1;
    },

    advanceComparator(state, offset, dtNs, i0A, i1A, pickupA, dropOffA = 0.95 * pickupA, slot = 0) {
      if (slot < 0 || slot >= comparatorSlots) throw new Error(`invalid slot: ${slot}`);
      const at = offset + tapAt + slot * TAP_STATE_LENGTH;
      return advanceTap(state, at, tap, dtNs, i0A, i1A, pickupA, dropOffA);
    },
  };
}

/** Codes above zero; the top one reads full scale exactly. */
function topCode(def: SensorDef): number {
  let codes = 1;
  for (let i = 0; i < def.bits; i++) codes *= 2;
  return codes - 1;
}

function decay(dtS: number, tauS: number): number {
  return tauS > 0 ? exp(-dtS / tauS) : 0;
}

function distinctSmoothings(smoothings: readonly Smoothing[]): readonly Smoothing[] {
  const distinct: Smoothing[] = [];
  for (const wanted of smoothings) {
    if (wanted.smoothingS === 0) continue;
    const known = distinct.some(
      (c) => c.sensor === wanted.sensor && c.smoothingS === wanted.smoothingS,
    );
    if (!known) distinct.push({ sensor: wanted.sensor, smoothingS: wanted.smoothingS });
  }
  return distinct;
}
