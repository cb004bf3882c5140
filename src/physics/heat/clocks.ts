/**
 * The parts' clocks: how far each part of the station is on its way to damage, and how long it has left.
 *
 *   grid           radiating wires                      `radiatingWire`
 *   anode, seal    air-cooled body and what hangs on it `anodeCooler`
 *   all others     first-order heat image               `heatImage`
 *   relayContact   energy of hot switching, added up    wear: it does not cool
 *
 * Stress is heat now over the heat the part carries for good (a current squared, energy for a relay has none): 1 is the
 * rating. Fraction runs from 0 (cold) to 1 (damage). Time left holds if stress and airflow stay as they are.
 *
 * All state lies in the caller's buffer: one number a clock, one stress a clock, then exhaust air and airflow. A step
 * allocates nothing and calls no elementary function. Steps are of one length, a sample.
 *
 * Standing, part by part, beside the numbers. [E] is an estimate of ours.
 */
import type { Station } from "../../project/station";
import {
  type AnodeCooler,
  advanceAnodeK,
  advanceSealK,
  anodeCooler,
  anodeStress,
  anodeTimeLeftS,
  coolingWPerK,
  exhaustAirK,
  sealStress,
  sealTimeLeftS,
} from "./anodeCooler";
import { advanceImage, type HeatImage, imageStep, imageTimeLeftS } from "./heatImage";
import { advanceWireK, type RadiatingWire, radiatingWire, wireTimeLeftS } from "./radiatingWire";

export const CLOCK_PARTS = [
  "grid",
  "anode",
  "cathode",
  "exciter",
  "seal",
  "switchContact",
  "tuningWiper",
  "loadingWiper",
  "plateChoke",
  "surgeResistor",
  "relayContact",
] as const;
export type ClockPart = (typeof CLOCK_PARTS)[number];

export const CLOCK_COUNT = CLOCK_PARTS.length;

/** Index of each clock. */
export const CLOCK = Object.fromEntries(CLOCK_PARTS.map((part, k) => [part, k])) as Readonly<
  Record<ClockPart, number>
>;

const STRESS = CLOCK_COUNT;
const EXHAUST = 2 * CLOCK_COUNT;
const AIRFLOW = EXHAUST + 1;

/** Numbers the clocks need in the caller's buffer. */
export const CLOCK_STATE_LENGTH = AIRFLOW + 1;

/** What an emitter stands: image of plate current over rating, and how slowly it follows. */
const EMITTERS: Readonly<Record<Station["clocks"]["emitter"], HeatImage>> = {
  // common practice, no source: sustained current above 1.5 times rating strips an oxide coating within minutes
  oxide: { timeConstantS: 20, damageRatio: 1.4 },
  // [E]: no coating to strip, an emission reserve of several times (common practice); the thoriated layer goes, slowly
  thoriatedTungsten: { timeConstantS: 60, damageRatio: 2 },
};

/** Image at which damage begins, in rated heat. All [E]. */
const DAMAGE = {
  /** Finals at twice the reflected power they stand. */
  exciter: 2,
  /** Spring temper and plating go at twice the rated rise: 60 K to 120 K. */
  switchContact: 2,
  /** Wiping contacts of the rotors; the plates stand more. */
  wiper: 2.5,
  /** Enamel at twice the rated rise. */
  plateChoke: 2,
  /** Rated energy is the energy that destroys it. */
  surgeResistor: 1,
  relayContact: 1,
} as const;

/** Direct-current resistance of a choke's wire over that at radio frequency; skin and neighbours, [E]. */
const CHOKE_DIRECT_SHARE = 0.25;

/** RF currents of a network, from mean squares of its voltages, as the clocks want them. */
export function chokeHeatA2(rfRmsSquareA2: number, directSquareA2: number): number {
  return rfRmsSquareA2 + CHOKE_DIRECT_SHARE * directSquareA2;
}

/** A contact drawing an arc of about this voltage while it opens or bounces for about this long; both [E]. */
const CONTACT_ARC_V = 20;
const CONTACT_ARC_S = 2e-3;

/** Energy that switching a relay on or off under an RF peak voltage leaves in its contacts, joules. */
export function hotSwitchJ(rfPeakV: number, lineOhm: number): number {
  return ((CONTACT_ARC_V * rfPeakV) / (Math.SQRT2 * lineOhm)) * CONTACT_ARC_S;
}

