/**
 * A unit of a station on a bench of its own, settled under full carrier: stage, sensing and monitors, without a record, clocks or
 * time. Settled from the state of the station as designed, which is near; one set of arrays serves all units.
 *
 * The monitors are those of the station as designed, compiled once: the table of the expected gain is the firmware's, not the
 * unit's.
 */
import { emptyCircuit, type StageCircuit } from "../../physics/stage/circuit";
import { coldStart, SETTLED } from "../../physics/stage/coldStart";
import { ARC_PLACES, STATE_LENGTH, VC } from "../../physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../physics/stage/readings";
import {
  applyStation,
  driveSourceA,
  type LiveStation,
  liveAtRest,
} from "../../physics/stage/stationCircuit";
import { smoothingsOf } from "../../protection/interpreter/program";
import type { ProtectionState } from "../../protection/protectionState";
import { createSensing, type Sensing, type Smoothing } from "../../protection/sensing/sensing";
import type { Situation } from "../../protection/situation";
import type { Bench } from "../../simulation/bench";
import { fillSurroundings } from "../../simulation/compartment";
import { applyLogic } from "../../simulation/faultEffects";
import type { Logic } from "../../simulation/logic";
import { SampleSums } from "../../simulation/sampleSums";
import { situationOf } from "../../simulation/situationOf";
import { StageRun } from "../../simulation/stageRun";
import {
  CLEAR_AT,
  MODE_AT,
  ROW_AT,
  SENSING_AT,
  STAGE_AT,
  worldLength,
} from "../../simulation/worldLayout";
import { fixCircuit } from "../../simulation/worldStart";
import { SENSED_READINGS } from "./sensedReadings";
import { inletAirK, steadyExhaustK, tripsOnSteady } from "./toleranceHealth";
import type { Unit } from "./toleranceUnit";

export abstract class UnitBench {
  protected readonly buffer: Float64Array;
  protected readonly y: Float64Array;
  protected readonly row: Float64Array;
  protected readonly sensedRow: Float64Array;
  protected readonly stage: StageRun;
  protected readonly circuit: StageCircuit = emptyCircuit();
  protected readonly sums = new SampleSums();
  protected readonly withstandV = new Float64Array(ARC_PLACES.length);
  protected readonly stepNs: number;
  protected readonly stepS: number;
  /** The unit under way, and where it stands. */
  protected unit: Unit;
  protected sensing: Sensing;
  protected logic: Logic;
  protected protection: ProtectionState;
  protected situation: Situation;
  protected sourceA = 0;
  private readonly nominalY: Float64Array;
  /** What the monitors have smoothed, and how many watch the comparator's tap; no unit has others. */
  private readonly smoothings: readonly Smoothing[];
  private readonly comparators: number;
  private readonly live: LiveStation;

  /** `nominal` is a bench of the station as designed that is settled under full carrier. */
  constructor(protected readonly nominal: Bench) {
    const { sensing, project, parts } = nominal;
    this.stepNs = project.sampleNs;
    this.stepS = project.sampleNs * 1e-9;
    this.buffer = new Float64Array(worldLength(sensing.stateLength, sensing.rowLength));
    this.y = this.buffer.subarray(STAGE_AT, STAGE_AT + STATE_LENGTH);
    this.row = this.buffer.subarray(ROW_AT, ROW_AT + READING_COUNT);
    this.sensedRow = new Float64Array(sensing.rowLength);
    this.nominalY = nominal.buffer.slice(STAGE_AT, STAGE_AT + STATE_LENGTH);
    this.smoothings = smoothingsOf(project.monitors);
    this.comparators = Math.max(nominal.system.comparators.length, 1);
    this.live = liveAtRest(parts);
    const { holdingW } = project.station.erosion;
    this.stage = new StageRun(this.buffer, this.withstandV, holdingW, this.stepS);
    this.unit = { project, parts };
    this.sensing = sensing;
    this.logic = nominal.logic;
    this.protection = nominal.protection;
    this.situation = situationOf(this.logic, false);
  }

  /** Acting monitors that would trip on the healthy unit; null where it has no working point. */
  healthyTrips(unit: Unit): readonly string[] | null {
    return this.begin(unit) ? this.readHealthy(0) : null;
  }

  /** Settles the unit under full carrier, from the nominal station's state; false when it has no working point. */
  protected begin(unit: Unit): boolean {
    const { circuit: c, nominal, buffer, y, row, stage } = this;
    this.unit = unit;
    this.logic = nominal.logic;
    this.protection = nominal.protection;
    this.situation = situationOf(this.logic, false);
    const { sensors, sampleNs } = unit.project;
    this.sensing = createSensing({ sensors, sampleNs }, this.smoothings, this.comparators);
    c.burning.fill(0);
    fixCircuit(unit.project, c);
    this.applyCircuit(nominal.timeNs);
    this.sourceA = driveSourceA(unit.parts, unit.project.station.exciter.availableW);
    c.sourceA = this.sourceA;
    c.sourceAPerS = 0;
    y.set(this.nominalY);
    if (c.stiffSupply) y[VC] = c.noLoadV; // held, so that nothing would bring it there
    if (!(stage.solver.settle(c, y, Infinity) < SETTLED)) {
      if (!(coldStart(stage.solver, c, y, -1) < SETTLED)) return false;
    }
    readStage(c, stage.solver.system, y, c.sourceA, row);
    buffer[MODE_AT] = 0;
    buffer[CLEAR_AT] = -1;
    return true;
  }

  /** Monitors that trip on the steady readings; then sensing stands at rest, `samples` samples after the start. */
  protected readHealthy(samples: number): readonly string[] {
    const { buffer, row, sensedRow, sensing, sums, unit, nominal } = this;
    const { station, seed } = unit.project;
    const plateW = row[READING.plateDissipationW] as number;
    sensing.init(buffer, SENSING_AT, seed);
    fillMeans(sums.means, row, row, 0);
    fillSurroundings(sums.means, row, row, steadyExhaustK(station, plateW), true);
    sensing.restOn(buffer, SENSING_AT, sensedRow, sums.means, samples);
    const trips = tripsOnSteady(nominal.system, this.protection, sensedRow, this.situation);
    this.surround(row, row);
    sensing.restOn(buffer, SENSING_AT, sensedRow, sums.means, samples);
    return trips;
  }

  protected applyCircuit(ns: number): void {
    const { project, parts } = this.unit;
    applyLogic(project, parts, this.logic, ns, this.live);
    applyStation(parts, this.live, this.circuit);
  }

  protected surround(before: Float64Array, after: Float64Array): void {
    fillSurroundings(this.sums.means, before, after, inletAirK(this.unit.project.station), true);
  }
}

/** What the stage's sensors see at a share of the way from one row of readings to another. */
export function fillMeans(
  means: Float64Array,
  before: Float64Array,
  after: Float64Array,
  share: number,
): void {
  for (let i = 0; i < SENSED_READINGS.length; i++) {
    const at = SENSED_READINGS[i] as number;
    const a = before[at] as number;
    means[i] = a + share * ((after[at] as number) - a);
  }
}
