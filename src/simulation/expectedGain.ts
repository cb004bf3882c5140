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
import { GAIN_STEPS, type GainTable, gainStepW, gainTable } from "./gainTable";

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
  const gainsDb = new Array<number>(GAIN_STEPS + 1).fill(Number.NaN);
  c.sourceA = driveSourceA(parts, gainStepW(1));
  let known = 0;
  let good = coldStart(solver, c, y, -1) < SETTLED;
  for (let k = 1; k <= GAIN_STEPS && good; k++) {
    const driveW = gainStepW(k);
    c.sourceA = driveSourceA(parts, driveW);
    good = solver.settle(c, y, Infinity) < SETTLED;
    if (!good) break;
    readStage(c, solver.system, y, c.sourceA, row);
    gainsDb[k] = 10 * log10((row[READING.forwardW] as number) / driveW);
    known = k;
  }
  gainsDb[0] = gainsDb[1] as number;
  return gainTable(gainsDb, known);
}
