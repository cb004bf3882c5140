/**
 * One world: station, sensing, protection, heat and record, and what a single sample does to them. Knows
 * no scenario and no past; the bench above it owns time.
 *
 * All numbers lie in one buffer, everything else in immutable values, so that saving is copying.
 */
import { emptyCircuit, type StageCircuit } from "../physics/stage/circuit";
import { ARC_COUNT, ARC_PLACES } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import {
  applyStation,
  driveSourceA,
  type LiveStation,
  liveAtRest,
  type StationParts,
} from "../physics/stage/stationCircuit";
import type { Command } from "../project/scenario";
import type { ArcPlace } from "../project/station";
import type { Project } from "../project/types";
import type { ProtectionEvent } from "../protection/events";
import { smoothingsOf } from "../protection/interpreter/program";
import {
  heldActions,
  type ProtectionState,
  type ProtectionSystem,
  startProtection,
} from "../protection/protectionState";
import { createSensing, type Sensing } from "../protection/sensing/sensing";
import type { Situation } from "../protection/situation";
import { stepProtection } from "../protection/supervisor";
import { type ArcChange, beginArc, bridgeGap, burningJ, endArc } from "./arcs";
import { type ArcSurroundings, followArcs, outsideLawKey, strikeTargetV } from "./arcVoltage";
import { type BenchEvent, type DamagePart, eventText } from "./benchEvent";
import { CHANNEL_COUNT } from "./channels";
import { awaitFault, clearedAtNs, watchClearing } from "./clearing";
import { type ProtectionCommand, runCommand } from "./commands";
import { Damage, type Found, type LogMilestone } from "./damage";
import { enqueue, type Queued } from "./eventQueue";
import { ExciterDrive } from "./exciterDrive";
import { applyLogic } from "./faultEffects";
import { cleanGapM, type GapAir, gapAir, withstandAt } from "./gaps";
import { loadOfStation } from "./liveLoad";
import { type FaultZero, initialLogic, type Logic, milestoneKey, relayMoves } from "./logic";
import { takeTimedStep } from "./power";
import { runProtectionCommand } from "./protectionCommands";
import { Recorder } from "./recorder";
import { hashText, mixText } from "./recordHash";
import { fillRecordRow } from "./recordRow";
import { SampleSums } from "./sampleSums";
import type { Change } from "./sequencer";
import { situationOf } from "./situationOf";
import { type Incident, StageRun, type StageSink, type StepInterpolator } from "./stageRun";
import { noteSupplyReady } from "./supplyReady";
import {
  addSupply,
  beginSupplySums,
  noteSupplyTaken,
  SUPPLY_ACTUATORS,
  watchSupply,
} from "./supplyWatch";
import { commandActuators, type Linked, letGo, type QueuedStep, releaseRelay } from "./tripLink";
import { watchComparators } from "./watchComparators";
import {
  ARC_ENERGY_AT,
  HASH_AT,
  RECORD_AT,
  ROW_AT,
  SENSING_AT,
  sensedRowAt,
  worldLength,
} from "./worldLayout";
import { fixCircuit, protectionOf, startBuffer } from "./worldStart";

/** What a world is made from besides its project and parts. */
export interface WorldOptions {
  readonly inhibited: boolean;
  readonly recorder: "full" | "tracks";
  /** A world of the same station whose fixed parts and present protection this one takes over. */
  readonly from: World | null;
  /** Edges shared with another world: they keep nothing between two calls. */
  readonly damage: Damage | null;
}

