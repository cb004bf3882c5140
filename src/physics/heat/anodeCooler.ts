/**
 * Anode with its air cooler, the seal behind it, and the air that leaves.
 *
 *   Ca dTa/dt = P - G (Ta - Tin)              anode and cooler as one body
 *   ts dTs/dt = Tin + b (Ta - Tin) - Ts       seal, b = 0.9 of the anode's rise
 *   G  = (Pr/dTr) (r + (1 - r) a) d           a airflow over full airflow, r what is left in still air, d relative density
 *   Tx = Tin + G (Ta - Tin)/(m cp)            exhaust air, m = rho Q max(a, 0.01) d; never over Ta
 *
 * P plate dissipation, Pr its rating, dTr the rise at it with full airflow at sea level, Tin inlet. In the steady state
 * Tx = Tin + P/(m cp): 1500 W in 16.5 l/s is 75 K. Without airflow the anode warms at P/Ca and the little air there is
 * leaves as hot as the anode.
 *
 * Validity: conductance proportional to airflow (a finned cooler far from saturating its air); no fan run-down, no lag of
 * a probe: that is the sensor's.
 * Standing: 0.6 kg of copper at 385 J/(kg K) with 225 K at 1500 W gives Ca dTr/Pr = 34.7 s; r, b, the draught of 0.01 and
 * the seal's 60 to 300 s are estimates. Seal limits 250 degC for ceramic and 225 degC for glass seals (data sheets, from
 * memory). Air: 1.204 kg/m3 at 20 degC and 101.3 kPa, 1006 J/(kg K) (any table).
 */
import { exp, ln } from "../../math/elementary";

/** Dry air at 20 degC and 101.3 kPa, kg/m3, and its specific heat at constant pressure, J/(kg K); tables. */
const AIR_KG_PER_M3 = 1.204;
const AIR_HEAT_J_PER_KG_K = 1006;
/** Rise of the seal over that of the anode; estimate. */
const SEAL_SHARE = 0.9;
/** Air that moves by itself with the blower stopped, of full airflow; estimate. */
const DRAUGHT = 0.01;

export interface AnodeCooler {
  readonly ratedW: number;
  readonly ratedRiseK: number;
  readonly inletK: number;
  readonly heatJPerK: number;
  /** Conductance to the air at full airflow and the density of the site, W/K. */
  readonly fullWPerK: number;
  readonly stillShare: number;
  /** Heat the air takes per kelvin at full airflow, m cp, W/K. */
  readonly airWPerK: number;
  readonly anodeLimitK: number;
  readonly sealTimeConstantS: number;
  readonly sealLimitK: number;
}

export interface CoolerInput {
  readonly ratedW: number;
  readonly ratedRiseK: number;
  readonly heatJPerK: number;
  readonly airflowM3PerS: number;
  readonly inletK: number;
  /** Air density over that at 20 degC and 101.3 kPa. */
  readonly relativeDensity: number;
  readonly stillShare: number;
  readonly anodeLimitK: number;
  readonly sealTimeConstantS: number;
  readonly sealLimitK: number;
}

/** The cooler's fixed numbers. */
export function anodeCooler(given: CoolerInput): AnodeCooler {
  const { airflowM3PerS, relativeDensity, ...rest } = given;
  return {
    ...rest,
    fullWPerK: (given.ratedW / given.ratedRiseK) * relativeDensity,
    airWPerK: AIR_KG_PER_M3 * relativeDensity * airflowM3PerS * AIR_HEAT_J_PER_KG_K,
  };
}

/** Conductance from anode to air, W/K, at `airflow` of full airflow. */
export function coolingWPerK(cooler: AnodeCooler, airflow: number): number {
  return cooler.fullWPerK * (cooler.stillShare + (1 - cooler.stillShare) * airflow);
}

