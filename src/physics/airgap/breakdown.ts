/**
 * Breakdown of a clean air gap, peak volts.
 *
 *   form B   V = 24.36 (p d) + 6.72 sqrt(p d)        kV; p bar at 20 degC, d cm; 0.01 to 10 cm
 *   form A   V = 24.22 delta d + 6.08 sqrt(delta d)  kV; same range, 5 to 8 % low at 1 to 10 mm
 *   Paschen  V = B p d/(ln(A p d) - ln ln(1 + 1/gamma))   p d in Torr cm, A 15, B 365, gamma 0.01
 *
 * delta is density relative to 20 degC and 101.3 kPa; p = 1.013 delta bar. Form B is used throughout: it stays within 2 %
 * of the sphere-gap table from 1 to 10 mm. Below the Paschen minimum no gap in air breaks down at all.
 * Humidity multiplies by k (see `airDensity`), radio frequency by 0.85, edges sharper than a uniform field needs by their
 * own factor, and where a spread is asked for each strike by 1 + s n, n normal and held to 3.
 *
 * Sources: A: Gallagher and Pearmain; B: Kuffel, Zaengl and Kuffel (both from memory); Paschen constants: two public pages
 * on gas breakdown; least measured breakdown 327 V: a published measurement. RF factor: estimate, 0.8 to 1.0.
 * Edge factor: estimate, 1 rounded, 0.7 to 0.9 bare sheared sheet. Spread of uniform gaps: 2 to 5 %, from memory.
 */
import { cos, ln } from "../../math/elementary";
import { uniformAt } from "../../math/random";

const BAR_AT_UNIT_DENSITY = 1.013; // 101.3 kPa, the reference of relative density
const LEAST_BREAKDOWN_V = 327; // measured minimum in air, at about 7.5 um and one atmosphere

/** Radio-frequency strength over DC strength, 1.8 to 30 MHz. Estimate; published experience says 0 to 20 % lower. */
export const RF_STRENGTH_FACTOR = 0.85;

/** Form B: DC or slow-AC breakdown of a uniform gap, peak volts. */
export function uniformGapBreakdownV(gapM: number, relativeDensity: number): number {
  const pd = BAR_AT_UNIT_DENSITY * relativeDensity * gapM * 100;
  return pd > 0 ? 1e3 * (24.36 * pd + 6.72 * Math.sqrt(pd)) : 0;
}

/** Form A of the same law, kept for comparison. */
export function uniformGapBreakdownFormAV(gapM: number, relativeDensity: number): number {
  const dd = relativeDensity * gapM * 100;
  return dd > 0 ? 1e3 * (24.22 * dd + 6.08 * Math.sqrt(dd)) : 0;
}

const PASCHEN_A = 15; // 1/(cm Torr)
const PASCHEN_B = 365; // V/(cm Torr)
const SECONDARY_YIELD = 0.01; // electrons per ion at the cathode

/** Paschen's formula, volts; Infinity left of its pole, where it says nothing. For small p d only. */
export function paschenBreakdownV(pressureLengthTorrCm: number): number {
  const denominator = ln(PASCHEN_A * pressureLengthTorrCm) - ln(ln(1 + 1 / SECONDARY_YIELD));
  return denominator > 0 ? (PASCHEN_B * pressureLengthTorrCm) / denominator : Infinity;
}

/** The formula's own minimum: p d = e ln(1 + 1/gamma)/A, V = e B ln(1 + 1/gamma)/A. */
export function paschenMinimum(): {
  readonly pressureLengthTorrCm: number;
  readonly breakdownV: number;
} {
  const generations = ln(1 + 1 / SECONDARY_YIELD);
  return {
    pressureLengthTorrCm: (Math.E * generations) / PASCHEN_A,
    breakdownV: (Math.E * PASCHEN_B * generations) / PASCHEN_A,
  };
}

export interface GapConditions {
  readonly gapM: number;
  readonly relativeDensity: number;
  /** k of `humidityFactor`; 1 when not considered. */
  readonly humidityFactor: number;
  /** `RF_STRENGTH_FACTOR`, or 1 for DC. */
  readonly rfFactor: number;
  /** 1 for a uniform field. */
  readonly edgeFactor?: number;
}

/** What a gap withstands, peak volts: form B with corrections, never under the least breakdown of air; 0 for a closed gap. */
export function gapWithstandV(conditions: GapConditions): number {
  const { gapM, relativeDensity, humidityFactor, rfFactor, edgeFactor = 1 } = conditions;
  if (!(gapM > 0)) return 0;
  return Math.max(
    uniformGapBreakdownV(gapM, relativeDensity) * humidityFactor * rfFactor * edgeFactor,
    LEAST_BREAKDOWN_V,
  );
}

const STRIKE_STREAM = 0x5712;
const MOST_DEVIATIONS = 3;

/**
 * Strike voltage over its mean at one attempt: 1 + spread x standard normal (Box and Muller), a function of its arguments
 * alone. Places of one seed and attempts at one place are independent.
 */
export function strikeFactor(seed: number, place: number, attempt: number, spread: number): number {
  if (spread === 0) return 1;
  const stream = STRIKE_STREAM + place;
  const radius = Math.sqrt(-2 * ln(1 - uniformAt(seed, stream, 2 * attempt)));
  const normal = radius * cos(2 * Math.PI * uniformAt(seed, stream, 2 * attempt + 1));
  return 1 + spread * Math.min(Math.max(normal, -MOST_DEVIATIONS), MOST_DEVIATIONS);
}

/**
 * Widest clean gap that a peak voltage strikes, metres: form B solved for d (a quadratic in sqrt(p d)).
 * `rfFactor` and `humidityFactor` as in `gapWithstandV`; 0 when the voltage is under the least breakdown of air.
 */
export function widestStruckGapM(
  peakV: number,
  relativeDensity: number,
  humidityFactor: number,
  rfFactor: number,
): number {
  if (!(peakV >= LEAST_BREAKDOWN_V)) return 0;
  const kV = peakV / (1e3 * humidityFactor * rfFactor);
  const root = (-6.72 + Math.sqrt(6.72 * 6.72 + 4 * 24.36 * kV)) / (2 * 24.36);
  return (root * root) / (BAR_AT_UNIT_DENSITY * relativeDensity * 100);
}