export abstract class World implements StageSink {
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
  /** Scratch of one protection step: something was reset in it. */
  private letsGo = false;
  protected readonly circuit: StageCircuit = emptyCircuit();
  protected readonly sums = new SampleSums();
  private readonly live: LiveStation;
  private readonly stage: StageRun;
  private readonly withstandV = new Float64Array(ARC_COUNT);
  private readonly air: GapAir;
  private readonly around: ArcSurroundings;
  private readonly noLoadV: number;
  private readonly surgeOhm: number;
  private readonly exciter: ExciterDrive;
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
    this.sensing =
      shared?.sensing ??
      createSensing(
        { sensors: project.sensors, sampleNs: project.sampleNs },
        smoothingsOf(project.monitors),
        Math.max(project.monitors.filter((m) => m.path === "comparator").length, 1),
      );
    const { stateLength, rowLength } = this.sensing;
    this.buffer = new Float64Array(worldLength(stateLength, rowLength));
    const sensedAt = sensedRowAt(stateLength);
    this.sensedRow = this.buffer.subarray(sensedAt, sensedAt + rowLength);
    // edges keep nothing between two calls: one set serves every bench of a station
    this.damage = damage ?? new Damage(project.station, project.sampleNs * 1e-9);
    const recordRow = this.buffer.subarray(RECORD_AT, RECORD_AT + CHANNEL_COUNT);
    this.recorder = new Recorder(options.recorder, recordRow);
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

  /** A fault had its time zero in the sample under way. */
  protected abstract faultBegan(zero: FaultZero): void;

  // ------------------------------------------------------------------ commands and steps

  protected command(command: Command, ns: number): void {
    const change = runCommand(this.project, this.logic, command, ns);
    let refused = change.refused;
    for (const e of change.expands) {
      this.queue = enqueue(this.queue, e.atNs, { kind: "command", command: e.command });
    }
    if (change.protection !== null) refused = this.protectionCommand(change.protection, ns);
    this.events.push({ kind: "command", atNs: ns, command, refused });
    // what a reset releases is in the logic already, and `change` was read before it
    if (change.protection === null) this.apply(change);
  }

  protected step(item: QueuedStep, ns: number): void {
    if (item.kind === "command") this.command(item.command, ns);
    else this.apply(takeTimedStep(this.project, this.logic, item, ns));
  }

  private protectionCommand(command: ProtectionCommand, ns: number): string {
    const done = runProtectionCommand(
      this.system,
      this.protection,
      command,
      this.sensedRow,
      ns,
      this.situation(),
      this.emit,
    );
    this.system = done.system;
    this.protection = done.state;
    // a reset by hand always looks again at what is still held
    if (this.letsGo || command.do === "reset") this.letGo(ns);
    return done.refused;
  }

  protected apply(change: Change): void {
    if (relayMoves(this.logic, change.logic)) {
      const rfPeakV = this.buffer[ROW_AT + READING.outputRfPeakV] as number;
      this.damage.switchHot(this.buffer, rfPeakV);
    }
    this.logic = change.logic;
    for (const later of change.later) this.queue = enqueue(this.queue, later.atNs, later.step);
    for (const event of change.events) {
      this.events.push(event);
      if (event.kind === "faultZero") this.beginFault(zeroOf(event));
      else if (event.kind === "actuator") this.noteActuator(event);
    }
    if (change.jumps) this.stage.disturb(this.circuit);
  }

  private noteActuator({
    actuator,
    effect,
    atNs,
  }: Extract<BenchEvent, { kind: "actuator" }>): void {
    this.recorder.startBurst(atNs, "event");
    if (effect === "acted" && SUPPLY_ACTUATORS.some((name) => name === actuator))
      noteSupplyTaken(this.project, this.buffer);
  }

  private beginFault(zero: FaultZero): void {
    this.logic = { ...this.logic, zero, cleared: false, milestones: [] };
    awaitFault(this.buffer);
    beginSupplySums(this.project, this.buffer);
    this.faultBegan(zero);
    this.recorder.startBurst(zero.atNs, "fault");
  }

  // ------------------------------------------------------------------ physics

  private applyCircuit(ns: number): void {
    const { circuit: c, live } = this;
    applyLogic(this.project, this.parts, this.logic, ns, live);
    applyStation(this.parts, live, c);
  }

  /** Drive phasor at an instant of the sample under way. */
  private sourceAt(ns: number): number {
    const part = (ns - this.timeNs) / this.sampleNs;
    return driveSourceA(this.parts, this.exciter.atW(this.logic, ns, part));
  }

