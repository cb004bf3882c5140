/**
 * Elementary functions that give the same bits on every machine.
 *
 * ECMAScript fixes + - * / and Math.sqrt exactly but leaves Math.exp, Math.sin and their kin to the engine, so two
 * browsers may differ in the last digit and a recorded run would not replay. These are plain arithmetic (the
 * @stdlib ports of the FreeBSD msun routines), good to about one unit in the last place.
 *
 * Validity: the whole double range; NaN in, NaN out; angles in radians. There is no general power on purpose:
 * x^1.5 is x * Math.sqrt(x), x^2 is x * x, and 10^x is `powerOfTen`.
 */
import stdlibAtan2 from "@stdlib/math-base-special-atan2";
import stdlibCbrt from "@stdlib/math-base-special-cbrt";
import stdlibCos from "@stdlib/math-base-special-cos";
import stdlibExp from "@stdlib/math-base-special-exp";
import stdlibExpm1 from "@stdlib/math-base-special-expm1";
import stdlibLn from "@stdlib/math-base-special-ln";
import stdlibLog10 from "@stdlib/math-base-special-log10";
import stdlibSin from "@stdlib/math-base-special-sin";

/** e^x. Overflows to Infinity above 709.78, underflows to 0 below -745.13. */
export const exp: (x: number) => number = stdlibExp;

/** e^x - 1 without the loss of digits near x = 0. */
export const expm1: (x: number) => number = stdlibExpm1;

/** Natural logarithm; -Infinity at 0, NaN below. */
export const ln: (x: number) => number = stdlibLn;

/** Logarithm to base 10; -Infinity at 0, NaN below. */
export const log10: (x: number) => number = stdlibLog10;

/** Sine of an angle in radians. */
export const sin: (angleRad: number) => number = stdlibSin;

/** Cosine of an angle in radians. */
export const cos: (angleRad: number) => number = stdlibCos;

/** Real cube root, odd in x. */
export const cbrt: (x: number) => number = stdlibCbrt;

/** Angle in radians of the point (x, y), in (-pi, pi]; note that y comes first. */
export const atan2: (y: number, x: number) => number = stdlibAtan2;

/** 10^x, for decibels: relative error grows as |x| * 2.3 units in the last place. */
export function powerOfTen(x: number): number {
  return exp(x * Math.LN10);
}
