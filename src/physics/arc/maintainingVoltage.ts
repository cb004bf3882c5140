/**
 * The voltage an arc between metal electrodes keeps across itself.
 *
 *   RF model   V = w Vc + (1 - w) Va + min(b + d/I, 120 V/mm) g sqrt(delta)
 *              Vc normal cathode fall of the metal, Va = 30 V, w glow share (0.6), b = 3.03 V/mm, d = 15.24 V A/mm,
 *              g gap mm (0.1 to 3), I peak current A (0.1 to 2), delta relative air density
 *   DC arc     V = a + b l + (c + d l)/I       Ayrton form; l mm, I A; 0.5 to 10 A, 1 to 10 mm
 *
 * At radio frequency each electrode is cathode for only 17 to 280 ns, too short for a hot spot on cold metal: the fall
 * stays near glow values and comes down once an edge melts (w towards 0.1). Falls with current, rises with gap.
 * Outside its range the current is held at the range's end, so the law stays monotone; `isInRange` says so.
 *
 * Sources: falls: Cobine, Gaseous Conductors, and von Engel, Ionized Gases (from memory). Ayrton constants: Ayrton 1902,
 * Guye and Zebrikoff 1907, through Cobine (from memory). The RF model is an estimate of this project: "150 to 400 V" is
 * common practice of the trade with no published table behind it.
 */

/** Normal cathode fall in air, volts; independent of pressure and current while the glow does not cover the cathode. */
export const NORMAL_CATHODE_FALL_V = {
  aluminium: 229,
  silver: 280,
  gold: 285,
  cadmium: 266,
  copper: 370,
  iron: 269,
  magnesium: 224,
  nickel: 226,
  lead: 207,
  platinum: 277,
  zinc: 277,
} as const;

export type CathodeMetal = keyof typeof NORMAL_CATHODE_FALL_V;

export interface ArcGap {
  readonly gapM: number;
  readonly relativeDensity: number;
  readonly metal: CathodeMetal;
  /** 0 thermionic arc, 1 glow; 0.6 for cold metal, 0.1 for a molten edge. */
  readonly glowShare: number;
}

/** Glow share of an arc between cold plates. Estimate. */
export const COLD_GLOW_SHARE = 0.6;
/** The same once its edge has molten, at this much and more. Estimates. */
const MOLTEN_GLOW_SHARE = 0.1;
const ALL_MOLTEN_KG = 0.5e-6;

/** Glow share of an edge of which so much is molten now: straight from cold to 0.5 mg. Estimate. */
export function glowShareOf(moltenKg: number): number {
  const molten = Math.min(Math.max(moltenKg / ALL_MOLTEN_KG, 0), 1);
  return COLD_GLOW_SHARE + (MOLTEN_GLOW_SHARE - COLD_GLOW_SHARE) * molten;
}

/** By how much less glow lowers the voltage, whatever the gap and the current. */
export function lowerFallV(metal: CathodeMetal, glowShare: number): number {
  return (COLD_GLOW_SHARE - glowShare) * (NORMAL_CATHODE_FALL_V[metal] - ARC_FALL_V);
}

const ARC_FALL_V = 30;
const COLUMN_V_PER_M = 3.03e3;
const COLUMN_VA_PER_M = 15.24e3;
const COLUMN_CAP_V_PER_M = 120e3;
const LEAST_A = 0.1;
const GREATEST_A = 2;
const NARROWEST_M = 0.1e-3;
const WIDEST_M = 3e-3;

/** Maintaining voltage by the RF model, peak volts. Law and standing: module header. */
export function maintainingVoltageV(gap: ArcGap, peakCurrentA: number): number {
  const I = Math.min(Math.max(peakCurrentA, LEAST_A), GREATEST_A);
  const w = gap.glowShare;
  const fall = w * NORMAL_CATHODE_FALL_V[gap.metal] + (1 - w) * ARC_FALL_V;
  const gradient = Math.min(COLUMN_V_PER_M + COLUMN_VA_PER_M / I, COLUMN_CAP_V_PER_M);
  return fall + gradient * gap.gapM * Math.sqrt(gap.relativeDensity);
}

/** True for the currents the RF model was meant for. */
export function isCurrentInRange(peakCurrentA: number): boolean {
  return peakCurrentA >= LEAST_A && peakCurrentA <= GREATEST_A;
}

/** True where the RF model was meant to hold: 0.1 to 2 A and 0.1 to 3 mm. */
export function isInRange(gapM: number, peakCurrentA: number): boolean {
  return isCurrentInRange(peakCurrentA) && gapM >= NARROWEST_M && gapM <= WIDEST_M;
}

const AYRTON = {
  carbon: { a: 38.88, b: 2.074, c: 11.66, d: 10.54 },
  copper: { a: 21.38, b: 3.03, c: 10.69, d: 15.24 },
  silver: { a: 14.19, b: 3.64, c: 11.36, d: 19.01 },
  nickel: { a: 17.14, b: 3.89, c: 0, d: 17.48 },
} as const;

/** Voltage of a DC arc by Ayrton's form: the arc fed by the plate supply itself. */
export function dcArcVoltageV(
  electrode: keyof typeof AYRTON,
  lengthM: number,
  currentA: number,
): number {
  const { a, b, c, d } = AYRTON[electrode];
  const l = lengthM * 1e3;
  return a + b * l + (c + d * l) / currentA;
}
