/**
 * Seeded noise that is a pure function of (seed, sample, lane), so that a snapshot carries it as one count.
 *
 * Law: a 32-bit mix of seed, sample and lane; the sum of its four bytes is the Irwin-Hall distribution of order 4,
 * scaled to mean 0 and standard deviation 1. Bounded by 3.46 standard deviations, excess kurtosis -0.3: a converter's
 * noise, not a tail study. The sequence repeats after 2^32 samples (60 hours at 50 us).
 * The mix is the murmur3 finaliser (public domain), chosen for one draw a sensor a sample at a few nanoseconds.
 */

const GOLDEN_STEP = 0x9e3779b9; // 2^32 over the golden ratio
const BYTE_MEAN_SUM = 510; // four bytes, mean 127.5 each
const BYTE_SUM_DEVIATION = 147.80166891254354; // sqrt(4 (256^2 - 1) / 12)

/** Spreads 32 bits over 32 bits, one to one. */
export function mixBits(x: number): number {
  let h = x | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

/** The part of the mix that all lanes of one sample share. `mixedSeed` is `mixBits(seed)`. */
export function sampleBits(mixedSeed: number, sampleCount: number): number {
  return mixBits(mixedSeed ^ mixBits(sampleCount));
}

/** Noise by the sum of the bytes. */
const UNITS = Float64Array.from(
  { length: 4 * 255 + 1 },
  (_, sum) => (sum - BYTE_MEAN_SUM) / BYTE_SUM_DEVIATION,
);

/** Noise of one lane: mean 0, standard deviation 1. */
export function noiseUnit(bitsOfSample: number, lane: number): number {
  const h = mixBits(bitsOfSample + Math.imul(lane + 1, GOLDEN_STEP));
  return UNITS[(h & 255) + ((h >>> 8) & 255) + ((h >>> 16) & 255) + (h >>> 24)] as number;
}
