/**
 * Carries the stage through a piece of time in which the circuit does not change: settled while it can,
 * step by step after an event. Stops at a strike and at the end of an arc, to the nanosecond, and leaves
 * what follows to the world.
 *
 * Hand-over back to the settled solver happens at the end of a sample only, and only when the settled
 * state differs from the transient one by less than 2e-5 of full scale in every reading.
 */
import { hasOutputCoil, type StageCircuit } from "../physics/stage/circuit";
import { SETTLED } from "../physics/stage/coldStart";
import {
  ARC_COUNT,
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
  EB,
  EK,
  STATE_LENGTH,
  V1,
  V2,
  V3,
  VC,
} from "../physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../physics/stage/readings";
import { StageSolver, shortestStepS } from "../physics/stage/stageSolver";
import { MODE_AT, ROW_AT, STAGE_AT, STEP_AT } from "./worldLayout";

/** Receives each piece of time the stage went through, with the readings at both ends. */
export interface StageSink {
  /** `inside` reads the piece between its ends; null for a settled piece, which is straight. */
  piece(
    fromNs: number,
    dtS: number,
    before: Float64Array,
    after: Float64Array,
    inside: StepInterpolator | null,
  ): void;
  /** Earliest instant at which something waits to be done, as known after the piece just given. */
  dueNs(): number;
}

/** Interpolation between two ends of a transient step; valid only inside `StageSink.piece`. */
export interface StepInterpolator {
  /** Readings at the fraction of the step, 0 to 1. */
  readingsAt(fraction: number, into: Float64Array): void;
}

/** `due`: something set off in this very piece of time waits to be done. */
export type Incident = "none" | "strike" | "arcOut" | "due";

/** Largest values the readings are judged against at a hand-over, in the order of READING. */
const FULL_SCALE = new Float64Array(READING_COUNT).fill(1000);
FULL_SCALE[READING.driveW] = 250;
FULL_SCALE[READING.driveReflectedW] = 250;
FULL_SCALE[READING.cathodeRfPeakV] = 200;
FULL_SCALE[READING.plateCurrentA] = 2.5;
FULL_SCALE[READING.tubeCurrentA] = 2.5;
FULL_SCALE[READING.gridCurrentA] = 1;
FULL_SCALE[READING.cathodeV] = 200;
FULL_SCALE[READING.plateV] = 5000;
FULL_SCALE[READING.filterV] = 5000;
FULL_SCALE[READING.plateRfPeakV] = 6000;
FULL_SCALE[READING.coilPeakA] = 30;
FULL_SCALE[READING.outputRfPeakV] = 1000;
FULL_SCALE[READING.forwardW] = 2500;
FULL_SCALE[READING.outputW] = 2500;
FULL_SCALE[READING.plateDissipationW] = 3000;
FULL_SCALE[READING.gridDissipationW] = 100;
for (let a = 0; a < ARC_COUNT; a++) FULL_SCALE[READING.arcPlacePeakA + a] = 20;

const HAND_OVER = 2e-5;
/** Steps shorter than this say that the envelope still moves: no use in asking for a hand-over. */
const CALM_STEP_CYCLES = 4;
/** What the cathode return may still drift over one sample when the settled solver takes over, volts. */
const CALM_CATHODE_V = 2e-3;
/** A time so short that no charge moves: the slow nodes stay where they are. */
const PINNED_S = 1e-12;
/** What the plate node may still drift over one sample then, volts: 2e-4 of its full scale, under any meter's eye. */
const CALM_PLATE_V = 1;
const MOST_STEPS = 200_000;

/**
 * A source without resistance holds the filter where it is itself, through a dip of the mains and after a pause. The bypass
 * beside it follows at once, or the instant would show a current that no supply can give.
 */
export function holdStiff(c: StageCircuit, f: Float64Array): void {
  const moved = c.noLoadV - (f[STAGE_AT + VC] as number);
  f[STAGE_AT + VC] = c.noLoadV;
  f[STAGE_AT + EB] = (f[STAGE_AT + EB] as number) + moved;
}

