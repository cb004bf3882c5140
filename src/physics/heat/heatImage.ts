/**
 * First-order heat image of a part: what stands for parts of which no more is known than a rating and a time constant.
 *
 *   dx/dt = (s - x)/tau          s = heat now over the heat the part carries for good, x its first-order image
 *   fraction = x/D               D image at which damage is taken to begin; 1 = damage
 *   time left at s:  tau ln((s - x)/(s - D)) for s > D, else it never comes
 *
 * x is an exact exponential over each interval of constant s, so steps of any length agree; in times short against tau it
 * adds up energy, x = E/(rated heat x tau). Where a current heats, s is the square of current over rating.
 *
 * Standing: tau and D are estimates beside each part. One time constant stands for many: the image is honest about order
 * (which part goes first, and whether in tenths of a second or in minutes), not about the last 50 %.
 */
import { expm1, ln } from "../../math/elementary";

export interface HeatImage {
  readonly timeConstantS: number;
  /** Image, in units of the rated heat, at which damage begins. */
  readonly damageRatio: number;
}

/** Share of the remaining way that an image goes in `dtS`, negative: worked out once for steps of one length. */
export function imageStep(timeConstantS: number, dtS: number): number {
  return expm1(-dtS / timeConstantS);
}

/** The image after a step of constant stress; `step` from `imageStep`. */
export function advanceImage(image: number, stress: number, step: number): number {
  return image - (stress - image) * step;
}

/** Seconds to damage if the stress stays as it is; 0 when already there, Infinity when it never comes. */
export function imageTimeLeftS(
  { timeConstantS, damageRatio }: HeatImage,
  image: number,
  stress: number,
): number {
  if (image >= damageRatio) return 0;
  if (stress <= damageRatio) return Infinity;
  return timeConstantS * ln((stress - image) / (stress - damageRatio));
}
