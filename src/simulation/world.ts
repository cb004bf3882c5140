/**
 * One world: station, sensing, protection, heat and record, and what a single sample does to them. Knows
 * no scenario and no past; the bench above it owns time.
 *
 * All numbers lie in one buffer, everything else in immutable values, so that saving is copying.
 */
import { emptyCircuit, type StageCircuit } from "../physics/stage/circuit";
import { strikeArc } from "../physics/stage/coldStart";
import { ARC_COUNT, ARC_PLACES, LNG, STATE_LENGTH, STRIKE_LNG } from "../physics/stage/layout";
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
import { actuatorSteps } from "../protection/actuators/schedule";
import type { ProtectionEvent } from "../protection/events";
import { smoothingsOf } from "../protection/interpreter/program";
import {
  compileProtection,
  heldActions,
  type ProtectionState,
  type ProtectionSystem,
  startProtection,
} from "../protection/protectionState";
import { createSensing, type Sensing } from "../protection/sensing/sensing";
import type { Situation } from "../protection/situation";
import { operated, stepProtection } from "../protection/supervisor";
import { type BenchEvent, eventText } from "./benchEvent";
import { CHANNEL_COUNT } from "./channels";
import { type ProtectionCommand, runCommand } from "./commands";
import { Damage, type Found } from "./damage";
import { enqueue, type Queued } from "./eventQueue";
import { expectedForwardGain } from "./expectedGain";
import {
  applyLogic,
  driveAtW,
  faultAtPlace,
  gapAir,
  loadOfStation,
  maintainingV,
  withstandAt,
} from "./faultEffects";
import { type FaultZero, initialLogic, type Logic, milestoneKey } from "./logic";
import { runProtectionCommand } from "./protectionCommands";
import { Recorder } from "./recorder";
import { hashText, mixText } from "./recordHash";
import { fillRecordRow } from "./recordRow";
import { SampleSums } from "./sampleSums";
import { type Change, nanoseconds, release, type TimedStep, takeStep } from "./sequencer";
import { type Incident, StageRun, type StageSink, type StepInterpolator } from "./stageRun";
import { commandActuators, type Linked, releaseRelay } from "./tripLink";
import {
  ARC_ENERGY_AT,
  CLEAR_AT,
  HASH_AT,
  RECORD_AT,
  ROW_AT,
  SENSING_AT,
  STAGE_AT,
  sensedRowAt,
  worldLength,
} from "./worldLayout";
import { fixCircuit, startBuffer } from "./worldStart";

/** Arc, output and short gone for this long count as cleared. */
const CLEAR_FOR_NS = 5_000_000;
const CLEAR_ARC_W = 1;
const CLEAR_FORWARD_W = 10;
const CLEAR_SHORT_A = 1;

/** What the bench itself has in store: steps of sequence and actuators, and keying that stands for a text. */
export type QueuedStep = TimedStep | { readonly kind: "command"; readonly command: Command };

