/**
 * One unit with an arc, from its strike to clearing, as quickly as is honest: the bench's own stage, sensing, monitors and
 * actuators, begun where the unit is settled under full carrier, and left as soon as the fault is cleared.
 *
 *   strike, actuators    the stage's differential equations, step by step, as on the bench
 *   in between           settled states 2 ms apart; each sample reads on the straight line between them
 *   twin                 nothing of it is run: the settled arc gives power and current for `toleranceOnset`
 *
 * What it leaves out against the bench: record, clocks, molten metal (nothing has melted before the onset), and the straight line
 * above. Of 60 units compared with the bench all operated at the same scan and were cleared within 1 ns of it, and none was more than
 * 0.2 % and 75 us off in its onset; the tests keep some of them. It follows arcs that keep one voltage, on a station without
 * level control; everything else has to be run on the bench.
 */
import { SETTLED } from "../../physics/stage/coldStart";
import { ARC_PLACES, STATE_LENGTH } from "../../physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../physics/stage/readings";
import { arcPlaceOf } from "../../project/arcPlaceOf";
import type { FaultName, PartName } from "../../project/scenario";
import type { ArcPlace } from "../../project/station";
import type { ProtectionEvent } from "../../protection/events";
import type { ProtectionState } from "../../protection/protectionState";
import type { Situation } from "../../protection/situation";
import { stepProtection } from "../../protection/supervisor";
import { beginArc, endArc } from "../../simulation/arcs";
import { awaitFault, watchClearing } from "../../simulation/clearing";
import { runCommand } from "../../simulation/commands";
import { enqueue, type Queued } from "../../simulation/eventQueue";
import { gapAir, maintainingV, withstandAt } from "../../simulation/gaps";
import { takeTimedStep } from "../../simulation/power";
import { situationOf } from "../../simulation/situationOf";
import { nodePeakV, type StageSink, type StepInterpolator } from "../../simulation/stageRun";
import {
  commandActuators,
  type Linked,
  type QueuedStep,
  releaseRelay,
} from "../../simulation/tripLink";
import { watchComparators } from "../../simulation/watchComparators";
import { ARC_ENERGY_AT, CLEAR_AT, MODE_AT, ROW_AT, SENSING_AT } from "../../simulation/worldLayout";
import type { ArcHeat } from "./toleranceOnset";
import { fillMeans, UnitBench } from "./toleranceStage";
import type { Unit } from "./toleranceUnit";

/** What is done to the unit. */
export interface ArcFault {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly severity: number;
}

export interface ShortOutcome {
  /** The station finds no working point at full drive. */
  readonly isDead: boolean;
  /** Acting monitors whose pickup the steady readings of the healthy unit are past, in the project's order. */
  readonly healthyTrips: readonly string[];
  readonly struck: boolean;
  readonly first: string | null;
  /** Seconds from the strike; null for what has not happened while the run was followed. */
  readonly operateS: number | null;
  readonly clearingS: number | null;
  /** Null where no arc burns on. */
  readonly heat: ArcHeat | null;
}

const NOTHING: ShortOutcome = {
  isDead: false,
  healthyTrips: [],
  struck: false,
  first: null,
  operateS: null,
  clearingS: null,
  heat: null,
};

/** Samples between two settled states. */
const STRIDE_SAMPLES = 40;

export class ShortRun extends UnitBench implements StageSink {
  private readonly yBefore = new Float64Array(STATE_LENGTH);
  private readonly rowBefore = new Float64Array(READING_COUNT);
  private readonly rowAfter = new Float64Array(READING_COUNT);
  private queue: readonly Queued<QueuedStep>[] = [];
  private strikeNs = 0;
  private place = -1;
  private hasGoneOut = false;
  private captured: "off" | "on" | "failed" = "off";
  private first: string | null = null;
  private operateNs = -1;
  private heat: ArcHeat | null = null;

