/**
 * Automatic level control of the exciter, told by the amplifier: a reduction of the drive in decibels, r.
 *
 *   excess  e = 10 lg(reading/threshold)                  output power, or grid current
 *   target  T = r + e, kept within 0 and the range        the reduction at which the reading would meet the threshold
 *   state   dr/dt = (T - r)/tau,  tau attack while T > r, release while T < r
 *
 * Where the reading follows the drive decibel for decibel, the loop closes in the attack time and holds the threshold.
 * Grid current rises faster than drive, so a loop from the grid closes faster than its attack time says.
 *
 * What it does in an arc follows from the law: output *and* grid current fall, e is far below zero, the reduction is
 * released and the drive rises. Level control feeds an arc.
 *
 * Validity: one state; steps well below the attack time (50 us against 2 ms). Release is toward "no reduction needed", not
 * toward zero, so that a reading just under its threshold does not make the drive creep.
 * Standing: attack 2 ms and release 0.5 s are estimates within common practice.
 */
import { expm1, log10, powerOfTen } from "../../math/elementary";
import type { LevelControl } from "../../project/station";

/** A level control made ready for one step length. */
export interface AlcLaw {
  /** Reading at which it begins to act, W or A. */
  readonly threshold: number;
  readonly rangeDb: number;
  /** Part of the way to the target that one step goes. */
  readonly attackShare: number;
  readonly releaseShare: number;
}

/** The law for steps of `stepS`; null for no level control. */
export function alcLaw(control: LevelControl, stepS: number): AlcLaw | null {
  if (control.kind === "none") return null;
  return {
    threshold: control.kind === "output" ? control.thresholdW : control.thresholdA,
    rangeDb: control.rangeDb,
    attackShare: -expm1(-stepS / control.attackS),
    releaseShare: -expm1(-stepS / control.releaseS),
  };
}

/** Reduction in dB one step later, from the reading (W or A) at the step's end. */
export function nextReductionDb(law: AlcLaw, reductionDb: number, reading: number): number {
  // a reading of nothing asks for no reduction at all
  const excessDb = reading > 0 ? 10 * log10(reading / law.threshold) : -Infinity;
  const targetDb = Math.min(Math.max(reductionDb + excessDb, 0), law.rangeDb);
  const share = targetDb > reductionDb ? law.attackShare : law.releaseShare;
  return reductionDb + (targetDb - reductionDb) * share;
}

/** Factor in voltage of a reduction in dB; exactly 1 for none. */
export function reductionFactor(reductionDb: number): number {
  return reductionDb === 0 ? 1 : powerOfTen(-reductionDb / 20);
}
