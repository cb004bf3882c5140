/**
 * Overshoot of an exciter's power on the leading edge of each key-down: its level control has let go in the pause.
 *
 *   P(t)/P = 1 + (10^(dB/10) - 1) e^(-t/T)      t from the instant drive begins
 *
 * Validity: a first-order course stands for what differs from exciter to exciter. The shaped edge multiplies it, so the
 * peak reached is lower than the figure says: with 3 dB, T = 10 ms and an edge of 5 ms it is 2.1 dB.
 * Standing: 1 to 3 dB for 2 to 20 ms is commonly reported, in bad cases up to the exciter's full rating (from memory).
 */
import { exp, powerOfTen } from "../../math/elementary";

/** After this many time constants e^-40 = 4e-18 is below the last digit of 1. */
const FORGOTTEN = 40;

/** Power factor, 1 or more, `sinceS` after drive began. */
export function overshootFactor(overshootDb: number, timeS: number, sinceS: number): number {
  if (overshootDb === 0 || sinceS < 0 || sinceS > FORGOTTEN * timeS) return 1;
  return 1 + (powerOfTen(overshootDb / 10) - 1) * exp(-sinceS / timeS);
}
