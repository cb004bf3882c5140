/**
 * Reference circuits of the cathode-driven stage and what a full-waveform transient analysis says of them, in the
 * product's terms, with the limits that a solver of two harmonics is held to.
 *
 * Source of the stored results: tests/reference/fullWaveformStage.json, computed with the open-source circuit
 * simulator ngspice 39. Limits: a truncation to two harmonics leaves, over 58 such circuits, at most 1.3 % in plate
 * current, 3.1 % in grid current and 0.7 % in output on ordinary loads, and 2.0 %, 4.3 %, 4.5 % where the plate swings
 * below the cathode; the simulator itself moves by 0.2 % and 1.1 % in the two currents when its step is quartered.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { emptyCircuit, type StageCircuit, sourceCurrentA } from "../../src/physics/stage/circuit";
import { coldStart, strikeArc } from "../../src/physics/stage/coldStart";
import { ARC_PLACES, STATE_LENGTH } from "../../src/physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../src/physics/stage/readings";
import { StageSolver } from "../../src/physics/stage/stageSolver";
import { DEFAULT_STATION } from "../../src/project/defaults";
import type { Station } from "../../src/project/station";
import { ROOT } from "./root";
import type { WaveformInput } from "./waveformNetlist";

/** What is compared, in SI; RF values are peaks of the fundamental. */
export interface StageFigures {
  readonly Pout: number;
  readonly V1: number;
  readonly V2: number;
  readonly Ip: number;
  readonly Ig: number;
  /** Pout over available drive, dB. */
  readonly gain: number;
}

export interface SteadyCase {
  readonly name: string;
  readonly input: WaveformInput;
  readonly ngspice: StageFigures & {
    readonly Vk: number;
    readonly Pfwd: number;
    readonly Prev: number;
    readonly PdrvRefl: number;
    readonly vpmin: number;
    readonly Parc?: number;
    readonly VaFund?: number;
  };
}

export interface TransientCase {
  readonly name: string;
  readonly input: WaveformInput & {
    readonly event?: { readonly load: { readonly G: number; readonly B: number } };
  };
  readonly ngspice: {
    readonly envMax?: number;
    readonly final?: number;
    /** Cycles since the event, fundamental of the plate voltage over the cycle centred there. */
    readonly env: readonly (readonly [number, number])[];
  };
}

interface Reference {
  readonly steady: readonly SteadyCase[];
  readonly transient: readonly TransientCase[];
}

const reference = JSON.parse(
  readFileSync(resolve(ROOT, "tests/reference/fullWaveformStage.json"), "utf8"),
) as Reference;

export const STEADY_CASES = reference.steady;
export const TRANSIENT_CASES = reference.transient;

export function steadyCase(name: string): SteadyCase {
  const found = STEADY_CASES.find((k) => k.name === name);
  if (found === undefined) throw new Error(`no reference case ${name}`);
  return found;
}

/** The matched stage at full drive: 1 % of its figures is the floor of every relative error. */
const FLOOR = steadyCase("normal_14.2").ngspice;

export interface Limits {
  readonly Pout: number;
  readonly V1: number;
  readonly V2: number;
  readonly Ip: number;
  readonly Ig: number;
  /** dB, not relative. */
  readonly gain: number;
}

/** Truncation above, rounded up to leave room for the simulator's own step. */
export const ORDINARY: Limits = {
  Pout: 0.012,
  V1: 0.01,
  V2: 0.01,
  Ip: 0.014,
  Ig: 0.033,
  gain: 0.055,
};

/** Open and shorted loads, |gamma| 0.9 and three times the drive: the third harmonic counts. */
export const EXTREME: Limits = {
  Pout: 0.05,
  V1: 0.025,
  V2: 0.025,
  Ip: 0.025,
  Ig: 0.06,
  gain: 0.25,
};

export function limitsOf(name: string): Limits {
  return /open|short|gamma0\.9|overdrive3x/.test(name) ? EXTREME : ORDINARY;
}

/** Errors by name: relative to max(|reference|, 1 % of the matched stage's figure); gain in dB. */
export function errorsOf(actual: StageFigures, expected: StageFigures): StageFigures {
  const relative = (key: Exclude<keyof StageFigures, "gain">): number =>
    (actual[key] - expected[key]) / Math.max(Math.abs(expected[key]), 0.01 * FLOOR[key]);
  return {
    Pout: relative("Pout"),
    V1: relative("V1"),
    V2: relative("V2"),
    Ip: relative("Ip"),
    Ig: relative("Ig"),
    gain: actual.gain - expected.gain,
  };
}

export const FIGURES = ["Pout", "V1", "V2", "Ip", "Ig", "gain"] as const;

/** Every figure outside its limit, in words; empty when all hold. NaN counts as outside. */
export function outsideLimits(name: string, errors: StageFigures, limits: Limits): string[] {
  return FIGURES.filter((key) => !(Math.abs(errors[key]) <= limits[key])).map(
    (key) => `${name}: ${key} off by ${errors[key]}, limit ${limits[key]}`,
  );
}

const PLACES = ["tuningCapacitor", "loadingCapacitor", "coilTap"] as const;