  /** Runs to `untilNs` or to the next incident; answers where it got to. */
  protected physics(fromNs: number, untilNs: number, endNs: number): number {
    const c = this.circuit;
    this.applyCircuit(untilNs);
    const { station, seed } = this.project;

    withstandAt(station, seed, this.air, this.logic, untilNs, this.withstandV);
    const from = this.sourceAt(fromNs);
    const to = this.sourceAt(untilNs);
    const incident: Incident = this.stage.advance(
      c,
      fromNs,
      untilNs,
      from,
      to,
      untilNs === endNs,
      this,
    );
    if (incident === "none") return untilNs;
    const place = this.stage.stoppedPlace;
    const atNs = this.stage.stoppedNs;
    if (incident === "due") return atNs;
    const { buffer, logic } = this;
    this.takeArc(
      incident === "strike"
        ? beginArc(c, buffer, logic, place, atNs, strikeTargetV(this.around, logic, place))
        : endArc(c, buffer, logic, place, atNs),
    );
    this.stage.disturb(c);
    return atNs;
  }

  /** What an arc that began or ended has changed: logged, followed, and blamed where it starts a fault. */
  private takeArc({ logic, event, zero }: ArcChange): void {
    this.logic = logic;
    this.events.push(event);
    if (zero === null) {
      this.recorder.startBurst(event.atNs, "event");
      return;
    }
    this.events.push({ kind: "faultZero", ...zero });
    this.beginFault(zero);
  }

  /** One piece of physics: sensors, heat, comparator, clearing and bursts see it here. */
  piece(
    fromNs: number,
    dtS: number,
    before: Float64Array,
    after: Float64Array,
    inside: StepInterpolator | null,
  ): void {
    this.sums.add(dtS, before, after, this.buffer, ARC_ENERGY_AT);
    this.sensing.advanceSegment(this.buffer, SENSING_AT, dtS, this.sums.means);
    this.protection = watchComparators(
      this.system,
      this.protection,
      this.sensing,
      this.buffer,
      fromNs,
      dtS,
      before[READING.plateCurrentA] as number,
      after[READING.plateCurrentA] as number,
      this.situation,
      this.emit,
    );
    watchClearing(this.buffer, fromNs, dtS, after, this.circuit);
    this.recorder.piece(fromNs, dtS, before, after, inside);
    addSupply(this.project, this.buffer, dtS, before, after);
  }

  /** When the next step falls due: what the comparator sets off may fall inside the piece under way. */
  dueNs(): number {
    return this.queue[0]?.atNs ?? Infinity;
  }

  // ------------------------------------------------------------------ end of a sample

  protected closeSample(startNs: number, endNs: number, firstEvent: number): void {
    const { buffer, sensedRow } = this;
    const dtS = this.sampleNs * 1e-9;
    this.sensing.endSample(buffer, SENSING_AT, sensedRow);
    this.logic = noteSupplyReady(this.logic, sensedRow, this.noLoadV, endNs);
    const index = endNs / this.sampleNs - 1;
    this.protection = stepProtection(
      this.system,
      this.protection,
      sensedRow,
      index,
      this.situation(),
      this.emit,
    );
    if (this.letsGo) this.letGo(endNs);
    const outputW = buffer[ROW_AT + READING.forwardW] as number;
    const relay = releaseRelay(this.project, this.logic, endNs, outputW);
    if (relay !== null) this.take(relay);
    const supply = watchSupply(this.project, this.logic, buffer, endNs);
    if (supply !== null) this.apply(supply);
    this.heat(endNs, dtS);
    this.exciter.endSample();
    this.noteClearing(endNs);
    if (this.inhibited) this.lookAsOperator(endNs);
    this.record(startNs, endNs, firstEvent);
  }

  private heat(endNs: number, dtS: number): void {
    const { sums } = this;
    sums.finish(dtS, this.circuit, this.parts.strayF, this.surgeOhm);
    this.damage.advance(
      this.buffer,
      endNs,
      dtS,
      sums.arcJ,
      sums.arcPeakA,
      sums.clockInputs,
      this.logic.airflow,
      this.around.gapsM,
      this.logic.beadRemoved,
      this.logic.milestones,
      this.logMilestone,
    );
    const outside = followArcs(this.around, this.circuit, this.logic, sums.arcPeakA, endNs, dtS);
    if (outside >= 0) this.reportOutside(outside, endNs);
  }