/** The clocks of a station; worked out once, kept apart from every run's state. */
export interface Clocks {
  readonly grid: RadiatingWire;
  readonly cooler: AnodeCooler;
  /** By clock; null for grid, anode and seal, which are no images. */
  readonly images: readonly (HeatImage | null)[];
  /** What input counts as stress 1, in the input's own unit; see `advanceClocks`. */
  readonly perStress: Float64Array;
  /** From `imageStep`, by clock. */
  readonly steps: Float64Array;
  /** State that counts as fraction 0, and as 1: kelvin of grid, anode and seal, images of the others. */
  readonly colds: Float64Array;
  readonly limits: Float64Array;
  readonly sampleS: number;
}

/** Works out a station's clocks for samples of `sampleS` in air of a relative density. */
export function clocksOf(station: Station, sampleS: number, relativeDensity = 1): Clocks {
  const { ratings, cooling, clocks, site } = station;
  const inletK = cooling.inletK ?? site.airK;
  const contact = { timeConstantS: clocks.contactTimeConstantS, damageRatio: DAMAGE.switchContact };
  const wiper = { timeConstantS: clocks.capacitorTimeConstantS, damageRatio: DAMAGE.wiper };
  const image: Readonly<Record<ClockPart, HeatImage | null>> = {
    grid: null,
    anode: null,
    seal: null,
    cathode: EMITTERS[clocks.emitter],
    exciter: { timeConstantS: clocks.exciterTimeConstantS, damageRatio: DAMAGE.exciter },
    switchContact: contact,
    tuningWiper: wiper,
    loadingWiper: wiper,
    plateChoke: { timeConstantS: clocks.chokeTimeConstantS, damageRatio: DAMAGE.plateChoke },
    surgeResistor: { timeConstantS: clocks.surgeCoolingS, damageRatio: DAMAGE.surgeResistor },
    relayContact: { timeConstantS: Infinity, damageRatio: DAMAGE.relayContact },
  };
  const perStress: Readonly<Record<ClockPart, number>> = {
    grid: ratings.gridDissipationW,
    anode: ratings.plateDissipationW,
    cathode: ratings.plateCurrentA,
    exciter: ratings.exciterReflectedW,
    seal: ratings.plateDissipationW,
    switchContact: ratings.coilRmsA * ratings.coilRmsA,
    tuningWiper: ratings.tuningRmsA * ratings.tuningRmsA,
    loadingWiper: ratings.loadingRmsA * ratings.loadingRmsA,
    plateChoke: ratings.chokeRmsA * ratings.chokeRmsA,
    surgeResistor: clocks.surgeRatedJ / clocks.surgeCoolingS,
    relayContact: clocks.relayRatedJ,
  };
  const images = CLOCK_PARTS.map((part) => image[part]);
  const range = (part: ClockPart): readonly [coldK: number, limitK: number] => {
    if (part === "grid") return [clocks.gridIdleK, clocks.gridLimitK];
    return [inletK, part === "anode" ? cooling.anodeLimitK : cooling.sealLimitK];
  };
  return {
    grid: radiatingWire(
      ratings.gridDissipationW,
      clocks.gridRatedK,
      clocks.gridIdleK,
      clocks.gridLimitK,
      clocks.gridTimeConstantS,
    ),
    cooler: anodeCooler({
      ratedW: ratings.plateDissipationW,
      ratedRiseK: cooling.ratedRiseK,
      heatJPerK: cooling.anodeHeatCapacityJPerK,
      airflowM3PerS: cooling.airflowM3PerS,
      inletK,
      relativeDensity,
      stillShare: cooling.stillShare,
      anodeLimitK: cooling.anodeLimitK,
      sealTimeConstantS: cooling.sealTimeConstantS,
      sealLimitK: cooling.sealLimitK,
    }),
    images,
    perStress: Float64Array.from(CLOCK_PARTS, (part) => perStress[part]),
    steps: Float64Array.from(images, (law) =>
      law === null ? 0 : imageStep(law.timeConstantS, sampleS),
    ),
    colds: Float64Array.from(CLOCK_PARTS, (part) => (image[part] === null ? range(part)[0] : 0)),
    limits: Float64Array.from(CLOCK_PARTS, (part) => image[part]?.damageRatio ?? range(part)[1]),
    sampleS,
  };
}

/** Everything cold, full airflow. */
export function initClocks(clocks: Clocks, state: Float64Array, at: number): void {
  state.fill(0, at, at + CLOCK_STATE_LENGTH);
  state.set(clocks.colds, at);
  state[at + EXHAUST] = clocks.cooler.inletK;
  state[at + AIRFLOW] = 1;
}

