/**
 * Settled states of one circuit, read by straight lines over drive and filter voltage: what a stage that follows its
 * drive at once would show. Solved by the bench's own settled solver, with the same harmonics.
 *
 *   x(u, Vc),  u = sqrt(P),  P available drive in W, Vc filter voltage in V
 *
 * Kept are direct currents, the plate's RF peak, dissipation, and the square roots of the powers, which run nearly
 * straight in u; the plate voltage follows from Vc and the plate current. Rows in u are solved upwards as they are first
 * asked for, each from the one below, so that nothing depends on who asked; what a gap withstands is the asker's, and is in no map.
 *
 * Validity: drive and supply that change slowly against the tank (microseconds) and a cathode return at rest. Nothing in
 * here has a memory: sag, filter and sensors are the caller's. Above the highest drive, outside the range of Vc, and where the
 * stage finds no state, or a clean gap would strike, there is no reading. Steps chosen so that between its lines
 * a map reads gain within 0.02 dB above 8 W, and everything else within 0.2 % of full scale (dissipation: of its rating), of the
 * solver's own [measured in the tests: demonstration station into its matched load, 0 to 62 W, 75 to 105 % of the voltage at no
 * load]. A quick run as a whole is held to 0.3 % of full scale of the bench, sensor by sensor.
 */
import type { StageCircuit } from "../../physics/stage/circuit";
import { coldStart, SETTLED } from "../../physics/stage/coldStart";
import { ARC_COUNT, EB, STATE_LENGTH, VC } from "../../physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../physics/stage/readings";
import { StageSolver } from "../../physics/stage/stageSolver";
import { nodePeakV } from "../../simulation/stageRun";

/** What is kept of a state, in this order. */
export const MAP = {
  plateCurrentA: 0,
  gridCurrentA: 1,
  plateRfPeakV: 2,
  rootForward: 3,
  rootReflected: 4,
  rootDriveReflected: 5,
  plateDissipationW: 6,
} as const;
export const MAP_CHANNELS = 7;

const U_STEP = 0.12;
const PER_U_STEP = 1 / U_STEP;
/** 324 W: over five times the full drive of the demonstration station. */
const U_STEPS = 150;
const V_STEPS = 12;
const V_LOW_SHARE = 0.55;
const V_HIGH_SHARE = 1.15;
/** Places from a value to the same one line further in u. */
const UP = (V_STEPS + 1) * MAP_CHANNELS;

/** A value between four corners: at `at`, one line further in V, in u, and in both. */
function blend(
  table: Float64Array,
  at: number,
  b00: number,
  b01: number,
  b10: number,
  b11: number,
): number {
  return (
    b00 * (table[at] as number) +
    b01 * (table[at + MAP_CHANNELS] as number) +
    b10 * (table[at + UP] as number) +
    b11 * (table[at + UP + MAP_CHANNELS] as number)
  );
}

export class QuickMap {
  private readonly table = new Float64Array((U_STEPS + 1) * (V_STEPS + 1) * MAP_CHANNELS);
  private readonly solver = new StageSolver();
  private readonly row = new Float64Array(READING_COUNT);
  /** Highest peak each place has seen up to a row, at any filter voltage. */
  private readonly peaks = new Float64Array((U_STEPS + 1) * ARC_COUNT);
  /** State of each column at the row solved last. */
  private readonly states: Float64Array[] = [];
  private readonly lowV: number;
  private readonly stepV: number;
  private readonly perStepV: number;
  /** Rows solved so far, and the first that cannot be. */
  private rows = 0;
  private endRow = U_STEPS + 1;
  /** Up to this row nothing strikes at the withstand voltages asked about last. */
  private clearRow = 0;
  private clearOf: Float64Array | null = null;

  /** `sourceOf` is the drive phasor of a drive in W. */
  constructor(
    private readonly c: StageCircuit,
    noLoadV: number,
    private readonly sourceOf: (watts: number) => number,
  ) {
    this.lowV = V_LOW_SHARE * noLoadV;
    this.stepV = ((V_HIGH_SHARE - V_LOW_SHARE) * noLoadV) / V_STEPS;
    this.perStepV = 1 / this.stepV;
    // a source without resistance holds the filter where it is put
    c.stiffSupply = true;
  }

