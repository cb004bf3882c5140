/**
 * The settled working point of a station as its file describes it: full available drive, tuned as
 * designed, with the arc burning that the file may name. What `operating-point` prints.
 */
import { log10 } from "../math/elementary";
import { emptyCircuit } from "../physics/stage/circuit";
import { coldStart, SETTLED } from "../physics/stage/coldStart";
import { ARC_PLACES, STATE_LENGTH } from "../physics/stage/layout";
import { plateMinimumV, READING, READING_COUNT, readStage } from "../physics/stage/readings";
import { StageSolver } from "../physics/stage/stageSolver";
import {
  applyStation,
  driveSourceA,
  liveAtRest,
  resolveStation,
} from "../physics/stage/stationCircuit";
import type { Station } from "../project/station";

export interface OperatingPoint {
  readonly plateCurrentA: number;
  readonly gridCurrentA: number;
  readonly driveW: number;
  readonly driveReflectedW: number;
  readonly outputW: number;
  readonly forwardW: number;
  readonly reflectedW: number;
  readonly gainDb: number;
  readonly forwardGainDb: number;
  readonly cathodeRfPeakV: number;
  readonly plateRfPeakV: number;
  readonly loadRfPeakV: number;
  readonly coilPeakA: number;
  readonly plateV: number;
  readonly plateMinV: number;
  readonly plateDissipationW: number;
  readonly gridDissipationW: number;
  readonly efficiency: number;
  readonly arcW: number;
  readonly arcPeakA: number;
}

export type OperatingPointResult =
  | { readonly ok: true; readonly point: OperatingPoint }
  | { readonly ok: false; readonly kind: "design"; readonly problem: string }
  | { readonly ok: false; readonly kind: "convergence"; readonly residual: number };

/** Ratio of powers in dB; -Infinity for nothing out, NaN without drive. */
export function powerGainDb(outW: number, driveW: number): number {
  return driveW > 0 ? 10 * log10(Math.max(outW, 0) / driveW) : NaN;
}

/** Settled state of a station; deterministic, no memory. */
export function operatingPoint(station: Station): OperatingPointResult {
  const resolved = resolveStation(station);
  if (!resolved.ok) return { ok: false, kind: "design", problem: resolved.problem };
  const { parts } = resolved;
  const c = emptyCircuit();
  applyStation(parts, liveAtRest(parts), c);
  c.sourceA = driveSourceA(parts, station.exciter.availableW);
  let place = -1;
  if (station.arc !== undefined) {
    place = ARC_PLACES.indexOf(station.arc.place);
    c.maintainingV[place] = station.arc.maintainingV;
    c.tapFraction = station.arc.tapFraction ?? station.bandSwitch.tapFraction;
    c.arcTimeConstantS.fill(station.erosion.arcTimeConstantS);
  }
  const solver = new StageSolver();
  const y = new Float64Array(STATE_LENGTH);
  const residual = coldStart(solver, c, y, place);
  if (!(residual < SETTLED)) return { ok: false, kind: "convergence", residual };
  solver.open(c, y);
  const row = new Float64Array(READING_COUNT);
  readStage(c, solver.system, y, c.sourceA, row);
  const at = (i: number): number => row[i] as number;
  const driveW = at(READING.driveW);
  const outputW = at(READING.outputW);
  const forwardW = at(READING.forwardW);
  const plateInW = at(READING.plateV) * at(READING.tubeCurrentA);
  return {
    ok: true,
    point: {
      plateCurrentA: at(READING.tubeCurrentA),
      gridCurrentA: at(READING.gridCurrentA),
      driveW,
      driveReflectedW: at(READING.driveReflectedW),
      outputW,
      forwardW,
      reflectedW: at(READING.reflectedW),
      gainDb: powerGainDb(outputW, driveW),
      forwardGainDb: powerGainDb(forwardW, driveW),
      cathodeRfPeakV: at(READING.cathodeRfPeakV),
      plateRfPeakV: at(READING.plateRfPeakV),
      loadRfPeakV: at(READING.outputRfPeakV),
      coilPeakA: at(READING.coilPeakA),
      plateV: at(READING.plateV),
      plateMinV: plateMinimumV(y),
      plateDissipationW: at(READING.plateDissipationW),
      gridDissipationW: at(READING.gridDissipationW),
      efficiency: plateInW > 0 ? outputW / plateInW : 0,
      arcW: at(READING.arcW),
      arcPeakA: place >= 0 ? at(READING.arcPlacePeakA + place) : 0,
    },
  };
}