  /** The fault strikes the unit at `strikeNs`, no sooner than the nominal bench stands; followed for `followNs` at most. */
  run(unit: Unit, fault: ArcFault, strikeNs: number, followNs: number): ShortOutcome {
    if (!this.begin(unit)) return { ...NOTHING, isDead: true };
    const firstNs = Math.floor(strikeNs / this.stepNs) * this.stepNs;
    const healthyTrips = this.readHealthy(firstNs / this.stepNs);
    this.queue = [];
    this.hasGoneOut = false;
    this.captured = "off";
    this.first = null;
    this.operateNs = -1;
    this.heat = null;
    if (!this.canStrike(fault, strikeNs)) return { ...NOTHING, healthyTrips };
    this.follow(firstNs, strikeNs + followNs);
    const clearNs = this.buffer[CLEAR_AT] as number;
    const after = (ns: number): number => Math.max(ns - strikeNs, 0) / 1e9;
    return {
      isDead: false,
      healthyTrips,
      struck: true,
      first: this.first,
      operateS: this.operateNs < 0 ? null : after(this.operateNs),
      clearingS: this.isOver() ? after(clearNs) : null,
      heat: this.heat,
    };
  }

  // ------------------------------------------------------------------ the fault

  /** Puts the fault in; false where the gap withstands what lies across it. */
  private canStrike({ fault, part, severity }: ArcFault, strikeNs: number): boolean {
    const { unit, circuit, y, withstandV } = this;
    const place = arcPlaceOf(part);
    if (place === null) throw new Error(`invalid part: ${part}`);
    const command = { do: "placeFault", fault, part, severity } as const;
    this.logic = runCommand(unit.project, this.logic, command, strikeNs).logic;
    this.strikeNs = strikeNs;
    this.place = ARC_PLACES.indexOf(place);
    this.findWithstand(strikeNs);
    return nodePeakV(circuit, y, this.place) >= (withstandV[this.place] as number);
  }

  private findWithstand(ns: number): void {
    const { station, seed } = this.unit.project;
    withstandAt(station, seed, gapAir(station), this.logic, ns, this.withstandV);
  }

  // ------------------------------------------------------------------ time

  private follow(firstNs: number, untilNs: number): void {
    let ns = this.strikeSample(firstNs);
    let fineUntilNs = 0;
    while (!this.isOver() && ns < untilNs) {
      const isSettled = this.buffer[MODE_AT] === 0 && !this.hasGoneOut && ns >= fineUntilNs;
      const next = isSettled && this.isQuiet(ns) ? this.stride(ns) : ns;
      if (next === ns) {
        if (isSettled && this.isQuiet(ns)) fineUntilNs = ns + STRIDE_SAMPLES * this.stepNs;
        ns = this.sample(ns, ns);
      } else ns = next;
    }
  }

  /** The fault is off as far as it can be: an exciter or a cathode that has been cut comes back only after a reset. */
  private isOver(): boolean {
    const { logic, buffer } = this;
    return (buffer[CLEAR_AT] as number) >= 0 && (logic.driveInhibited || logic.cathodeCut);
  }

  /** No step falls into the sample that begins at `ns`. */
  private isQuiet(ns: number): boolean {
    return (this.queue[0]?.atNs ?? Infinity) >= ns + this.stepNs;
  }

  /** The sample in which the gap breaks down: as before up to the strike. */
  private strikeSample(startNs: number): number {
    const { circuit, buffer, row, unit, strikeNs, place } = this;
    this.sums.clear();
    if (strikeNs > startNs) this.piece(startNs, (strikeNs - startNs) * 1e-9, row, row);
    const keepsV = maintainingV(unit.project.station, this.logic, ARC_PLACES[place] as ArcPlace);
    this.logic = beginArc(circuit, buffer, this.logic, place, strikeNs, keepsV).logic;
    awaitFault(buffer);
    this.stage.disturb(circuit);
    return this.sample(startNs, strikeNs);
  }

