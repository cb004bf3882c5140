/**
 * The sensing of `protection/sensing` for many whole samples at once: sensor by sensor instead of sample by sample, and
 * only the sensors somebody reads. Law, order of operations and noise are the same, so every reading is the same to the
 * last bit [tests]; what is left out are the sensors nobody reads, broken sensors and samples cut in pieces.
 */
import { exp, powerOfTen } from "../../math/elementary";
import type { SensorName, Sensors } from "../../project/protection";
import { mixBits, noiseUnit, sampleBits } from "../../protection/sensing/noise";
import { SENSOR_NAMES, type Smoothing } from "../../protection/sensing/sensing";

/** Samples in a block at most. */
export const BLOCK = 20;

interface Copy {
  readonly smoothingS: number;
  readonly decay: number;
  readonly column: number;
}

interface Channel {
  readonly lane: number;
  /** Opposite wave of a coupler that leaks in, and its share; the share is 0 for all else. */
  readonly opposite: number;
  readonly leak: number;
  readonly decay: number;
  readonly gain: number;
  readonly offset: number;
  readonly deviation: number;
  readonly top: number;
  readonly codes: number;
  readonly copies: readonly Copy[];
  /** Whether readings are kept of every sample, not of a block's last alone. */
  readonly everySample: boolean;
}

export class QuickSensing {
  readonly rowLength: number;
  /** One row a sample of the block last made. */
  readonly rows: Float64Array;
  private readonly channels: readonly Channel[];
  /** Detectors by lane, smoothed copies by column. */
  private readonly states: Float64Array;
  private readonly bits = new Int32Array(BLOCK);
  private readonly readings = new Float64Array(BLOCK);
  private readonly isNoisy: boolean;
  private mixedSeed = 0;
  private count = 0;

  /**
   * `smoothings` names all that is read, plain readings with a smoothing of 0. `everySample` names the plain readings that are
   * wanted of every sample; all others are made at the end of a block alone.
   */
  constructor(
    sensors: Sensors,
    sampleNs: number,
    smoothings: readonly Smoothing[],
    everySample: readonly SensorName[] = SENSOR_NAMES,
  ) {
    const sampleS = sampleNs / 1e9;
    const decay = (tauS: number): number => (tauS > 0 ? exp(-sampleS / tauS) : 0);
    let column = SENSOR_NAMES.length;
    const read = SENSOR_NAMES.filter((name) => smoothings.some((s) => s.sensor === name));
    this.channels = read.map((name): Channel => {
      const def = sensors[name];
      const lane = SENSOR_NAMES.indexOf(name);
      const times = new Set(smoothings.filter((s) => s.sensor === name).map((s) => s.smoothingS));
      times.delete(0);
      return {
        lane,
        opposite: lane < 4 ? lane ^ 1 : lane,
        leak: lane < 4 && def.directivityDb !== null ? powerOfTen(-def.directivityDb / 10) : 0,
        decay: decay(def.timeConstantS),
        gain: 1 + def.gainError,
        offset: def.offset,
        deviation: def.noiseFraction * def.fullScale,
        top: def.fullScale,
        codes: topCode(def.bits),
        copies: [...times].map((smoothingS) => ({
          smoothingS,
          decay: decay(smoothingS),
          column: column++,
        })),
        everySample: everySample.includes(name) || times.size > 2,
      };
    });
    this.rowLength = column;
    this.rows = new Float64Array(BLOCK * column);
    this.states = new Float64Array(column);
    this.isNoisy = this.channels.some((c) => c.deviation !== 0);
  }

  rowIndex(sensor: SensorName, smoothingS: number): number {
    const lane = SENSOR_NAMES.indexOf(sensor);
    if (smoothingS === 0) return lane;
    const channel = this.channels.find((c) => c.lane === lane);
    const copy = channel?.copies.find((c) => c.smoothingS === smoothingS);
    if (copy === undefined) throw new Error(`no smoothed copy of ${sensor} over ${smoothingS} s`);
    return copy.column;
  }

  /** Detectors at rest at zero, but for those of `at`. */
  init(seed: number, at: Partial<Readonly<Record<SensorName, number>>>): void {
    this.mixedSeed = mixBits(seed);
    this.count = 0;
    this.states.fill(0);
    for (const { lane } of this.channels)
      this.states[lane] = at[SENSOR_NAMES[lane] as SensorName] ?? 0;
  }

