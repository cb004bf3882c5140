/**
 * How far the parts of the stage are on their way to damage: grid, anode, cathode, exciter.
 *
 *   dx/dt = (s - x)/tau          s = input/rating now, x its first-order image (1 = rated heat for ever)
 *   fraction = x/D               D image at which damage is taken to begin; 1 = damage
 *   time left at s:  tau ln((s - x)/(s - D)) for s > D, else it never comes
 *
 * x is an exact exponential over each interval of constant input, so steps of any length agree. What heats: grid
 * dissipation, plate dissipation, plate current, reflected drive, each as a mean over the interval.
 *
 * Standing: tau and D are estimates. A first-order image stands for parts with many time constants: it is honest about
 * order (which part goes first, and whether in tenths of a second or in minutes), not about the last 50 %.
 */
import { expm1, ln } from "../../math/elementary";
import type { Ratings } from "../../project/station";

export type ClockPart = "grid" | "anode" | "cathode" | "exciter";

export interface ClockDef {
  readonly part: ClockPart;
  /** Continuous rating, watts or amperes by `unit`. */
  readonly rating: number;
  readonly unit: "W" | "A";
  readonly timeConstantS: number;
  /** Image, in units of the rating, at which damage begins. */
  readonly damageRatio: number;
  readonly standing: string;
}

/** The four clocks of a station with these ratings. */
export function damageClocks(ratings: Ratings): Readonly<Record<ClockPart, ClockDef>> {
  return {
    grid: {
      part: "grid",
      rating: ratings.gridDissipationW,
      unit: "W",
      timeConstantS: 0.3, // radiating wires, 0.1 to 0.5 s
      damageRatio: 2.5, // radiated heat goes as T^4: 2.5 times is 26 % hotter, wires sag and emit
      standing: "estimate: wires of 0.1 to 0.5 s, damage at 2.5 times rated heat",
    },
    anode: {
      part: "anode",
      rating: ratings.plateDissipationW,
      unit: "W",
      timeConstantS: 35, // 0.6 kg of copper, 225 K rise at 1500 W
      damageRatio: 1.5, // seals pass their limit by half the rated rise
      standing:
        "estimate: 0.6 kg copper cooler with 225 K rise at rated heat, seals lost at 1.5 times",
    },
    cathode: {
      part: "cathode",
      rating: ratings.plateCurrentA,
      unit: "A",
      timeConstantS: 20,
      damageRatio: 1.4, // sustained current above about 1.5 times rating strips an oxide coating in minutes
      standing:
        "estimate after common practice: oxide coating suffers within minutes at 1.5 times rated current",
    },
    exciter: {
      part: "exciter",
      rating: ratings.exciterReflectedW,
      unit: "W",
      timeConstantS: 5,
      damageRatio: 2,
      standing:
        "estimate: final transistors on their heat spreader, damage at twice the reflected power they stand",
    },
  };
}

/** Stress now: input over continuous rating; never negative. */
export function stressOf(clock: ClockDef, input: number): number {
  return Math.max(input, 0) / clock.rating;
}

/** The image after `dtS` of constant stress. */
export function advanceClock(clock: ClockDef, image: number, stress: number, dtS: number): number {
  return image - (stress - image) * expm1(-dtS / clock.timeConstantS);
}

/** Way to damage, 0 to 1. */
export function damageFraction(clock: ClockDef, image: number): number {
  return Math.min(image / clock.damageRatio, 1);
}

/** Seconds to damage if the stress stays as it is; 0 when already there, Infinity when it never comes. */
export function timeLeftS(clock: ClockDef, image: number, stress: number): number {
  if (image >= clock.damageRatio) return 0;
  if (stress <= clock.damageRatio) return Infinity;
  return clock.timeConstantS * ln((stress - image) / (stress - clock.damageRatio));
}