/**
 * One sample. `inputs` in the order of CLOCK_PARTS, means over the sample: watts of grid, anode, exciter and surge
 * resistor, amperes of the cathode, mean square amperes (rms squared) of contact, capacitors and choke; seal and relay
 * contact have none. `airflow` is the share of full airflow, 0 to 1.
 */
export function advanceClocks(
  clocks: Clocks,
  state: Float64Array,
  at: number,
  inputs: Float64Array,
  airflow: number,
): void {
  const { cooler, grid, perStress, steps, sampleS: dt } = clocks;
  const stressAt = at + STRESS;
  const gridW = inputs[CLOCK.grid] as number;
  state[at + CLOCK.grid] = advanceWireK(grid, state[at + CLOCK.grid] as number, gridW, dt);
  state[stressAt + CLOCK.grid] = gridW / grid.ratedW;
  const plateW = inputs[CLOCK.anode] as number;
  const g = coolingWPerK(cooler, airflow);
  const before = state[at + CLOCK.anode] as number;
  const after = advanceAnodeK(cooler, before, plateW, g, dt);
  state[at + CLOCK.anode] = after;
  state[at + CLOCK.seal] = advanceSealK(
    cooler,
    state[at + CLOCK.seal] as number,
    0.5 * (before + after),
    dt,
  );
  state[stressAt + CLOCK.anode] = anodeStress(cooler, plateW, g);
  state[stressAt + CLOCK.seal] = sealStress(cooler, plateW, g);
  state[at + EXHAUST] = exhaustAirK(cooler, after, g, airflow);
  state[at + AIRFLOW] = airflow;
  advanceOne(state, at, CLOCK.cathode, inputs, perStress, steps);
  advanceOne(state, at, CLOCK.exciter, inputs, perStress, steps);
  for (let k = CLOCK.switchContact; k < CLOCK.relayContact; k++) {
    advanceOne(state, at, k, inputs, perStress, steps);
  }
}

function advanceOne(
  state: Float64Array,
  at: number,
  k: number,
  inputs: Float64Array,
  perStress: Float64Array,
  steps: Float64Array,
): void {
  const stress = Math.max(inputs[k] as number, 0) / (perStress[k] as number);
  state[at + k] = advanceImage(state[at + k] as number, stress, steps[k] as number);
  state[at + STRESS + k] = stress;
}

/** Adds the energy of one hot switching to the relay's contacts. */
export function wearRelay(clocks: Clocks, state: Float64Array, at: number, joules: number): void {
  const k = at + CLOCK.relayContact;
  state[k] = (state[k] as number) + joules / (clocks.perStress[CLOCK.relayContact] as number);
}

/** Way of clock `k` to damage, 0 to 1. */
export function clockFraction(clocks: Clocks, state: Float64Array, at: number, k: number): number {
  const cold = clocks.colds[k] as number;
  const gone = ((state[at + k] as number) - cold) / ((clocks.limits[k] as number) - cold);
  return Math.min(Math.max(gone, 0), 1);
}

/** Stress of clock `k` in the last sample: 1 is what it carries for good. */
export function clockStress(state: Float64Array, at: number, k: number): number {
  return state[at + STRESS + k] as number;
}

/** Seconds clock `k` has left at the stress and airflow of the last sample; Infinity for never. */
export function clockTimeLeftS(clocks: Clocks, state: Float64Array, at: number, k: number): number {
  const value = state[at + k] as number;
  const stress = clockStress(state, at, k);
  const image = clocks.images[k];
  if (image !== null && image !== undefined) return imageTimeLeftS(image, value, stress);
  const { grid, cooler } = clocks;
  if (k === CLOCK.grid) return wireTimeLeftS(grid, value, stress * grid.ratedW);
  const g = coolingWPerK(cooler, state[at + AIRFLOW] as number);
  const anodeK = state[at + CLOCK.anode] as number;
  const watts = clockStress(state, at, CLOCK.anode) * g * cooler.ratedRiseK;
  if (k === CLOCK.anode) return anodeTimeLeftS(cooler, anodeK, watts, g);
  return sealTimeLeftS(cooler, anodeK, value, watts, g);
}

/** Air leaving the cooler at the end of the last sample, K; no probe's lag. */
export function clockExhaustAirK(state: Float64Array, at: number): number {
  return state[at + EXHAUST] as number;
}
