/**
 * Settled working points of one station at any drive, tuning, loading and load, for tables and charts.
 *
 * Every point is solved from the same starting state (full drive, as designed, matched), so that a table is the
 * same in any order; where Newton does not get there from it, the circuit is rung up from nothing.
 */
import { emptyCircuit, type StageCircuit } from "../physics/stage/circuit";
import { coldStart, SETTLED } from "../physics/stage/coldStart";
import { ILR, STATE_LENGTH, STRIDE, V1, VK } from "../physics/stage/layout";
import { plateMinimumV, READING, READING_COUNT, readStage } from "../physics/stage/readings";
import { StageSolver } from "../physics/stage/stageSolver";
import {
  applyStation,
  driveSourceA,
  LINE_OHM,
  liveAtRest,
  type StationParts,
} from "../physics/stage/stationCircuit";
import type { LoadAdmittance } from "../physics/tank/plateNetwork";

/** What is set at one working point. */
export interface Setting {
  readonly driveW: number;
  /** Whole plate-node capacitance. */
  readonly tuningF: number;
  readonly loadingF: number;
  readonly load: LoadAdmittance;
}

/** Readings of a settled point. RF voltages and currents are peaks of the fundamental. */
export interface Working {
  readonly setting: Setting;
  readonly outputW: number;
  readonly forwardW: number;
  readonly reflectedW: number;
  readonly driveReflectedW: number;
  readonly plateCurrentA: number;
  readonly gridCurrentA: number;
  readonly plateV: number;
  readonly plateMinV: number;
  readonly plateRfPeakV: number;
  readonly cathodeRfPeakV: number;
  readonly cathodeV: number;
  readonly loadRfPeakV: number;
  readonly coilPeakA: number;
  readonly chokePeakA: number;
  readonly plateDissipationW: number;
  readonly gridDissipationW: number;
  readonly efficiency: number;
  /** Fundamentals and second harmonics of cathode and plate voltage, as the solver's state holds them. */
  readonly state: Float64Array;
}

export const MATCHED: LoadAdmittance = {
  conductanceSiemens: 1 / LINE_OHM,
  susceptanceSiemens: 0,
};

export class WorkingPoints {
  private readonly solver = new StageSolver();
  private readonly c: StageCircuit = emptyCircuit();
  private readonly start = new Float64Array(STATE_LENGTH);
  private readonly y = new Float64Array(STATE_LENGTH);
  private readonly row = new Float64Array(READING_COUNT);
  private readonly hasStart: boolean;

  constructor(readonly parts: StationParts) {
    this.set(this.asDesigned(parts.station.exciter.availableW));
    this.hasStart = coldStart(this.solver, this.c, this.start, -1) < SETTLED;
  }

  /** Tuned and loaded as designed, into 50 ohm. */
  asDesigned(driveW: number): Setting {
    const { tuningF, loadingF } = this.parts;
    return { driveW, tuningF, loadingF, load: MATCHED };
  }

  /** The settled point; null where the station finds none. */
  at(setting: Setting): Working | null {
    const { c, y, solver } = this;
    this.set(setting);
    y.set(this.start);
    const settled = this.hasStart && solver.settle(c, y, Infinity) < SETTLED;
    if (!settled && !(coldStart(solver, c, y, -1) < SETTLED)) return null;
    solver.open(c, y);
    const row = this.row;
    readStage(c, solver.system, y, c.sourceA, row);
    const at = (i: number): number => row[i] as number;
    const inputW = at(READING.plateV) * at(READING.tubeCurrentA);
    return {
      setting,
      outputW: at(READING.outputW),
      forwardW: at(READING.forwardW),
      reflectedW: at(READING.reflectedW),
      driveReflectedW: at(READING.driveReflectedW),
      plateCurrentA: at(READING.tubeCurrentA),
      gridCurrentA: at(READING.gridCurrentA),
      plateV: at(READING.plateV),
      plateMinV: plateMinimumV(y),
      plateRfPeakV: at(READING.plateRfPeakV),
      cathodeRfPeakV: at(READING.cathodeRfPeakV),
      cathodeV: at(READING.cathodeV),
      loadRfPeakV: at(READING.outputRfPeakV),
      coilPeakA: at(READING.coilPeakA),
      chokePeakA: peakOf(y, ILR),
      plateDissipationW: at(READING.plateDissipationW),
      gridDissipationW: at(READING.gridDissipationW),
      efficiency: inputW > 0 ? at(READING.outputW) / inputW : 0,
      state: y.slice(),
    };
  }

  private set({ driveW, tuningF, loadingF, load }: Setting): void {
    const { parts, c } = this;
    const live = liveAtRest(parts);
    live.tuningRatio = (tuningF - parts.strayF) / (parts.tuningF - parts.strayF);
    live.loadingRatio = loadingF / parts.loadingF;
    live.loadSiemens = load.conductanceSiemens;
    live.loadSusceptanceSiemens = load.susceptanceSiemens;
    applyStation(parts, live, c);
    c.sourceA = driveSourceA(parts, driveW);
  }
}

/** Cathode and plate node to ground at angle `rad` of the carrier, harmonics included. */
export function voltagesAt(
  w: Working,
  harmonics: readonly { readonly cos: number; readonly sin: number }[],
): { readonly cathodeV: number; readonly plateV: number } {
  let cathodeV = w.cathodeV;
  let plateV = w.plateV;
  for (const [h, { cos, sin }] of harmonics.entries()) {
    const o = h * STRIDE;
    cathodeV += (w.state[o + VK] as number) * cos - (w.state[o + VK + 1] as number) * sin;
    plateV += (w.state[o + V1] as number) * cos - (w.state[o + V1 + 1] as number) * sin;
  }
  return { cathodeV, plateV };
}

function peakOf(y: Float64Array, at: number): number {
  const re = y[at] as number;
  const im = y[at + 1] as number;
  return Math.sqrt(re * re + im * im);
}
