/**
 * Seeded random streams whose whole state is four 32-bit integers, so that a snapshot can carry them.
 *
 * Generator: xoroshiro128+ (Blackman & Vigna), period 2^128 - 1. The 32-bit seed and the stream number are spread
 * over the state with the murmur3 finaliser, so neighbouring seeds or streams share no visible pattern. Only integer
 * arithmetic and the deterministic elementary functions are used: the same seed gives the same bits everywhere.
 */
import {
  type xoroshiro128plus,
  xoroshiro128plusFromState,
} from "pure-rand/generator/xoroshiro128plus";
import { cos, ln } from "./elementary";

/** Numbers in a saved stream. */
export const RANDOM_STATE_LENGTH = 4;

const TWO_TO_26 = 67108864;
const TWO_TO_32 = 4294967296;
const TWO_TO_53 = 9007199254740992;
const GOLDEN_STEP = 0x9e3779b9; // 2^32 over the golden ratio: consecutive multiples spread evenly

/** A place a stream can be saved to: whole numbers of 32 bits, which both kinds of array hold exactly. */
export type RandomStateBuffer = Float64Array | Int32Array;

/** One stream of random numbers. Draw order is part of a run: never share a stream between two uses. */
export class RandomStream {
  private generator: ReturnType<typeof xoroshiro128plus>;

  /** `seed` is taken modulo 2^32. Streams of one seed with different numbers are independent for our purposes. */
  constructor(seed: number, streamNumber = 0) {
    if (!Number.isSafeInteger(seed)) throw new Error(`invalid seed: ${seed}`);
    if (!Number.isSafeInteger(streamNumber))
      throw new Error(`invalid streamNumber: ${streamNumber}`);
    const start = scramble(scramble(seed | 0) ^ Math.imul(streamNumber | 0, GOLDEN_STEP));
    const word = (k: number): number => scramble((start + Math.imul(k, GOLDEN_STEP)) | 0);
    this.generator = xoroshiro128plusFromState([word(1), word(2), word(3), word(4)]);
  }

  /** Uniform in [0, 1) with all 53 bits in use; two draws of the generator. */
  uniform(): number {
    const high = this.generator.next() >>> 5; // 27 bits
    const low = this.generator.next() >>> 6; // 26 bits
    return (high * TWO_TO_26 + low) / TWO_TO_53;
  }

  /** Uniform in [low, high). */
  between(low: number, high: number): number {
    return low + (high - low) * this.uniform();
  }

  /** Standard normal: mean 0, standard deviation 1 (Box & Muller 1958, the cosine half; nothing is kept back). */
  gaussian(): number {
    const radius = Math.sqrt(-2 * ln(1 - this.uniform())); // 1 - u lies in (0, 1], so the logarithm is finite
    return radius * cos(2 * Math.PI * this.uniform());
  }

  /** Copies the state into four numbers of `target` from `offset` on. */
  save(target: RandomStateBuffer, offset: number): void {
    if (offset < 0 || offset + RANDOM_STATE_LENGTH > target.length)
      throw new Error(`invalid offset: ${offset} of ${target.length}`);
    const state = this.generator.getState();
    for (let i = 0; i < RANDOM_STATE_LENGTH; i++) target[offset + i] = state[i] as number;
  }

  /** Takes the state back; the next draws are those that followed `save`. */
  load(source: RandomStateBuffer, offset: number): void {
    if (offset < 0 || offset + RANDOM_STATE_LENGTH > source.length)
      throw new Error(`invalid offset: ${offset} of ${source.length}`);
    const word = (i: number): number => (source[offset + i] as number) | 0;
    this.generator = xoroshiro128plusFromState([word(0), word(1), word(2), word(3)]);
  }
}

/**
 * The number at a place of an unlimited table, uniform in [0, 1) in steps of 2^-32: a function of its arguments alone,
 * for what must be the same at one instant however that instant is reached. All three are taken modulo 2^32.
 */
export function uniformAt(seed: number, streamNumber: number, index: number): number {
  const row = scramble(scramble(seed | 0) ^ Math.imul(streamNumber | 0, GOLDEN_STEP));
  return (scramble((row + Math.imul(index | 0, GOLDEN_STEP)) | 0) >>> 0) / TWO_TO_32;
}

/** The 32-bit finaliser of murmur3: each input bit reaches every output bit; one-to-one. */
function scramble(x: number): number {
  let h = x | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