  /**
   * Readings at a drive of u^2 watts and a filter voltage, into `out` in the order of MAP; false where there are none.
   * `withstandV` by place is the caller's, and stays as it is: a state beyond one that would strike a gap is none.
   */
  read(u: number, filterV: number, withstandV: Float64Array, out: Float64Array): boolean {
    const x = u * PER_U_STEP;
    const y = (filterV - this.lowV) * this.perStepV;
    const k = Math.floor(x);
    const j = Math.floor(y);
    if (k + 1 >= this.rows && !this.solveTo(k + 1)) return false;
    if (!(j >= 0 && j < V_STEPS)) return false;
    if ((k >= this.clearRow || withstandV !== this.clearOf) && !this.isClear(k + 1, withstandV))
      return false;
    const { table } = this;
    const p = x - k;
    const q = y - j;
    const b11 = p * q;
    const b10 = p - b11;
    const b01 = q - b11;
    const b00 = 1 - p - b01;
    const at = (k * (V_STEPS + 1) + j) * MAP_CHANNELS;
    // one by one: a loop costs as much again
    out[0] = blend(table, at, b00, b01, b10, b11);
    out[1] = blend(table, at + 1, b00, b01, b10, b11);
    out[2] = blend(table, at + 2, b00, b01, b10, b11);
    out[3] = blend(table, at + 3, b00, b01, b10, b11);
    out[4] = blend(table, at + 4, b00, b01, b10, b11);
    out[5] = blend(table, at + 5, b00, b01, b10, b11);
    out[6] = blend(table, at + 6, b00, b01, b10, b11);
    return true;
  }

  /** Whether no state up to a row strikes; peaks only rise, so what was asked before need not be asked again. */
  private isClear(row: number, withstandV: Float64Array): boolean {
    for (let a = 0; a < ARC_COUNT; a++) {
      if ((this.peaks[row * ARC_COUNT + a] as number) >= (withstandV[a] as number)) return false;
    }
    this.clearOf = withstandV;
    this.clearRow = row;
    return true;
  }

  private solveTo(row: number): boolean {
    while (this.rows <= row) {
      if (this.rows >= this.endRow) return false;
      if (!this.solveRow(this.rows)) {
        this.endRow = this.rows;
        return false;
      }
      this.rows += 1;
    }
    return true;
  }

  private solveRow(k: number): boolean {
    const { c, solver, peaks } = this;
    const u = k * U_STEP;
    c.sourceA = this.sourceOf(u * u);
    c.sourceAPerS = 0;
    const of = k * ARC_COUNT;
    if (k > 0) peaks.copyWithin(of, of - ARC_COUNT, of);
    for (let j = 0; j <= V_STEPS; j++) {
      c.noLoadV = this.lowV + j * this.stepV;
      let y = this.states[j];
      if (y === undefined) {
        y = new Float64Array(STATE_LENGTH);
        this.states[j] = y;
        if (!this.begin(y, this.states[j - 1])) return false;
      } else if (!(solver.settle(c, y, Infinity) < SETTLED)) return false;
      for (let a = 0; a < ARC_COUNT; a++) {
        peaks[of + a] = Math.max(peaks[of + a] as number, nodePeakV(c, y, a));
      }
      this.keep(k, j, y);
    }
    return true;
  }

  /** The first state of a column: from its neighbour's, or from nothing. */
  private begin(y: Float64Array, beside: Float64Array | undefined): boolean {
    const { c, solver } = this;
    if (beside !== undefined) {
      y.set(beside);
      y[VC] = c.noLoadV;
      if (solver.settle(c, y, Infinity) < SETTLED) return true;
    }
    return coldStart(solver, c, y, -1) < SETTLED;
  }

  private keep(k: number, j: number, y: Float64Array): void {
    const { c, row, solver, table } = this;
    readStage(c, solver.system, y, c.sourceA, row);
    const at = (k * (V_STEPS + 1) + j) * MAP_CHANNELS;
    const value = (reading: number): number => row[reading] as number;
    table[at + MAP.plateCurrentA] = ((y[VC] as number) - (y[EB] as number)) * c.surgeSiemens;
    table[at + MAP.gridCurrentA] = value(READING.gridCurrentA);
    table[at + MAP.plateRfPeakV] = value(READING.plateRfPeakV);
    table[at + MAP.rootForward] = Math.sqrt(value(READING.forwardW));
    table[at + MAP.rootReflected] = Math.sqrt(value(READING.reflectedW));
    table[at + MAP.rootDriveReflected] = Math.sqrt(value(READING.driveReflectedW));
    table[at + MAP.plateDissipationW] = value(READING.plateDissipationW);
  }
}