  /**
   * `n` whole samples; `means` holds their time means, BLOCK places a sensor in the order of SENSOR_NAMES. `isFlat` says that
   * they are all alike; what has come to rest then stays.
   */
  advance(means: Float64Array, n: number, isFlat = false): void {
    const { channels, bits } = this;
    if (this.isNoisy) {
      for (let k = 0; k < n; k++) bits[k] = sampleBits(this.mixedSeed, this.count + k);
    }
    this.count += n;
    for (let i = 0; i < channels.length; i++) {
      const c = channels[i] as Channel;
      if (c.everySample) this.sampleBySample(c, means, n);
      else if (c.copies.length === 0) this.toTheEnd(c, means, n, isFlat);
      else this.smoothedToTheEnd(c, means, n);
    }
  }

  /** The detector through the block, and one reading at its end. */
  private toTheEnd(c: Channel, means: Float64Array, n: number, isFlat: boolean): void {
    const { lane, leak, decay } = c;
    const from = lane * BLOCK;
    const other = c.opposite * BLOCK;
    let x = this.states[lane] as number;
    const atRest = (means[from] as number) + leak * (means[other] as number);
    for (let k = isFlat && x === atRest ? n : 0; k < n; k++) {
      const seen = (means[from + k] as number) + leak * (means[other + k] as number);
      x = seen + (x - seen) * decay;
    }
    this.states[lane] = x;
    const noise = c.deviation === 0 ? 0 : c.deviation * noiseUnit(this.bits[n - 1] as number, lane);
    this.rows[(n - 1) * this.rowLength + lane] = converted(
      x * c.gain + c.offset + noise,
      c.top,
      c.codes,
    );
  }

  /**
   * Detector, converter and two smoothed copies in one go, and their readings at the block's end: the three memories wait
   * for nothing but themselves, so the processor works at all of them at once.
   */
  private smoothedToTheEnd(c: Channel, means: Float64Array, n: number): void {
    const { bits, rows, states } = this;
    const { lane, leak, decay, gain, offset, deviation, top, codes, copies } = c;
    const from = lane * BLOCK;
    const other = c.opposite * BLOCK;
    const first = copies[0] as Copy;
    const second = copies[1] ?? first;
    const keep = first.decay;
    const keepToo = second.decay;
    let x = states[lane] as number;
    let y = states[first.column] as number;
    let z = states[second.column] as number;
    let reading = 0;
    for (let k = 0; k < n; k++) {
      const seen = (means[from + k] as number) + leak * (means[other + k] as number);
      x = seen + (x - seen) * decay;
      const noise = deviation === 0 ? 0 : deviation * noiseUnit(bits[k] as number, lane);
      reading = converted(x * gain + offset + noise, top, codes);
      y = reading + (y - reading) * keep;
      z = reading + (z - reading) * keepToo;
    }
    states[lane] = x;
    states[first.column] = y;
    states[second.column] = z;
    const at = (n - 1) * this.rowLength;
    rows[at + lane] = reading;
    rows[at + first.column] = y;
    rows[at + second.column] = z;
  }

  /** Every reading of the block. */
  private sampleBySample(c: Channel, means: Float64Array, n: number): void {
    const { bits, readings, rowLength, rows } = this;
    const { lane, leak, decay, gain, offset, deviation, top, codes, copies } = c;
    const from = lane * BLOCK;
    const other = c.opposite * BLOCK;
    let x = this.states[lane] as number;
    for (let k = 0; k < n; k++) {
      const seen = (means[from + k] as number) + leak * (means[other + k] as number);
      x = seen + (x - seen) * decay;
      const noise = deviation === 0 ? 0 : deviation * noiseUnit(bits[k] as number, lane);
      const reading = converted(x * gain + offset + noise, top, codes);
      readings[k] = reading;
      rows[k * rowLength + lane] = reading;
    }
    this.states[lane] = x;
    for (let q = 0; q < copies.length; q++) this.smooth(copies[q] as Copy, n);
  }

  /** A smoothed copy of the readings just made. */
  private smooth({ decay, column }: Copy, n: number): void {
    const { readings, rows, rowLength, states } = this;
    let y = states[column] as number;
    for (let k = 0; k < n; k++) {
      const r = readings[k] as number;
      y = r + (y - r) * decay;
      rows[k * rowLength + column] = y;
    }
    states[column] = y;
  }
}

/** What a converter makes of a value: nothing under zero or over its top, and whole codes between. */
function converted(value: number, top: number, codes: number): number {
  const within = value > top ? top : value > 0 ? value : 0;
  return (Math.floor((within / top) * codes + 0.5) * top) / codes;
}

/** Codes above zero of a converter. */
function topCode(bits: number): number {
  let codes = 1;
  for (let i = 0; i < bits; i++) codes *= 2;
  return codes - 1;
}