export class StageRun implements StepInterpolator {
  readonly solver = new StageSolver();
  /** Where an incident stopped the run. */
  stoppedNs = 0;
  stoppedPlace = -1;
  private readonly y: Float64Array;
  private readonly next = new Float64Array(STATE_LENGTH);
  private readonly trial = new Float64Array(STATE_LENGTH);
  private readonly between = new Float64Array(STATE_LENGTH);
  private readonly slope0 = new Float64Array(STATE_LENGTH);
  private readonly slope1 = new Float64Array(STATE_LENGTH);
  private readonly row0 = new Float64Array(READING_COUNT);
  private readonly row1 = new Float64Array(READING_COUNT);
  private readonly rowTrial = new Float64Array(READING_COUNT);
  private readonly reader = new StageSolver();
  private circuit: StageCircuit | null = null;
  private stepS = 0;
  private sourceBefore = 0;
  private sourceAfter = 0;

  constructor(
    private readonly f: Float64Array,
    /** Peak voltage each place withstands now; Infinity where nothing can strike. */
    readonly withstandV: Float64Array,
    readonly holdingW: number,
    /** Calm is judged over a whole sample, however short its last piece was. */
    readonly sampleS: number,
  ) {
    this.y = f.subarray(STAGE_AT, STAGE_AT + STATE_LENGTH);
  }

  /** Puts the transient solver in charge, with short steps to begin with. */
  disturb(c: StageCircuit): void {
    this.f[MODE_AT] = 1;
    this.f[STEP_AT] = shortestStepS(c);
  }

  /**
   * Runs from `fromNs` to `toNs` with the drive phasor going linearly from `sourceFromA` to `sourceToA`.
   * `sampleEnds` tells whether `toNs` closes a sample.
   */
  advance(
    c: StageCircuit,
    fromNs: number,
    toNs: number,
    sourceFromA: number,
    sourceToA: number,
    sampleEnds: boolean,
    sink: StageSink,
  ): Incident {
    this.circuit = c;
    const { f, y } = this;
    if (f[MODE_AT] === 0) {
      if (this.settledPiece(c, fromNs, toNs, sourceToA, sink)) return "none";
      this.disturb(c);
    }
    let spanS = (toNs - fromNs) * 1e-9;
    let dueNs = Infinity;
    const rate = (sourceToA - sourceFromA) / spanS;
    const shortest = shortestStepS(c);
    const { solver, row0, row1, next } = this;
    if (c.dcArcSiemens > 0 && (y[VC] as number) < c.dcArcV) c.dcArcSiemens = 0;
    let t = 0;
    c.sourceA = sourceFromA;
    c.sourceAPerS = rate;
    solver.open(c, y);
    readStage(c, solver.system, y, c.sourceA, row0);
    for (let n = 0; n < MOST_STEPS; n++) {
      const left = spanS - t;
      let h = Math.min(f[STEP_AT] as number, left);
      if (left - h < 1e-3 * h) h = left; // no crumbs
      c.sourceA = sourceFromA + rate * t;
      const full = h === f[STEP_AT];
      solver.step(c, y, h, next);
      const wanted = solver.nextStepS(h, shortest);
      if (!solver.isGood(h, shortest)) {
        f[STEP_AT] = wanted;
        if (!(wanted > 1e-15)) throw new Error(`stage cannot step at ${fromNs} ns + ${t} s`);
        solver.open(c, y);
        continue;
      }
      // a step cut short by the end of the piece says nothing against the longer one
      f[STEP_AT] = full ? wanted : Math.max(wanted, f[STEP_AT] as number);
      if (this.strikeInside(c, y, next, h) >= 0) {
        return this.stopAtStrike(c, fromNs, t, h, rate, sourceFromA, sink);
      }
      this.keepStep(c, sourceFromA + rate * t, sourceFromA + rate * (t + h), h);
      c.sourceA = sourceFromA + rate * (t + h);
      solver.open(c, y);
      readStage(c, solver.system, y, sourceFromA + rate * (t + h), row1);
      solver.slope(c, this.slope1);
      sink.piece(fromNs + t * 1e9, h, row0, row1, this);
      t += h;
      row0.set(row1);
      if (c.dcArcSiemens > 0 && (y[VC] as number) < c.dcArcV) {
        // a direct-current arc is no source: what feeds it has fallen under its voltage
        c.dcArcSiemens = 0;
        f[STEP_AT] = shortest;
        solver.open(c, y);
        readStage(c, solver.system, y, c.sourceA, row0);
      }
      const out = this.arcOut(c, row1, y);
      if (out >= 0) return this.stop("arcOut", fromNs + Math.ceil(t * 1e9 - 1e-6), toNs, out);
      const due = sink.dueNs();
      if (due < toNs && due < dueNs) {
        dueNs = Math.max(due, fromNs + Math.ceil(t * 1e9 - 1e-6));
        spanS = Math.max((dueNs - fromNs) * 1e-9, t);
      }
      if (t >= spanS && dueNs < toNs) {
        f.set(row1, ROW_AT);
        return this.stop("due", dueNs, toNs, -1);
      }
      if (t >= spanS) {
        f.set(row1, ROW_AT);
        if (sampleEnds) this.tryHandOver(c, sourceToA);
        return "none";
      }
    }
    throw new Error(`stage needs more than ${MOST_STEPS} steps from ${fromNs} to ${toNs} ns`);
  }