  /** One sample as on the bench, from `fromNs` inside it on; answers its end. */
  private sample(startNs: number, fromNs: number): number {
    const endNs = startNs + this.stepNs;
    const { stage, circuit } = this;
    if (fromNs === startNs) this.sums.clear();
    for (let now = fromNs; ; ) {
      this.takeSteps(now);
      if (now >= endNs || this.isOver()) break;
      const until = Math.min(endNs, this.queue[0]?.atNs ?? Infinity);
      if (this.hasGoneOut) this.findWithstand(until);
      const sourceA = this.logic.driveInhibited ? 0 : this.sourceA;
      const incident = stage.advance(circuit, now, until, sourceA, sourceA, until === endNs, this);
      now = incident === "none" ? until : stage.stoppedNs;
      if (incident === "strike" || incident === "arcOut") this.changeArc(incident, now);
    }
    if (!this.isOver()) this.closeSample(endNs);
    return endNs;
  }

  private changeArc(incident: "strike" | "arcOut", ns: number): void {
    const { circuit, buffer, stage, unit } = this;
    const at = stage.stoppedPlace;
    const keepsV = maintainingV(unit.project.station, this.logic, ARC_PLACES[at] as ArcPlace);
    const change =
      incident === "strike"
        ? beginArc(circuit, buffer, this.logic, at, ns, keepsV)
        : endArc(circuit, buffer, this.logic, at, ns);
    this.logic = change.logic;
    this.hasGoneOut ||= incident === "arcOut";
    stage.disturb(circuit);
  }

  private takeSteps(ns: number): void {
    for (let head = this.queue[0]; head !== undefined && head.atNs <= ns; head = this.queue[0]) {
      this.noteHeat();
      this.queue = this.queue.slice(1);
      if (head.item.kind === "command") continue;
      const change = takeTimedStep(this.unit.project, this.logic, head.item, ns);
      this.logic = change.logic;
      for (const later of change.later) this.queue = enqueue(this.queue, later.atNs, later.step);
      this.applyCircuit(ns);
      if (change.jumps) this.stage.disturb(this.circuit);
    }
  }

  /** Sensors, monitors and the relay that waits, at the end of a sample. */
  private closeSample(endNs: number): void {
    const { buffer, sensedRow, nominal, unit } = this;
    this.sensing.endSample(buffer, SENSING_AT, sensedRow);
    this.protection = stepProtection(
      nominal.system,
      this.protection,
      sensedRow,
      endNs / this.stepNs - 1,
      this.situation,
      this.emit,
    );
    if (this.logic.relayWaitSinceNs === null) return;
    const outputW = buffer[ROW_AT + READING.forwardW] as number;
    const relay = releaseRelay(unit.project, this.logic, endNs, outputW);
    if (relay !== null) this.take(relay);
  }

  private take({ logic, later }: Linked): void {
    this.logic = logic;
    this.situation = situationOf(logic, false);
    for (const { atNs, step } of later) this.queue = enqueue(this.queue, atNs, step);
  }

  private readonly emit = (event: ProtectionEvent): void => {
    if (event.kind !== "trip") return;
    if (this.operateNs < 0) {
      this.first = event.monitorId;
      this.operateNs = event.atNs;
    }
    this.take(commandActuators(this.unit.project, this.logic, event));
  };

  // ------------------------------------------------------------------ settled states and the line between them

