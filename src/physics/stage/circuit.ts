/**
 * The stage as numbers: what the solver reads, in the form it reads it. Everything may be changed
 * between two steps; nothing is remembered from one step to the next.
 *
 * Symbols: cathode tank Ck, Lk behind an ideal 1:n transformer from a source Rs; plate node C1 with choke
 * Lr; coil L, r; loading node C2; pi-L only: output coil L2, r2 and connector C3; load G + jB; supply Eo, Rs, Cf, surge resistor, bypass Cb.
 */
import { noStray, type StrayCurrents } from "../tube/strayCurrents";
import type { TriodeLaw } from "../tube/triode";
import { ARC_COUNT, AT_TAP } from "./layout";

export interface StageCircuit {
  omega: number;
  tube: TriodeLaw;
  /** Source: current phasor n Es/(n^2 Rs) into the cathode node, and how fast it is changing. */
  sourceA: number;
  sourceAPerS: number;
  driveOhm: number;
  turnsRatio: number;
  cathodeLossSiemens: number;
  cathodeF: number;
  cathodeH: number;
  plateF: number;
  plateLossSiemens: number;
  chokeH: number;
  coilH: number;
  coilOhm: number;
  /** Fraction of the coil between tap and output. */
  tapFraction: number;
  loadingF: number;
  /** Series coil of a pi-L from the loading capacitor to the connector; 0 for a pi. */
  outputCoilH: number;
  outputCoilOhm: number;
  /** Load beyond the coupler at the carrier. */
  loadSiemens: number;
  loadSusceptanceSiemens: number;
  referenceOhm: number;
  /** A stiff supply holds its filter voltage. */
  stiffSupply: boolean;
  noLoadV: number;
  sourceSiemens: number;
  filterF: number;
  bleederSiemens: number;
  surgeSiemens: number;
  bypassF: number;
  /** From the plate side of the surge resistor to ground. */
  shortSiemens: number;
  /** A fired crowbar, across the filter. */
  crowbarSiemens: number;
  /** An arc fed with direct current from the plate side of the surge resistor: its voltage, and its leads. */
  dcArcV: number;
  dcArcSiemens: number;
  /** Cathode return: a voltage held through a small conductance, beside the cut-off resistor. */
  biasV: number;
  biasSiemens: number;
  cutoffSiemens: number;
  returnF: number;
  /** From grid to cathode inside the tube; 0 while they do not touch. */
  touchSiemens: number;
  readonly stray: StrayCurrents;
  /** Per arc place: burning, maintaining voltage, time constant of ln g. */
  readonly burning: Uint8Array;
  readonly maintainingV: Float64Array;
  readonly arcTimeConstantS: Float64Array;
  /** Per arc place: metal across the gap, a bead or plates that touch; 0 for none. */
  readonly bridgedSiemens: Float64Array;
}

/**
 * Capacitance of a pi-L's connector and lead, an estimate; a pi has it in its loading capacitor. What it draws in the
 * settled state is counted as part of the load; here it only keeps the connector from jumping when the load goes.
 */
export const CONNECTOR_F = 5e-12;

/** Whether the output network is a pi-L. */
export function hasOutputCoil(c: StageCircuit): boolean {
  return c.outputCoilH > 0;
}

/** Whether the tap is a node of its own: an arc burns there, or metal shorts it. */
export function isTapNode(c: StageCircuit): boolean {
  return c.burning[AT_TAP] === 1 || (c.bridgedSiemens[AT_TAP] as number) > 0;
}

/** Metal across a gap, a bead or touching plates: 10 mohm, at RF little more than its own resistance. Estimate. */
export const BRIDGED_SIEMENS = 100;

/** Conductance that stands for a stiff connection: 1 mohm, 1 mV at 1 A. */
export const STIFF_SIEMENS = 1000;

/** A circuit with nothing in it: no drive, no tube current, no arc. What a station has is put over it. */
export function emptyCircuit(): StageCircuit {
  return {
    omega: 1,
    tube: { perveance: 0, mu: 1, divisionRatio: 1, offsetV: 0 },
    sourceA: 0,
    sourceAPerS: 0,
    driveOhm: 50,
    turnsRatio: 1,
    cathodeLossSiemens: 0,
    cathodeF: 1,
    cathodeH: 1,
    plateF: 1,
    plateLossSiemens: 0,
    chokeH: 1,
    coilH: 1,
    coilOhm: 0,
    tapFraction: 0.5,
    loadingF: 1,
    outputCoilH: 0,
    outputCoilOhm: 0,
    loadSiemens: 0,
    loadSusceptanceSiemens: 0,
    referenceOhm: 50,
    stiffSupply: true,
    noLoadV: 0,
    sourceSiemens: 0,
    filterF: 1,
    bleederSiemens: 0,
    surgeSiemens: STIFF_SIEMENS,
    bypassF: 1e-9,
    shortSiemens: 0,
    crowbarSiemens: 0,
    dcArcV: 0,
    dcArcSiemens: 0,
    biasV: 0,
    biasSiemens: STIFF_SIEMENS,
    cutoffSiemens: 0,
    returnF: 1e-8,
    touchSiemens: 0,
    stray: noStray(),
    burning: new Uint8Array(ARC_COUNT),
    maintainingV: new Float64Array(ARC_COUNT).fill(250),
    arcTimeConstantS: new Float64Array(ARC_COUNT).fill(2e-6),
    bridgedSiemens: new Float64Array(ARC_COUNT),
  };
}

/** Source current phasor for an available drive: n Es/(n^2 Rs) with Es = 2 sqrt(2 Rs P). */
export function sourceCurrentA(availableW: number, driveOhm: number, turnsRatio: number): number {
  return (2 * Math.sqrt(2 * driveOhm * Math.max(availableW, 0))) / (turnsRatio * driveOhm);
}