/** Anode temperature after `dtS` of steady heat: trapezoid rule, stable for any length. */
export function advanceAnodeK(
  cooler: AnodeCooler,
  anodeK: number,
  watts: number,
  gWPerK: number,
  dtS: number,
): number {
  const netW = watts - gWPerK * (anodeK - cooler.inletK);
  return anodeK + (dtS * netW) / (cooler.heatJPerK + 0.5 * gWPerK * dtS);
}

/** Seal temperature after `dtS` behind an anode at `anodeK` on the mean. */
export function advanceSealK(
  cooler: AnodeCooler,
  sealK: number,
  anodeK: number,
  dtS: number,
): number {
  const towardsK = cooler.inletK + SEAL_SHARE * (anodeK - cooler.inletK);
  return sealK + (dtS * (towardsK - sealK)) / (cooler.sealTimeConstantS + 0.5 * dtS);
}

/** Temperature of the air that leaves the cooler, K. */
export function exhaustAirK(
  cooler: AnodeCooler,
  anodeK: number,
  gWPerK: number,
  airflow: number,
): number {
  const riseK = anodeK - cooler.inletK;
  const heats = gWPerK / (cooler.airWPerK * Math.max(airflow, DRAUGHT));
  return cooler.inletK + riseK * Math.min(heats, 1);
}

/** Heat now over what the anode's cooling carries away at the rated rise. */
export function anodeStress(cooler: AnodeCooler, watts: number, gWPerK: number): number {
  return watts / (gWPerK * cooler.ratedRiseK);
}

/** Heat now over what would in the end bring the seal to its limit. */
export function sealStress(cooler: AnodeCooler, watts: number, gWPerK: number): number {
  return (watts * SEAL_SHARE) / (gWPerK * (cooler.sealLimitK - cooler.inletK));
}

/** Seconds until the anode is at its limit if heat and airflow stay; 0 when there, Infinity for never. */
export function anodeTimeLeftS(
  cooler: AnodeCooler,
  anodeK: number,
  watts: number,
  gWPerK: number,
): number {
  const { heatJPerK, inletK, anodeLimitK } = cooler;
  if (anodeK >= anodeLimitK) return 0;
  const endK = inletK + watts / gWPerK;
  if (!(endK > anodeLimitK)) return Infinity;
  return (heatJPerK / gWPerK) * ln((endK - anodeK) / (endK - anodeLimitK));
}

/**
 * Seconds until the seal is at its limit if heat and airflow stay. Its way is a constant and two exponentials with one
 * turning point at most, so the first crossing is found by halving on the side of it where it can be.
 */
export function sealTimeLeftS(
  cooler: AnodeCooler,
  anodeK: number,
  sealK: number,
  watts: number,
  gWPerK: number,
): number {
  const { heatJPerK, inletK, sealLimitK, sealTimeConstantS: ts } = cooler;
  if (sealK >= sealLimitK) return 0;
  let ta = heatJPerK / gWPerK;
  if (Math.abs(ta - ts) < 1e-6 * ts) ta = ts * (1 + 1e-6); // equal ones would divide by nothing
  const endRise = (SEAL_SHARE * watts) / gWPerK;
  const a = (SEAL_SHARE * (anodeK - inletK) - endRise) / (1 - ts / ta);
  const b = sealK - inletK - endRise - a;
  const over = (t: number): number =>
    inletK + endRise + a * exp(-t / ta) + b * exp(-t / ts) - sealLimitK;
  const turns = (a * ts) / (-b * ta);
  const turnS = turns > 0 ? ln(turns) / (1 / ta - 1 / ts) : -1;
  let low = 0;
  let high: number;
  if (turnS > 0 && over(turnS) >= 0) high = turnS;
  else {
    if (!(inletK + endRise > sealLimitK)) return Infinity;
    low = Math.max(turnS, 0);
    high = low + ts;
    while (over(high) < 0) high += high - low;
  }
  for (let i = 0; i < 60; i++) {
    const middle = 0.5 * (low + high);
    if (over(middle) < 0) low = middle;
    else high = middle;
  }
  return high;
}
