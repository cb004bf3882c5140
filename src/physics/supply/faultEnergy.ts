/**
 * What a charged filter capacitor does to a short.
 *
 *   E = C V^2/2;   through R alone:  I2t = E/R,  Ipk = V/R,  tau = R C
 *   an arc of constant voltage Va in series takes  C Va (V - Va), whatever R is (R sets peak and duration only)
 *   fine copper wire melts at  I2t = A^2 log10((Tm - Ta)/(234 + Ta) + 1)/33     A circular mils, T degC (Onderdonk)
 *
 * Adiabatic: valid to about 10 s. Sources: circuit theory; Onderdonk's equation as commonly published (some copies print
 * 234 - Ta, which is wrong). Copper melts at 1083 degC in it.
 */
import { ln, log10 } from "../../math/elementary";

/** Energy in a capacitor, joules. */
export function storedEnergyJ(capacitanceF: number, voltageV: number): number {
  return 0.5 * capacitanceF * voltageV * voltageV;
}

/** Action integral of the whole discharge through a resistance, A2s. */
export function actionIntegralA2s(
  capacitanceF: number,
  voltageV: number,
  seriesOhm: number,
): number {
  return storedEnergyJ(capacitanceF, voltageV) / seriesOhm;
}

/** Energy that an arc of constant voltage takes from the discharge, joules. */
export function seriesArcEnergyJ(capacitanceF: number, voltageV: number, arcV: number): number {
  return capacitanceF * arcV * Math.max(voltageV - arcV, 0);
}

const M2_PER_CIRCULAR_MIL = 5.067074790975e-10; // pi/4 x (25.4 um)^2

/** Action integral that melts a copper wire of this cross-section, A2s. */
export function copperFusingA2s(areaM2: number, startK: number): number {
  const Ta = startK - 273.15;
  const mils = areaM2 / M2_PER_CIRCULAR_MIL;
  return (mils * mils * log10((1083 - Ta) / (234 + Ta) + 1)) / 33;
}

/** Time in which a bleeder brings a filter from one voltage to another, seconds; Infinity with the bleeder open. */
export function dischargeS(
  capacitanceF: number,
  bleederOhm: number,
  fromV: number,
  toV: number,
): number {
  return fromV <= toV ? 0 : bleederOhm * capacitanceF * ln(fromV / toV);
}
