/**
 * What a world is made of: station, sensing, protection, heat and record, at rest at t = 0. What a sample does
 * to them stands in world.ts.
 *
 * All numbers lie in one buffer, everything else in immutable values, so that saving is copying.
 */
import { emptyCircuit, type StageCircuit } from "../physics/stage/circuit";
import { ARC_COUNT, ARC_PLACES } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import {
  applyStation,
  type LiveStation,
  liveAtRest,
  type StationParts,
} from "../physics/stage/stationCircuit";
import type { Project } from "../project/types";
import {
  type ProtectionState,
  type ProtectionSystem,
  startProtection,
} from "../protection/protectionState";
import type { Sensing } from "../protection/sensing/sensing";
import type { Situation } from "../protection/situation";
import { burningJ } from "./arcs";
import type { ArcSurroundings } from "./arcVoltage";
import type { BenchEvent } from "./benchEvent";
import { CHANNEL_COUNT } from "./channels";
import { Damage, type Found } from "./damage";
import type { Queued } from "./eventQueue";
import { ExciterDrive } from "./exciterDrive";
import { applyLogic } from "./faultEffects";
import { cleanGapM, type GapAir, gapAir } from "./gaps";
import { loadOfStation } from "./liveLoad";
import { initialLogic, type Logic } from "./logic";
import { Moments } from "./moments";
import { Recorder } from "./recorder";
import { hashText } from "./recordHash";
import { fillRecordRow } from "./recordRow";
import { SampleSums } from "./sampleSums";
import { situationOf } from "./situationOf";
import { holdStiff, StageRun } from "./stageRun";
import type { QueuedStep } from "./tripLink";
import { HASH_AT, RECORD_AT, ROW_AT, sensedRowAt, worldLength } from "./worldLayout";
import { fixCircuit, protectionOf, sensingOf, startBuffer } from "./worldStart";

/** What a world is made from besides its project and parts. */
export interface WorldOptions {
  readonly inhibited: boolean;
  readonly recorder: "full" | "tracks";
  /** A world of the same station whose fixed parts and present protection this one takes over. */
  readonly from: WorldState | null;
  /** Edges shared with another world: they keep nothing between two calls. */
  readonly damage: Damage | null;
}

export abstract class WorldState {
  timeNs = 0;
  /** Everything that happened, in order. Only ever appended to or cut at its end. */
  readonly events: BenchEvent[] = [];
  readonly recorder: Recorder;
  readonly damage: Damage;
  readonly buffer: Float64Array;
  logic: Logic;
  system: ProtectionSystem;
  protection: ProtectionState;
  /** Unprotected run only: what somebody would have found at `operatorS`. */
  found: Found | null = null;
  /** When somebody looks. */
  protected lookAtNs = Infinity;
  readonly inhibited: boolean;
  readonly sensing: Sensing;
  /** Readings of the sensors at the last sample's end, then their smoothed copies. */
  readonly sensedRow: Float64Array;

  protected queue: readonly Queued<QueuedStep>[] = [];
  protected readonly circuit: StageCircuit = emptyCircuit();
  /** What the sample just made has summed up. */
  readonly sums = new SampleSums();
  /** What changed inside the sample just made, before its end. */
  readonly moments = new Moments();
  protected readonly live: LiveStation;
  protected readonly stage: StageRun;
  protected readonly withstandV = new Float64Array(ARC_COUNT);
  protected readonly air: GapAir;
  protected readonly around: ArcSurroundings;
  protected readonly noLoadV: number;
  protected readonly surgeOhm: number;
  protected readonly exciter: ExciterDrive;
  /** What protection is told of the station now. */
  readonly situation = (): Situation => situationOf(this.logic, this.inhibited);

  constructor(
    readonly project: Project,
    readonly parts: StationParts,
    options: WorldOptions,
  ) {
    const shared = options.from;
    const damage = options.damage ?? shared?.damage ?? null;
    this.inhibited = options.inhibited;
    this.sensing = shared?.sensing ?? sensingOf(project);
    const { stateLength, rowLength } = this.sensing;
    this.buffer = new Float64Array(worldLength(stateLength, rowLength));
    const sensedAt = sensedRowAt(stateLength);
    this.sensedRow = this.buffer.subarray(sensedAt, sensedAt + rowLength);
    // edges keep nothing between two calls: one set serves every bench of a station
    this.damage = damage ?? new Damage(project.station, project.sampleNs * 1e-9);
    const recordRow = this.buffer.subarray(RECORD_AT, RECORD_AT + CHANNEL_COUNT);
    this.recorder = new Recorder(options.recorder, project.sampleNs, recordRow);
    const { holdingW } = project.station.erosion;
    this.stage = new StageRun(this.buffer, this.withstandV, holdingW, project.sampleNs * 1e-9);
    this.air = gapAir(project.station);
    const { station } = project;
    const { damage: edges, buffer, air } = this;
    const gapsM = Float64Array.from(ARC_PLACES, (place) => cleanGapM(station, place));
    this.around = { station, relativeDensity: air.density, damage: edges, buffer, gapsM };
    const { supply } = project.station;
    this.surgeOhm = supply.kind === "rectified" ? supply.surgeOhm : 0;
    this.live = liveAtRest(parts);
    fixCircuit(project, this.circuit);
    if (shared !== null) {
      this.logic = shared.logic;
      this.system = shared.system;
      this.protection = shared.protection;
    } else {
      this.logic = initialLogic(project, loadOfStation(parts));
      this.system = protectionOf(project, parts, this.sensing);
      this.protection = startProtection(this.system);
    }
    this.applyCircuit(0);
    startBuffer(this.buffer, project, this.circuit, this.sensing, this.damage);
    this.noLoadV = this.buffer[ROW_AT + READING.plateV] as number;
    this.exciter = new ExciterDrive(project, this.buffer);
    this.exciter.start();
    this.stage.disturb(this.circuit);
    this.fillRow();
  }

  get sampleNs(): number {
    return this.project.sampleNs;
  }

  /** Sixteen hexadecimal digits over every sample, track point and event so far. */
  get hash(): string {
    return hashText(this.buffer, HASH_AT);
  }

  /** Energy that arcs still burning have taken so far, joules. */
  get burningJ(): number {
    return burningJ(this.circuit, this.buffer);
  }

  protected applyCircuit(ns: number): void {
    const { circuit: c, live } = this;
    applyLogic(this.project, this.parts, this.logic, ns, live);
    applyStation(this.parts, live, c);
    if (c.stiffSupply) holdStiff(c, this.buffer);
  }

  protected fillRow(): void {
    const { recorder, buffer, damage, sensedRow, sums } = this;
    fillRecordRow(recorder.row, buffer, damage, sensedRow, sums.highestV);
  }
}