  /** Readings inside the step just kept: cubic in the states, then read as any other state. */
  readingsAt(fraction: number, into: Float64Array): void {
    const c = this.circuit as StageCircuit;
    const { between, trial, y, slope0, slope1, stepS: h, reader } = this;
    const s = fraction;
    const s2 = s * s;
    const s3 = s2 * s;
    const a0 = 2 * s3 - 3 * s2 + 1;
    const b0 = (s3 - 2 * s2 + s) * h;
    const a1 = 3 * s2 - 2 * s3;
    const b1 = (s3 - s2) * h;
    for (let i = 0; i < STATE_LENGTH; i++) {
      const m0 = slope0[i] as number;
      const m1 = slope1[i] as number;
      const y0 = trial[i] as number;
      const y1 = y[i] as number;
      // a stiff state (supply behind a short) has slopes that belong to its first instant only
      const chord = Math.abs(y1 - y0) * 3;
      between[i] =
        Math.abs(m0 * h) > chord || Math.abs(m1 * h) > chord
          ? y0 + (y1 - y0) * s
          : a0 * y0 + b0 * m0 + a1 * y1 + b1 * m1;
    }
    reader.open(c, between);
    const source = this.sourceBefore + (this.sourceAfter - this.sourceBefore) * s;
    readStage(c, reader.system, between, source, into);
  }

  /** One settled piece; false when it does not converge or something strikes or goes out in it. */
  private settledPiece(
    c: StageCircuit,
    fromNs: number,
    toNs: number,
    sourceToA: number,
    sink: StageSink,
  ): boolean {
    const { f, y, next, solver, row0, row1 } = this;
    const dtS = (toNs - fromNs) * 1e-9;
    next.set(y);
    c.sourceA = sourceToA;
    c.sourceAPerS = 0;
    if (!(solver.settle(c, next, dtS) < SETTLED)) return false;
    for (let a = 0; a < ARC_COUNT; a++) {
      if (!c.burning[a] && nodePeakV(c, next, a) >= (this.withstandV[a] as number)) return false;
    }
    readStage(c, solver.system, next, sourceToA, row1);
    if (this.arcOut(c, row1, next) >= 0) return false;
    for (let i = 0; i < READING_COUNT; i++) row0[i] = f[ROW_AT + i] as number;
    y.set(next);
    f.set(row1, ROW_AT);
    sink.piece(fromNs, dtS, row0, row1, null);
    return true;
  }

  private keepStep(c: StageCircuit, sourceBefore: number, sourceAfter: number, h: number): void {
    this.trial.set(this.y);
    this.solver.slope(c, this.slope0);
    this.sourceBefore = sourceBefore;
    this.sourceAfter = sourceAfter;
    this.stepS = h;
    this.y.set(this.next);
  }

  /** Time from the step's start, in ns, at which the first place breaks down; -1 for none. */
  private strikeInside(c: StageCircuit, y: Float64Array, next: Float64Array, h: number): number {
    let first = Infinity;
    this.stoppedPlace = -1;
    for (let a = 0; a < ARC_COUNT; a++) {
      if (c.burning[a]) continue;
      const limit = this.withstandV[a] as number;
      const v1 = nodePeakV(c, next, a);
      if (v1 < limit) continue;
      const v0 = nodePeakV(c, y, a);
      const part = v0 >= limit ? 0 : (limit - v0) / (v1 - v0);
      if (part < first) {
        first = part;
        this.stoppedPlace = a;
      }
    }
    return first < Infinity ? first * h * 1e9 : -1;
  }