/** In the buffer's clearing instant: since the fault nothing has been on that could be cleared. */
const NOTHING_TO_CLEAR = -2;

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
  private readonly air: { readonly density: number; readonly humidity: number };
  private readonly keyEdgeNs: number;

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
    this.damage = damage ?? new Damage(project.station);
    const recordRow = this.buffer.subarray(RECORD_AT, RECORD_AT + CHANNEL_COUNT);
    this.recorder = new Recorder(options.recorder, recordRow);
    this.stage = new StageRun(this.buffer, this.withstandV, project.station.erosion.holdingW);
    this.air = gapAir(project.station);
    this.keyEdgeNs = nanoseconds(project.station.exciter.keyEdgeS);
    this.live = liveAtRest(parts);
    fixCircuit(project, this.circuit);
    if (shared !== null) {
      this.logic = shared.logic;
      this.system = shared.system;
      this.protection = shared.protection;
    } else {
      this.logic = initialLogic(project, loadOfStation(parts));
      this.system = compileProtection(project.monitors, {
        sampleNs: project.sampleNs,
        rowIndex: (sensor, smoothingS) => this.sensing.rowIndex(sensor, smoothingS),
        expectedForwardGainDb: expectedForwardGain(parts),
      });
      this.protection = startProtection(this.system);
    }
    this.applyCircuit(0);
    startBuffer(this.buffer, project, this.circuit, this.sensing, this.damage);
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
    let joules = 0;
    for (let a = 0; a < ARC_COUNT; a++) {
      if (this.circuit.burning[a]) joules += this.buffer[ARC_ENERGY_AT + a] as number;
    }
    return joules;
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
    else this.apply(takeStep(this.project, this.logic, item, ns));
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
    this.logic = change.logic;
    for (const later of change.later) this.queue = enqueue(this.queue, later.atNs, later.step);
    for (const event of change.events) {
      this.events.push(event);
      if (event.kind === "faultZero") this.beginFault(zeroOf(event));
      else if (event.kind === "actuator") this.recorder.startBurst(event.atNs, "event");
    }
    if (change.jumps) this.stage.disturb(this.circuit);
  }

  private beginFault(zero: FaultZero): void {
    this.logic = { ...this.logic, zero, cleared: false, milestones: [] };
    this.buffer[CLEAR_AT] = NOTHING_TO_CLEAR;
    this.faultBegan(zero);
    this.recorder.startBurst(zero.atNs, "fault");
  }

  /** What protection is told of the station now. */
  situation(): Situation {
    const { logic } = this;
    return {
      operate: logic.operate,
      mode: logic.mode,
      keyDown: logic.keyDown,
      keyDownAtNs: logic.keyDownAtNs,
      // a trip that holds its actuators takes the station off the air, whatever the relays still do
      transmitConfirmed: logic.sequence.phase === "transmit" && !logic.tripHeld,
      supplyReadyAtNs: logic.supplyReadyAtNs,
      inhibited: this.inhibited,
    };
  }

  // ------------------------------------------------------------------ physics

  private applyCircuit(ns: number): void {
    const { circuit: c, live } = this;
    applyLogic(this.project, this.parts, this.logic, ns, live);
    applyStation(this.parts, live, c);
  }

  /** Runs to `untilNs` or to the next incident; answers where it got to. */
  protected physics(fromNs: number, untilNs: number, endNs: number): number {
    const c = this.circuit;
    this.applyCircuit(untilNs);
    withstandAt(this.project.station, this.air, this.logic, untilNs, this.withstandV);
    const from = driveSourceA(this.parts, driveAtW(this.logic, this.keyEdgeNs, fromNs));
    const to = driveSourceA(this.parts, driveAtW(this.logic, this.keyEdgeNs, untilNs));
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
    if (incident === "strike") this.strike(place, atNs);
    else this.arcOut(place, atNs);
    this.stage.disturb(c);
    return atNs;
  }

  private strike(place: number, atNs: number): void {
    const c = this.circuit;
    const y = this.buffer.subarray(STAGE_AT, STAGE_AT + STATE_LENGTH);
    const name = ARC_PLACES[place] as ArcPlace;
    const peakV = this.stage.nodePeakV(c, y, place);
    c.maintainingV[place] = maintainingV(this.project.station, this.logic, name);
    strikeArc(c, y, place);
    this.buffer[ARC_ENERGY_AT + place] = 0;
    const arcSinceNs = this.logic.arcSinceNs.map((ns, i) => (i === place ? atNs : ns));
    this.logic = { ...this.logic, arcSinceNs };
    this.events.push({ kind: "strike", atNs, place: name, peakV });
    const blamed = faultAtPlace(this.logic, name);
    const zero = this.logic.zero;
    const already = zero !== null && zero.struck === name && !this.logic.cleared;
    if (blamed !== null && !already) {
      const { fault, part } = blamed;
      this.events.push({ kind: "faultZero", atNs, fault, part, struck: name });
      this.beginFault({ fault, part, atNs, struck: name });
    } else this.recorder.startBurst(atNs, "event");
  }

  private arcOut(place: number, atNs: number): void {
    const c = this.circuit;
    c.burning[place] = 0;
    const y = STAGE_AT + LNG + place;
    this.buffer[y] = STRIKE_LNG;
    const since = this.logic.arcSinceNs[place] as number;
    this.logic = {
      ...this.logic,
      arcSinceNs: this.logic.arcSinceNs.map((ns, i) => (i === place ? -1 : ns)),
      arcOutAtNs: this.logic.arcOutAtNs.map((ns, i) => (i === place ? atNs : ns)),
    };
    this.events.push({
      kind: "arcOut",
      atNs,
      place: ARC_PLACES[place] as ArcPlace,
      energyJ: this.buffer[ARC_ENERGY_AT + place] as number,
      burnedNs: atNs - since,
    });
    this.recorder.startBurst(atNs, "event");
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
    this.comparator(fromNs, dtS, before, after);
    const clear =
      (after[READING.arcW] as number) < CLEAR_ARC_W &&
      (after[READING.forwardW] as number) < CLEAR_FORWARD_W &&
      this.circuit.shortSiemens * (after[READING.plateV] as number) < CLEAR_SHORT_A;
    if (!clear) this.buffer[CLEAR_AT] = -1;
    else if (this.buffer[CLEAR_AT] === -1) {
      this.buffer[CLEAR_AT] = Math.ceil(fromNs + dtS * 1e9 - 1e-6);
    }
    this.recorder.piece(fromNs, dtS, before, after, inside);
  }

  private comparator(fromNs: number, dtS: number, before: Float64Array, after: Float64Array): void {
    const { comparators } = this.system;
    for (let slot = 0; slot < comparators.length; slot++) {
      const { monitorId, pickupA, dropOffA } = comparators[slot] as (typeof comparators)[number];
      const crossed = this.sensing.advanceComparator(
        this.buffer,
        SENSING_AT,
        dtS * 1e9,
        before[READING.plateCurrentA] as number,
        after[READING.plateCurrentA] as number,
        pickupA,
        dropOffA,
        slot,
      );
      if (crossed < 0) continue;
      this.protection = operated(
        this.system,
        this.protection,
        monitorId,
        Math.ceil(fromNs + crossed - 1e-6),
        pickupA,
        this.situation(),
        this.emit,
      );
    }
  }

  // ------------------------------------------------------------------ end of a sample

  protected closeSample(startNs: number, endNs: number, firstEvent: number): void {
    const { buffer, sensedRow } = this;
    const dtS = this.sampleNs * 1e-9;
    this.sensing.endSample(buffer, SENSING_AT, sensedRow);
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
    this.heat(endNs, dtS);
    this.noteClearing(endNs);
    if (this.inhibited) this.lookAsOperator(endNs);
    this.record(startNs, endNs, firstEvent);
  }

  private heat(endNs: number, dtS: number): void {
    const { sums } = this;
    sums.finish(dtS);
    this.damage.advance(
      this.buffer,
      endNs,
      dtS,
      sums.arcJ,
      sums.arcPeakA,
      sums.clockInputs,
      this.logic.milestones,
      (part, milestone, edge, atNs) => {
        const key = milestoneKey(part, milestone, edge);
        this.logic = { ...this.logic, milestones: [...this.logic.milestones, key] };
        // a metal still molten from before does not begin to melt ahead of the fault
        const fromNs = Math.max(atNs, this.logic.zero?.atNs ?? 0);
        this.events.push({ kind: "milestone", atNs: fromNs, part, milestone, edge });
      },
    );
  }

  private lookAsOperator(endNs: number): void {
    if (this.found !== null || endNs < this.lookAtNs) return;
    this.found = this.damage.inspect(this.buffer, endNs);
  }

  private noteClearing(endNs: number): void {
    const { zero, cleared } = this.logic;
    if (zero === null || cleared) return;
    const since = this.buffer[CLEAR_AT] as number;
    if (since < 0 || endNs - since < CLEAR_FOR_NS) return;
    this.logic = { ...this.logic, cleared: true };
    this.events.push({ kind: "cleared", atNs: Math.max(since, zero.atNs) });
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

  /**
   * Once the protection's new state stands: what is still held stays, everything else a trip has moved, or
   * was about to move, goes back.
   */
  private letGo(ns: number): void {
    this.letsGo = false;
    if (this.inhibited) return;
    const held = heldActions(this.system, this.protection);
    const needed = actuatorSteps(held, this.project.actuators, this.logic.failures).map(
      (step) => step.actuator,
    );
    this.queue = this.queue.filter(
      ({ item }) => item.kind !== "actuate" || needed.includes(item.step.actuator),
    );
    const logic = { ...this.logic, tripHeld: held.length > 0 };
    this.apply(release(this.project, logic, needed, ns));
  }
}

function zeroOf({ fault, part, atNs, struck }: FaultZero): FaultZero {
  return { fault, part, atNs, struck };
}