/** Index into the solver's arc places, -1 without an arc. */
export function placeOf(input: WaveformInput): number {
  if (input.arc === null || input.arc === undefined) return -1;
  const name = PLACES[input.arc.node - 1];
  if (name === undefined) throw new Error(`no arc node ${input.arc.node}`);
  return ARC_PLACES.indexOf(name);
}

/** The solver's circuit of a reference input; the arc is not lit. */
export function circuitOf(input: WaveformInput): StageCircuit {
  const c = emptyCircuit();
  c.omega = 2 * Math.PI * input.f;
  c.tube = {
    perveance: input.tube.K,
    mu: input.tube.mu,
    divisionRatio: input.tube.delta,
    offsetV: 0,
  };
  c.driveOhm = input.Rs;
  c.turnsRatio = input.net.n;
  c.cathodeLossSiemens = 1 / input.Rkloss;
  c.cathodeF = input.net.Ck;
  c.cathodeH = input.net.Lk;
  c.plateF = input.net.C1;
  c.chokeH = input.net.Lrfc;
  c.coilH = input.net.L;
  c.coilOhm = input.net.rL;
  c.loadingF = input.net.C2;
  c.loadSiemens = input.load.G;
  c.loadSusceptanceSiemens = input.load.B;
  c.noLoadV = input.Eb;
  c.biasV = input.Ek;
  c.sourceA = sourceCurrentA(input.Pd, input.Rs, input.net.n);
  const place = placeOf(input);
  if (place >= 0 && input.arc) {
    c.maintainingV[place] = input.arc.V;
    c.arcTimeConstantS.fill(input.arc.tau ?? 1e-6);
    if (input.arc.node === 3) c.tapFraction = input.tap;
  }
  return c;
}

/** The same circuit as a station with nothing left to be designed. */
export function stationOf(input: WaveformInput): Station {
  const place = placeOf(input);
  return {
    ...DEFAULT_STATION,
    freqHz: input.f,
    exciter: { ...DEFAULT_STATION.exciter, sourceOhm: input.Rs, availableW: input.Pd },
    inputCircuit: {
      kind: "explicit",
      turnsRatio: input.net.n,
      capacitanceF: input.net.Ck,
      inductanceH: input.net.Lk,
      shuntOhm: input.Rkloss,
    },
    tube: {
      kind: "triode",
      name: "reference triode",
      count: 2,
      mu: input.tube.mu,
      perveanceAPerV1p5: input.tube.K / 2,
      divisionRatio: input.tube.delta,
      offsetV: 0,
    },
    bias: { cathodeV: input.Ek },
    supply: { kind: "stiff", plateV: input.Eb },
    tank: {
      kind: "explicitPi",
      tuningF: input.net.C1,
      coilH: input.net.L,
      coilSeriesOhm: input.net.rL,
      loadingF: input.net.C2,
      chokeH: input.net.Lrfc,
      strayF: 20e-12,
    },
    load: {
      kind: "admittance",
      conductanceSiemens: input.load.G,
      susceptanceSiemens: input.load.B,
    },
    ...(place >= 0 && input.arc
      ? {
          arc: {
            place: ARC_PLACES[place] as (typeof ARC_PLACES)[number],
            maintainingV: input.arc.V,
            ...(input.arc.node === 3 ? { tapFraction: input.tap } : {}),
          },
        }
      : {}),
  };
}

/** A stage in some state, with the readings of that state. */
export interface SettledStage {
  readonly circuit: StageCircuit;
  readonly solver: StageSolver;
  readonly y: Float64Array;
  readonly residual: number;
  readonly row: Float64Array;
}

/** Readings of any state. */
export function readingsOf(
  solver: StageSolver,
  circuit: StageCircuit,
  y: Float64Array,
): Float64Array {
  const row = new Float64Array(READING_COUNT);
  solver.open(circuit, y);
  readStage(circuit, solver.system, y, circuit.sourceA, row);
  return row;
}

/** Found from nothing, the arc of the circuit burning at `place` if that is 0 or more. */
export function settleFromNothing(circuit: StageCircuit, place: number): SettledStage {
  const solver = new StageSolver();
  const y = new Float64Array(STATE_LENGTH);
  const residual = coldStart(solver, circuit, y, place);
  return { circuit, solver, y, residual, row: readingsOf(solver, circuit, y) };
}

export function figuresOf(row: Float64Array, driveW: number): StageFigures {
  const outputW = row[READING.outputW] as number;
  return {
    Pout: outputW,
    V1: row[READING.plateRfPeakV] as number,
    V2: row[READING.outputRfPeakV] as number,
    Ip: row[READING.tubeCurrentA] as number,
    Ig: row[READING.gridCurrentA] as number,
    gain: 10 * Math.log10(outputW / driveW),
  };
}

/** Lights the arc of a reference input in a settled stage, with the conductance the reference starts from. */
export function lightArc(stage: SettledStage, place: number, lnSiemens: number, at: number): void {
  strikeArc(stage.circuit, stage.y, place);
  stage.y[at] = lnSiemens;
}