  private readonly logMilestone: LogMilestone = (part, milestone, edge, atNs) => {
    const key = milestoneKey(part, milestone, edge);
    this.logic = { ...this.logic, milestones: [...this.logic.milestones, key] };
    // a metal still molten from before does not begin to melt ahead of the fault
    const fromNs = Math.max(atNs, this.logic.zero?.atNs ?? 0);
    this.events.push({ kind: "milestone", atNs: fromNs, part, milestone, edge });
    // the nominal estimate is the one the circuit follows
    if (milestone === "bridged" && edge === "nominal") this.bridge(part, fromNs);
  };

  private bridge(part: DamagePart, atNs: number): void {
    const place = ARC_PLACES.indexOf(part as ArcPlace);
    const { logic, event } = bridgeGap(this.circuit, this.buffer, this.logic, place, atNs);
    this.logic = logic;
    if (event !== null) this.events.push(event);
    this.recorder.startBurst(atNs, "event");
    this.stage.disturb(this.circuit);
  }

  private reportOutside(a: number, atNs: number): void {
    const place = ARC_PLACES[a] as ArcPlace;
    const milestones = [...this.logic.milestones, outsideLawKey(place)];
    this.logic = { ...this.logic, milestones };
    const peakA = this.sums.arcPeakA[a] as number;
    this.events.push({ kind: "outsideArcLaw", atNs, place, peakA });
  }

  private lookAsOperator(endNs: number): void {
    if (this.found !== null || endNs < this.lookAtNs) return;
    this.found = this.damage.inspect(this.buffer, endNs);
  }

  private noteClearing(endNs: number): void {
    const { zero, cleared } = this.logic;
    if (zero === null || cleared) return;
    const atNs = clearedAtNs(this.buffer, zero.atNs, endNs);
    if (atNs === null) return;
    this.logic = { ...this.logic, cleared: true };
    this.events.push({ kind: "cleared", atNs });
  }

  private fillRow(): void {
    const { recorder, buffer, damage, sensedRow, sums } = this;
    fillRecordRow(recorder.row, buffer, damage, sensedRow, sums.highestV);
  }

  private record(startNs: number, endNs: number, firstEvent: number): void {
    const { buffer, recorder } = this;
    this.fillRow();
    const bad = recorder.firstNotFinite();
    if (bad !== null) throw new Error(`not a finite number: ${bad} at ${endNs} ns`);
    recorder.closeSample(startNs, endNs, buffer, HASH_AT);
    for (let i = firstEvent; i < this.events.length; i++) {
      mixText(buffer, HASH_AT, eventText(this.events[i] as BenchEvent));
    }
  }

  private take({ logic, later }: Linked): void {
    this.logic = logic;
    for (const { atNs, step } of later) this.queue = enqueue(this.queue, atNs, step);
  }

  /** Logs what protection reports, and carries out what it commands. */
  private readonly emit = (event: ProtectionEvent): void => {
    this.events.push({ kind: "protection", atNs: event.atNs, event });
    if (event.kind === "trip" || event.kind === "keyDownLimit") {
      this.take(commandActuators(this.project, this.logic, event));
    } else if (event.kind === "operate") this.recorder.startBurst(event.atNs, "event");
    else if (event.actions.length > 0) this.letsGo = true;
  };

  /** Once the protection's new state stands, what a trip has moved and nobody holds any more goes back. */
  private letGo(ns: number): void {
    this.letsGo = false;
    if (this.inhibited) return;
    const held = heldActions(this.system, this.protection);
    const freed = letGo(this.project, this.logic, held, this.queue, ns);
    this.queue = freed.queue;
    this.apply(freed.change);
  }
}

function zeroOf({ fault, part, atNs, struck }: FaultZero): FaultZero {
  return { fault, part, atNs, struck };
}
