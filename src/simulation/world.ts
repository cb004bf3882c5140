import { ARC_PLACES } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import { driveSourceA } from "../physics/stage/stationCircuit";
import type { Command } from "../project/scenario";
import type { ArcPlace } from "../project/station";
import type { ProtectionEvent } from "../protection/events";
import { heldActions, type ProtectionState } from "../protection/protectionState";
import { stepProtection } from "../protection/supervisor";
import { type ArcChange, beginArc, bridgeGap, endArc } from "./arcs";
import { followArcs, outsideLawKey, strikeTargetV } from "./arcVoltage";
import { type BenchEvent, type DamagePart, eventText } from "./benchEvent";
import { awaitFault, clearedAtNs, watchClearing } from "./clearing";
import { type ProtectionCommand, runCommand } from "./commands";
import { fillSurroundings } from "./compartment";
import type { LogMilestone } from "./damage";
import { enqueue } from "./eventQueue";
import { airflowAt } from "./faultEffects";
import { withstandAt } from "./gaps";
import { type FaultZero, milestoneKey, relayMoves, zeroOf } from "./logic";
import { takeTimedStep } from "./power";
import { runProtectionCommand } from "./protectionCommands";
import { mixText } from "./recordHash";
import { healthySensors, isScanning, sensorFaultsAt, tapShareAt } from "./sensorFaults";
import type { Change } from "./sequencer";
import type { StageSink, StepInterpolator } from "./stageRun";
import { noteSupplyReady } from "./supplyReady";
import {
  addSupply,
  beginSupplySums,
  noteSupplyTaken,
  SUPPLY_ACTUATORS,
  watchSupply,
} from "./supplyWatch";
import { commandActuators, type Linked, letGo, type QueuedStep, releaseRelay } from "./tripLink";
import { keepReadings, remember } from "./tripMemory";
import { watchComparators } from "./watchComparators";
import { ARC_ENERGY_AT, HASH_AT, ROW_AT, SENSING_AT } from "./worldLayout";
import { WorldState } from "./worldState";

export abstract class World extends WorldState implements StageSink {
  /** Scratch of one protection step: something was reset in it. */
  private letsGo = false;
  /** Scratch of one sample. */
  private readonly sensorFaults = healthySensors();

  /** Something may have changed at `atNs`, inside the sample under way. */
  protected abstract noteMoment(atNs: number): void;

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
    const { system, protection, sensedRow, emit } = this;
    const now = this.situation();
    const done = runProtectionCommand(system, protection, command, sensedRow, ns, now, emit);
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
    const isLast = untilNs === endNs;
    const incident = this.stage.advance(c, fromNs, untilNs, from, to, isLast, this);
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
    const exhaustK = this.damage.exhaustAirK(this.buffer);
    fillSurroundings(this.sums.means, before, after, exhaustK, this.logic.power.lidClosed);
    this.sensing.advanceSegment(this.buffer, SENSING_AT, dtS, this.sums.means);
    const seen = tapShareAt(this.logic, fromNs);
    watchComparators(
      this.system,
      this.protection,
      this.sensing,
      this.buffer,
      fromNs,
      dtS,
      seen * (before[READING.plateCurrentA] as number),
      seen * (after[READING.plateCurrentA] as number),
      this.situation,
      this.emit,
      this.comparatorMoved,
    );
    watchClearing(this.buffer, fromNs, dtS, after, this.circuit);
    this.recorder.piece(fromNs, dtS, before, after, inside);
    addSupply(this.project, this.buffer, dtS, before, after);
  }

  /** When the next step falls due: what the comparator sets off may fall inside the piece under way. */
  dueNs(): number {
    return this.queue[0]?.atNs ?? Infinity;
  }

  private readonly comparatorMoved = (protection: ProtectionState, atNs: number): void => {
    this.protection = protection;
    this.noteMoment(atNs);
  };

  // ------------------------------------------------------------------ end of a sample

  protected closeSample(startNs: number, endNs: number, firstEvent: number): void {
    const { buffer, sensedRow, system } = this;
    const dtS = this.sampleNs * 1e-9;
    const faults = sensorFaultsAt(this.logic, endNs, this.sensorFaults);
    this.sensing.endSample(buffer, SENSING_AT, sensedRow, faults);
    this.logic = noteSupplyReady(this.logic, sensedRow, this.noLoadV, endNs);
    const index = endNs / this.sampleNs - 1;
    if (isScanning(this.logic, endNs)) {
      const before = this.protection;
      const now = this.situation();
      this.protection = stepProtection(system, before, sensedRow, index, now, this.emit);
    }
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
    this.noteTrips(startNs, endNs, firstEvent);
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
      airflowAt(this.logic, endNs),
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

  private noteTrips(startNs: number, endNs: number, firstEvent: number): void {
    const { buffer, sensedRow, events, logic } = this;
    keepReadings(buffer, sensedRow, startNs, endNs, logic.keyDown);
    if (firstEvent === events.length) return;
    const memory = remember(logic.memory, events, firstEvent, buffer, sensedRow);
    if (memory !== logic.memory) this.logic = { ...logic, memory };
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
