/**
 * Forward gain a healthy station shows at each drive, for the low-gain monitor: solved once for the band
 * in use, tuned and matched, and read by straight lines over the square root of the drive.
 */
import { log10 } from "../math/elementary";
import { emptyCircuit } from "../physics/stage/circuit";
import { coldStart, SETTLED } from "../physics/stage/coldStart";
import { STATE_LENGTH } from "../physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../physics/stage/readings";
import { StageSolver } from "../physics/stage/stageSolver";
import {
  applyStation,
  driveSourceA,
  LINE_OHM,
  liveAtRest,
  type StationParts,
} from "../physics/stage/stationCircuit";

const STEPS = 48;
const HIGHEST_W = 300;

/** Expected forward gain in dB at an available drive in watts; NaN where none is known. */
export type ExpectedGain = (driveW: number) => number;

export interface GainTable {
  readonly atDb: ExpectedGain;
  /**
   * Highest drive in watts at which a working point was found: Infinity where the whole table settled (above
   * its end it stays as it is there), -Infinity where nothing did.
   */
  readonly knownToW: number;
}

/** Solves the table, from low drive up to the first at which the station finds no working point. */
export function expectedForwardGain(parts: StationParts): GainTable {
  const solver = new StageSolver();
  const c = emptyCircuit();
  const live = liveAtRest(parts);
  live.loadSiemens = 1 / LINE_OHM;
  live.loadSusceptanceSiemens = 0;
  applyStation(parts, live, c);
  const y = new Float64Array(STATE_LENGTH);
  const row = new Float64Array(READING_COUNT);
  const rootStep = Math.sqrt(HIGHEST_W) / STEPS;
  const table = new Float64Array(STEPS + 1).fill(Number.NaN);
  c.sourceA = driveSourceA(parts, rootStep * rootStep);
  let known = 0;
  let good = coldStart(solver, c, y, -1) < SETTLED;
  for (let k = 1; k <= STEPS && good; k++) {
    const root = rootStep * k;
    c.sourceA = driveSourceA(parts, root * root);
    good = solver.settle(c, y, Infinity) < SETTLED;
    if (!good) break;
    readStage(c, solver.system, y, c.sourceA, row);
    table[k] = 10 * log10((row[READING.forwardW] as number) / (root * root));
    known = k;
  }
  table[0] = table[1] as number;
  const knownToW =
    known === STEPS ? Infinity : known === 0 ? -Infinity : rootStep * known * rootStep * known;
  const atDb: ExpectedGain = (driveW) => {
    // the last known drive itself is known, whichever way its root is rounded
    const end = driveW <= knownToW ? known : STEPS;
    const at = Math.min(Math.max(Math.sqrt(Math.max(driveW, 0)) / rootStep, 0), end);
    const k = Math.min(Math.floor(at), STEPS - 1);
    const a = table[k] as number;
    if (at === k) return a;
    return a + ((table[k + 1] as number) - a) * (at - k);
  };
  return { atDb, knownToW };
}