  /** Goes as far as the breakdown, on a whole nanosecond, and stops there. */
  private stopAtStrike(
    c: StageCircuit,
    fromNs: number,
    t: number,
    h: number,
    rate: number,
    sourceFromA: number,
    sink: StageSink,
  ): Incident {
    const { solver, y, next, row0, row1, f } = this;
    const place = this.stoppedPlace;
    const crossNs = this.strikeInside(c, y, next, h);
    const stopNs = fromNs + Math.max(Math.ceil(t * 1e9 + crossNs - 1e-6), 0);
    const part = (stopNs - fromNs) * 1e-9 - t;
    if (part > 0) {
      solver.open(c, y);
      solver.step(c, y, part, next);
      this.keepStep(c, sourceFromA + rate * t, sourceFromA + rate * (t + part), part);
      c.sourceA = sourceFromA + rate * (t + part);
      solver.open(c, y);
      readStage(c, solver.system, y, sourceFromA + rate * (t + part), row1);
      solver.slope(c, this.slope1);
      sink.piece(fromNs + t * 1e9, part, row0, row1, this);
      f.set(row1, ROW_AT);
    } else f.set(row0, ROW_AT);
    return this.stop("strike", stopNs, Infinity, place);
  }

  private stop(incident: Incident, atNs: number, latestNs: number, place: number): Incident {
    this.stoppedNs = Math.min(atNs, latestNs);
    this.stoppedPlace = place;
    if (incident === "arcOut") this.f.set(this.row1, ROW_AT);
    return incident;
  }

  /** A burning arc the circuit no longer feeds: under the holding power and falling. */
  private arcOut(c: StageCircuit, row: Float64Array, y: Float64Array): number {
    for (let a = 0; a < ARC_COUNT; a++) {
      if (!c.burning[a]) continue;
      if ((row[READING.arcPlaceW + a] as number) >= this.holdingW) continue;
      if (nodePeakV(c, y, a) < (c.maintainingV[a] as number)) return a;
    }
    return -1;
  }

  /** At the end of a sample: settled solver takes over when nobody could tell the difference. */
  private tryHandOver(c: StageCircuit, sourceA: number): void {
    const { sampleS, f, y, trial, solver, rowTrial, slope1 } = this;
    if ((f[STEP_AT] as number) * c.omega < CALM_STEP_CYCLES * 2 * Math.PI) return;
    if (Math.abs((slope1[EK] as number) * sampleS) > CALM_CATHODE_V) return;
    trial.set(y);
    c.sourceA = sourceA;
    c.sourceAPerS = 0;
    // RF, arcs and the fast DC nodes at rest with the filter voltage as it is
    if (!(solver.settle(c, trial, PINNED_S) < SETTLED)) return;
    readStage(c, solver.system, trial, sourceA, rowTrial);
    for (let i = 0; i < READING_COUNT; i++) {
      const gap = Math.abs((rowTrial[i] as number) - (f[ROW_AT + i] as number));
      if (!(gap <= HAND_OVER * (FULL_SCALE[i] as number))) return;
    }
    // the bypassed plate node must have caught up with the filter as well
    if (Math.abs((slope1[EB] as number) * sampleS) > CALM_PLATE_V) return;
    y.set(trial);
    f.set(rowTrial, ROW_AT);
    f[MODE_AT] = 0;
  }
}

/** Peak of the fundamental across the gap at a place. */
export function nodePeakV(c: StageCircuit, y: Float64Array, place: number): number {
  if (place === AT_PLATE) return magnitude(y[V1] as number, y[V1 + 1] as number);
  const v2r = y[V2] as number;
  const v2i = y[V2 + 1] as number;
  if (place === AT_BEYOND && hasOutputCoil(c)) {
    return magnitude(y[V3] as number, y[V3 + 1] as number);
  }
  if (place === AT_LOADING || place === AT_BEYOND) return magnitude(v2r, v2i);
  if (place === AT_TAP) {
    const t = c.tapFraction;
    return magnitude(v2r + t * ((y[V1] as number) - v2r), v2i + t * ((y[V1 + 1] as number) - v2i));
  }
  return 0;
}

function magnitude(re: number, im: number): number {
  return Math.sqrt(re * re + im * im);
}
