/**
 * Settled readings of a station at any drive, tuning and load, with an arc burning or not. A neighbouring solution is tried
 * first, then the circuit is rung up from nothing, arcs struck on the way as on the bench.
 */
import { emptyCircuit, type StageCircuit } from "../../physics/stage/circuit";
import { coldStart, SETTLED } from "../../physics/stage/coldStart";
import { ARC_COUNT, STATE_LENGTH } from "../../physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../physics/stage/readings";
import { StageSolver } from "../../physics/stage/stageSolver";
import {
  applyStation,
  driveSourceA,
  type LiveStation,
  liveAtRest,
  type StationParts,
} from "../../physics/stage/stationCircuit";
import type { Project } from "../../project/types";
import { fixCircuit } from "../../simulation/worldStart";

export interface Settling {
  readonly driveW: number;
  /** Changes of the station as it stands at rest; left out where there are none. */
  readonly change?: (live: LiveStation) => void;
  readonly arc?: { readonly place: number; readonly maintainingV: number };
}

export class SettledStage {
  /** As the last settling left it. */
  readonly circuit: StageCircuit = emptyCircuit();
  private readonly solver = new StageSolver();
  private readonly y = new Float64Array(STATE_LENGTH);
  /** The last solution for each place an arc burns at; the last is without one. */
  private readonly near: (Float64Array | null)[] = new Array(ARC_COUNT + 1).fill(null);

  constructor(
    project: Project,
    private readonly parts: StationParts,
  ) {
    fixCircuit(project, this.circuit);
    this.holdingW = project.station.erosion.holdingW;
  }

  private readonly holdingW: number;

  /** Readings in the settled state, in the order of READING; null where there is none, or the arc goes out. */
  readings(setting: Settling): Float64Array | null {
    const { circuit: c, parts, solver, y } = this;
    const live = liveAtRest(parts);
    setting.change?.(live);
    applyStation(parts, live, c);
    c.sourceA = driveSourceA(parts, setting.driveW);
    c.burning.fill(0);
    const place = setting.arc?.place ?? -1;
    if (setting.arc !== undefined) c.maintainingV[place] = setting.arc.maintainingV;
    const slot = place < 0 ? ARC_COUNT : place;
    const near = this.near[slot];
    let isFound = false;
    if (near !== null && near !== undefined) {
      if (place >= 0) c.burning[place] = 1;
      y.set(near);
      isFound = solver.settle(c, y, Infinity) < SETTLED;
      if (!isFound) c.burning.fill(0);
    }
    if (!isFound && !(coldStart(solver, c, y, place) < SETTLED)) return null;
    this.near[slot] = y.slice();
    solver.open(c, y);
    const row = new Float64Array(READING_COUNT);
    readStage(c, solver.system, y, c.sourceA, row);
    if (place >= 0 && !((row[READING.arcPlaceW + place] as number) >= this.holdingW)) return null;
    return row;
  }
}