  /** Up to 2 ms at once, and no further than to the sample of the next step; answers `startNs` where the stage has to be followed step by step. */
  private stride(startNs: number): number {
    const { stage, circuit, buffer, y, row, yBefore, rowBefore, rowAfter, stepNs } = this;
    this.noteHeat();
    yBefore.set(y);
    rowBefore.set(row);
    this.captured = "on";
    const endNs = startNs + STRIDE_SAMPLES * stepNs;
    const { sourceA } = this;
    const incident = stage.advance(circuit, startNs, endNs, sourceA, sourceA, true, this);
    const isStraight = incident === "none" && (this.captured as string) === "on";
    this.captured = "off";
    if (!isStraight) {
      y.set(yBefore);
      row.set(rowBefore);
      buffer[MODE_AT] = 0;
      return startNs;
    }
    rowAfter.set(row);
    for (let k = 0; k < STRIDE_SAMPLES; k++) {
      const atNs = startNs + k * stepNs;
      const middle = (k + 0.5) / STRIDE_SAMPLES;
      fillMeans(this.sums.means, rowBefore, rowAfter, middle);
      this.surround(rowBefore, rowAfter);
      this.sense(atNs, this.stepS, rowBefore, rowAfter);
      this.closeSample(atNs + stepNs);
      if (this.isQuiet(atNs + stepNs)) continue;
      const share = (k + 1) / STRIDE_SAMPLES;
      between(y, yBefore, y, share);
      between(row, rowBefore, rowAfter, share);
      return atNs + stepNs;
    }
    return endNs;
  }

  /** Power of the arc as it burns now and as it would burn for good, once. */
  private noteHeat(): void {
    if (this.heat !== null || this.hasGoneOut) return;
    const { circuit, stage, row, y, place, unit } = this;
    const yRest = this.rest.y;
    const rowRest = this.rest.row;
    yRest.set(y);
    const { sourceA } = circuit;
    circuit.sourceA = this.sourceA;
    const isFound = stage.solver.settle(circuit, yRest, Infinity) < SETTLED;
    if (isFound) readStage(circuit, stage.solver.system, yRest, circuit.sourceA, rowRest);
    else rowRest.set(row);
    circuit.sourceA = sourceA;
    const { supply } = unit.project.station;
    this.heat = {
      firstW: row[READING.arcPlaceW + place] as number,
      lastW: rowRest[READING.arcPlaceW + place] as number,
      firstPeakA: row[READING.arcPlacePeakA + place] as number,
      lastPeakA: rowRest[READING.arcPlacePeakA + place] as number,
      timeConstantS:
        supply.kind === "stiff" ? 1e-3 : supply.filterF * (supply.sourceOhm + supply.surgeOhm),
    };
  }

  private readonly rest = {
    y: new Float64Array(STATE_LENGTH),
    row: new Float64Array(READING_COUNT),
  };

  // ------------------------------------------------------------------ one piece of physics

  piece(
    fromNs: number,
    dtS: number,
    before: Float64Array,
    after: Float64Array,
    inside: StepInterpolator | null = null,
  ): void {
    if (this.captured !== "off") {
      if (inside !== null) this.captured = "failed";
      return;
    }
    this.sums.add(dtS, before, after, this.buffer, ARC_ENERGY_AT);
    this.surround(before, after);
    this.sense(fromNs, dtS, before, after);
    watchClearing(this.buffer, fromNs, dtS, after, this.circuit);
  }

  dueNs(): number {
    if (this.captured !== "off") return Infinity;
    return this.isOver() ? 0 : (this.queue[0]?.atNs ?? Infinity);
  }

  private sense(fromNs: number, dtS: number, before: Float64Array, after: Float64Array): void {
    const { nominal, sensing, buffer } = this;
    sensing.advanceSegment(buffer, SENSING_AT, dtS, this.sums.means);
    watchComparators(
      nominal.system,
      this.protection,
      sensing,
      buffer,
      fromNs,
      dtS,
      before[READING.plateCurrentA] as number,
      after[READING.plateCurrentA] as number,
      this.situationOf,
      this.emit,
      this.comparatorMoved,
    );
  }

  private readonly situationOf = (): Situation => this.situation;

  private readonly comparatorMoved = (protection: ProtectionState): void => {
    this.protection = protection;
  };
}

function between(into: Float64Array, a: Float64Array, b: Float64Array, share: number): void {
  for (let i = 0; i < into.length; i++) {
    into[i] = (a[i] as number) + share * ((b[i] as number) - (a[i] as number));
  }
}
