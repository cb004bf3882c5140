/**
 * The running bench: one world, its scenario, and time. Page, command line and tests use exactly this.
 *
 * Time is an integer count of nanoseconds and advances in whole samples, so the size of the caller's steps
 * cannot matter. Inside a sample: events at their instants, physics between them, then sensing, monitors,
 * actuators, record. Commands may come for an instant inside the sample just made: that sample is undone
 * and made again with the command in it. No pacing, no clock.
 */
import { emptyCircuit, type StageCircuit } from "../physics/stage/circuit";
import { initialState, strikeArc } from "../physics/stage/coldStart";
import { ARC_COUNT, ARC_PLACES, LNG, STATE_LENGTH, STRIKE_LNG, VC } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import {
  applyStation,
  driveSourceA,
  type LiveStation,
  liveAtRest,
  resolveStation,
  type StationParts,
} from "../physics/stage/stationCircuit";
import type { ArcPlace, Command, Project } from "../project/types";
import { actuatorSteps, isReleased } from "../protection/actuators/schedule";
import { acknowledgeProtection, resetProtection } from "../protection/byHand";
import { forwardGainDb } from "../protection/derived";
import type { ProtectionEvent } from "../protection/events";
import { smoothingsOf } from "../protection/interpreter/program";
import { configureMonitor } from "../protection/liveEdit";
import {
  compileProtection,
  heldActions,
  type ProtectionState,
  type ProtectionSystem,
  startProtection,
} from "../protection/protectionState";
import { createSensing, SENSOR_NAMES, type Sensing } from "../protection/sensing/sensing";
import type { Situation } from "../protection/situation";
import { operated, stepProtection } from "../protection/supervisor";
import type { BenchEvent } from "./benchEvent";
import { CH, CHANNEL_COUNT, NO_GAIN_DB, STAGE_CHANNELS } from "./channels";
import { type ProtectionCommand, runCommand } from "./commands";
import { CLOCK_PARTS, Damage } from "./damage";
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
import { Recorder, type RecorderMark } from "./recorder";
import { hashText, mixText, mixValues } from "./recordHash";
import { type Change, nanoseconds, release, type TimedStep, takeStep } from "./sequencer";
import { type Incident, StageRun, type StageSink } from "./stageRun";
import {
  ARC_ENERGY_AT,
  CLEAR_AT,
  type EdgeVariant,
  HASH_AT,
  RECORD_AT,
  ROW_AT,
  SENSING_AT,
  STAGE_AT,
  sensedRowAt,
  worldLength,
} from "./worldLayout";

/** Arc, output and short gone for this long count as cleared. */
const CLEAR_FOR_NS = 5_000_000;
const CLEAR_ARC_W = 1;
const CLEAR_FORWARD_W = 10;
const CLEAR_SHORT_A = 1;

export interface ScriptEntry {
  readonly atNs: number;
  readonly command: Command;
}

/** All it takes to go on from here, bit for bit. */
export interface Snapshot {
  readonly timeNs: number;
  readonly buffer: Float64Array;
  readonly logic: Logic;
  readonly system: ProtectionSystem;
  readonly protection: ProtectionState;
  readonly queue: readonly Queued<QueuedStep>[];
  readonly scriptAt: number;
  readonly eventCount: number;
  readonly burning: Uint8Array;
  readonly maintainingV: Float64Array;
  readonly mark: RecorderMark;
}

/** What the bench itself has in store: steps of sequence and actuators, and keying that stands for a text. */
type QueuedStep = TimedStep | { readonly kind: "command"; readonly command: Command };

export interface FaultStart {
  readonly zero: FaultZero;
  readonly snapshot: Snapshot;
}

/** The plates when the operator opens the key, in the order of ARC_PLACES. */
export interface Found {
  readonly atNs: number;
  readonly moltenKg: readonly number[];
  readonly place: number;
  /** Temperatures of the worst place's cells, from the root outwards. */
  readonly cellsK: Float64Array;
}

export interface BenchOptions {
  /** `inhibited`: everything is evaluated, nothing acts and nobody opens the key. */
  readonly protection?: "acting" | "inhibited";
  /** How much of the record is kept; the hash and the events always are. */
  readonly recorder?: "full" | "tracks";
}

export type BenchCreated =
  | { readonly ok: true; readonly bench: Bench }
  | { readonly ok: false; readonly problem: string };

/** A bench at t = 0 with the project's scenario loaded; a station that cannot be designed is a problem. */
export function createBench(project: Project, options: BenchOptions = {}): BenchCreated {
  const resolved = resolveStation(project.station);
  if (!resolved.ok) return { ok: false, problem: resolved.problem };
  return { ok: true, bench: new Bench(project, resolved.parts, options) };
}

export class Bench implements StageSink {
  timeNs = 0;
  /** Everything that happened, in order. Only ever appended to or cut at its end. */
  readonly events: BenchEvent[] = [];
  readonly recorder: Recorder;
  readonly damage: Damage;
  readonly buffer: Float64Array;
  logic: Logic;
  system: ProtectionSystem;
  protection: ProtectionState;
  /** The faults so far, each with the world at the start of the sample of its time zero. */
  zeros: readonly FaultStart[] = [];
  /** Unprotected run only: what somebody would have found at `operatorS`. */
  found: Found | null = null;
  readonly inhibited: boolean;
  readonly sensing: Sensing;

  private script: readonly ScriptEntry[];
  private scriptAt = 0;
  private queue: readonly Queued<QueuedStep>[] = [];
  /** Start of the open sample; its arrays are used again for every sample, so it never leaves the bench. */
  private readonly open: { -readonly [K in keyof Snapshot]: Snapshot[K] };
  private readonly circuit: StageCircuit = emptyCircuit();
  private readonly live: LiveStation;
  private readonly stage: StageRun;
  private readonly withstandV = new Float64Array(ARC_COUNT);
  private readonly air: { readonly density: number; readonly humidity: number };
  private readonly keyEdgeNs: number;
  /** Readings of the sensors at the last sample's end, then their smoothed copies. */
  readonly sensedRow: Float64Array;

  // scratch of one sample
  private readonly means = new Float64Array(SENSOR_NAMES.length);
  private readonly arcJ = new Float64Array(ARC_COUNT);
  private readonly arcPeakS = new Float64Array(ARC_COUNT);
  private readonly arcBurnS = new Float64Array(ARC_COUNT);
  private readonly clockSum = new Float64Array(CLOCK_PARTS.length);
  private highestV = 0;

  constructor(
    readonly project: Project,
    readonly parts: StationParts,
    options: BenchOptions,
    shared: Bench | null = null,
    damage: Damage | null = shared?.damage ?? null,
  ) {
    this.inhibited = options.protection === "inhibited";
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
    this.recorder = new Recorder(options.recorder ?? "tracks", recordRow);
    this.stage = new StageRun(this.buffer, this.withstandV, project.station.erosion.holdingW);
    this.air = gapAir(project.station);
    this.keyEdgeNs = nanoseconds(project.station.exciter.keyEdgeS);
    this.live = liveAtRest(parts);
    this.circuit.arcTimeConstantS.fill(project.station.erosion.arcTimeConstantS);
    this.circuit.tapFraction = project.station.bandSwitch.tapFraction;
    this.circuit.cutoffSiemens = 1 / project.actuators.cathodeCutoff.resistorOhm;
    this.circuit.returnF = project.actuators.cathodeCutoff.bypassF;
    this.script = project.scenario.map(({ atS, ...command }) => ({
      atNs: nanoseconds(atS),
      command: command as Command,
    }));
    this.script = [...this.script].sort((a, b) => a.atNs - b.atNs);
    if (shared !== null) {
      this.logic = shared.logic;
      this.system = shared.system;
      this.protection = shared.protection;
    } else {
      const load = loadOfStation(parts);
      const logic = initialLogic(project);
      const still = (value: number) => ({ from: value, to: value, startNs: -1e12 });
      this.logic = {
        ...logic,
        controls: {
          ...logic.controls,
          loadSwr: still(load.swr),
          loadPhaseRad: still(load.phaseRad),
        },
      };
      this.system = compileProtection(project.monitors, {
        sampleNs: project.sampleNs,
        rowIndex: (sensor, smoothingS) => this.sensing.rowIndex(sensor, smoothingS),
        expectedForwardGainDb: expectedForwardGain(parts),
      });
      this.protection = startProtection(this.system);
    }
    this.applyCircuit(0);
    initialState(this.circuit, this.buffer.subarray(STAGE_AT, STAGE_AT + STATE_LENGTH));
    this.sensing.init(this.buffer, SENSING_AT, project.seed);
    // the supply has been up for long: its divider reads what is there
    this.buffer[SENSING_AT + SENSOR_NAMES.indexOf("plateV")] = this.buffer[STAGE_AT + VC] as number;
    this.damage.init(this.buffer);
    this.buffer[CLEAR_AT] = -1;
    this.buffer[ROW_AT + READING.plateV] = this.buffer[STAGE_AT + VC] as number;
    this.buffer[ROW_AT + READING.filterV] = this.buffer[STAGE_AT + VC] as number;
    this.stage.disturb(this.circuit);
    this.fillRow();
    this.open = this.snapshot();
  }

  // ------------------------------------------------------------------ time

  get sampleNs(): number {
    return this.project.sampleNs;
  }

  /** Start of the sample that a command may still fall into. */
  get openFromNs(): number {
    return this.open.timeNs;
  }

  /** Advances to the last whole sample at or before `ns`. */
  advanceTo(ns: number): void {
    const step = this.sampleNs;
    while (this.timeNs + step <= ns) this.sample();
  }

  /**
   * Puts a command at `atNs`, inside the sample just made or later; the sample is made again when it has to
   * be. A time before that is a broken promise of the caller (go back and branch instead).
   */
  schedule(atNs: number, command: Command): void {
    if (atNs < this.open.timeNs)
      throw new Error(`invalid atNs: ${atNs} before ${this.open.timeNs}`);
    const reached = this.timeNs;
    if (atNs < reached) this.restore(this.open);
    this.insertScript(atNs, command);
    this.advanceTo(reached);
  }

  /** The scenario as it stands, with all that was done live. */
  get entries(): readonly ScriptEntry[] {
    return this.script;
  }

  /** Forgets everything planned from `ns` on: the first step of a branch. */
  cutScript(ns: number): void {
    this.script = this.script.filter((e) => e.atNs < ns);
    this.scriptAt = Math.min(this.scriptAt, this.script.length);
  }

  /** Goes on with another scenario, which must be the same up to now. */
  follow(entries: readonly ScriptEntry[]): void {
    for (let i = 0; i < this.scriptAt; i++) {
      const past = entries[i];
      if (past === undefined || past.atNs !== (this.script[i] as ScriptEntry).atNs)
        throw new Error(`invalid entries: they differ before ${this.timeNs} ns`);
    }
    this.script = entries;
  }

  /** Puts a second bench where a first one was, with a record and events of its own from here on. */
  visit(s: Snapshot): void {
    this.restore({ ...s, eventCount: 0, mark: this.recorder.mark() });
  }

  /** A second bench of the same project and scenario at t = 0, for reading what this one went past. */
  another(): Bench {
    const protection = this.inhibited ? "inhibited" : "acting";
    const options: BenchOptions = { protection, recorder: "tracks" };
    const bench = new Bench(this.project, this.parts, options, null, this.damage);
    bench.script = this.script;
    return bench;
  }

  /** Snapshot of the start of the open sample. */
  openSnapshot(): Snapshot {
    return {
      ...this.open,
      buffer: this.open.buffer.slice(),
      burning: this.open.burning.slice(),
      maintainingV: this.open.maintainingV.slice(),
    };
  }

  snapshot(): Snapshot {
    return {
      timeNs: this.timeNs,
      buffer: this.buffer.slice(),
      logic: this.logic,
      system: this.system,
      protection: this.protection,
      queue: this.queue,
      scriptAt: this.scriptAt,
      eventCount: this.events.length,
      burning: this.circuit.burning.slice(),
      maintainingV: this.circuit.maintainingV.slice(),
      mark: this.recorder.mark(),
    };
  }

  restore(s: Snapshot): void {
    this.timeNs = s.timeNs;
    this.buffer.set(s.buffer);
    this.logic = s.logic;
    this.system = s.system;
    this.protection = s.protection;
    this.queue = s.queue;
    this.scriptAt = s.scriptAt;
    this.events.length = s.eventCount;
    this.circuit.burning.set(s.burning);
    this.circuit.maintainingV.set(s.maintainingV);
    this.recorder.rewind(s.mark);
    this.zeros = this.zeros.filter((z) => z.zero.atNs < s.timeNs);
    this.found = null;
    if (s !== this.open) this.keepOpen();
  }

  /**
   * The same run from `from` on with protection inhibited and nobody opening the key. Events before the
   * fork are not copied. The fork keeps going through the scenario's other commands.
   */
  fork(from: Snapshot): Bench {
    const twin = new Bench(
      this.project,
      this.parts,
      { protection: "inhibited", recorder: "tracks" },
      this,
    );
    twin.script = this.script.filter((e) => e.atNs < from.timeNs || !isOperatorCommand(e.command));
    const queue = from.queue.filter(
      ({ item }) => item.kind !== "command" || !isOperatorCommand(item.command),
    );
    twin.restore({ ...from, queue, eventCount: 0, mark: twin.recorder.mark() });
    twin.scriptAt = Math.min(from.scriptAt, twin.script.length);
    return twin;
  }

  /** Instant of the next thing in the scenario that starts another fault; Infinity for none. */
  nextFaultNs(afterNs: number): number {
    for (const e of this.script) {
      if (e.atNs > afterNs && e.command.do === "placeFault") return e.atNs;
    }
    return Infinity;
  }

  /** Sixteen hexadecimal digits over every sample and event so far. */
  get hash(): string {
    return hashText(this.buffer, HASH_AT);
  }

  // ------------------------------------------------------------------ one sample

  private sample(): void {
    this.keepOpen();
    const startNs = this.timeNs;
    const endNs = startNs + this.sampleNs;
    this.arcJ.fill(0);
    this.arcPeakS.fill(0);
    this.arcBurnS.fill(0);
    this.clockSum.fill(0);
    this.highestV = 0;
    const firstEvent = this.events.length;
    this.recorder.openSample();
    let t = startNs;
    for (;;) {
      this.runEventsAt(t);
      if (t >= endNs) break;
      const until = Math.min(endNs, this.nextEventNs());
      t = this.physics(t, until, endNs);
      // an event that falls on the end of the sample belongs to the next one
      if (t >= endNs) break;
    }
    this.timeNs = endNs;
    this.closeSample(startNs, endNs, firstEvent);
  }

  /** Keeps the start of a sample, in the same arrays every time. */
  private keepOpen(): void {
    const o = this.open;
    o.timeNs = this.timeNs;
    o.buffer.set(this.buffer);
    o.logic = this.logic;
    o.system = this.system;
    o.protection = this.protection;
    o.queue = this.queue;
    o.scriptAt = this.scriptAt;
    o.eventCount = this.events.length;
    o.burning.set(this.circuit.burning);
    o.maintainingV.set(this.circuit.maintainingV);
    o.mark = this.recorder.mark();
  }

  private nextEventNs(): number {
    const a =
      this.scriptAt < this.script.length
        ? (this.script[this.scriptAt] as ScriptEntry).atNs
        : Infinity;
    const b = this.queue.length > 0 ? (this.queue[0] as Queued<QueuedStep>).atNs : Infinity;
    return Math.min(a, b);
  }

  private runEventsAt(ns: number): void {
    for (;;) {
      const entry = this.script[this.scriptAt];
      const queued = this.queue[0];
      const scripted = entry !== undefined && entry.atNs <= ns;
      const due = queued !== undefined && queued.atNs <= ns;
      if (!scripted && !due) return;
      if (due && (!scripted || queued.atNs <= entry.atNs)) {
        const { item } = queued;
        this.queue = this.queue.slice(1);
        if (item.kind === "command") this.command(item.command, ns);
        else this.apply(takeStep(this.project, this.logic, item, ns));
      } else if (scripted) {
        this.scriptAt++;
        this.command(entry.command, ns);
      }
    }
  }

  private command(command: Command, ns: number): void {
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

  private insertScript(atNs: number, command: Command): void {
    let i = this.script.length;
    while (i > this.scriptAt && (this.script[i - 1] as ScriptEntry).atNs > atNs) i--;
    this.script = [...this.script.slice(0, i), { atNs, command }, ...this.script.slice(i)];
  }

  private protectionCommand(command: ProtectionCommand, ns: number): string {
    const situation = this.situation();
    if (command.do === "acknowledge") {
      this.protection = acknowledgeProtection(
        this.system,
        this.protection,
        ns,
        situation,
        this.emit,
      );
      return "";
    }
    if (command.do === "reset") {
      this.protection = resetProtection(
        this.system,
        this.protection,
        this.sensedRow,
        ns,
        situation,
        this.emit,
      );
      return "";
    }
    const edit = configureMonitor(
      this.system,
      this.protection,
      command.monitor,
      command.change,
      ns,
      this.emit,
    );
    if (!edit.ok) return edit.problems.join("; ");
    this.system = edit.system;
    this.protection = edit.state;
    return "";
  }

  private apply(change: Change): void {
    this.logic = change.logic;
    for (const later of change.later) this.queue = enqueue(this.queue, later.atNs, later.step);
    for (const event of change.events) {
      this.events.push(event);
      if (event.kind === "faultZero")
        this.beginFault(event.atNs, event.fault, event.part, event.struck);
      else if (event.kind === "actuator") this.recorder.startBurst(event.atNs, "event");
    }
    if (change.jumps) this.stage.disturb(this.circuit);
  }

  private beginFault(
    atNs: number,
    fault: NonNullable<Logic["zero"]>["fault"],
    part: NonNullable<Logic["zero"]>["part"],
    struck: ArcPlace | null,
  ): void {
    this.logic = {
      ...this.logic,
      zero: { fault, part, atNs, struck },
      cleared: false,
      milestones: [],
    };
    this.buffer[CLEAR_AT] = -1;
    if (!this.inhibited) {
      const zero = { fault, part, atNs, struck };
      // a twin has tracks of its own: those before the fault need not be kept alive for it
      const mark = { samples: this.recorder.sampleCount, bursts: [] };
      const snapshot = { ...this.openSnapshot(), mark };
      this.zeros = [...this.zeros, { zero, snapshot }];
    }
    this.recorder.startBurst(atNs, "fault");
  }

  /** What protection is told of the station now. */
  situation(): Situation {
    const { logic } = this;
    return {
      operate: logic.operate,
      mode: logic.mode,
      keyDown: logic.keyDown,
      keyDownAtNs: logic.keyDownAtNs,
      transmitConfirmed: logic.sequence.phase === "transmit",
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
  private physics(fromNs: number, untilNs: number, endNs: number): number {
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
      this.events.push({
        kind: "faultZero",
        atNs,
        fault: blamed.fault,
        part: blamed.part,
        struck: name,
      });
      this.beginFault(atNs, blamed.fault, blamed.part, name);
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
  piece(fromNs: number, dtS: number, before: Float64Array, after: Float64Array): void {
    const m = this.means;
    const mean = (i: number): number => 0.5 * ((before[i] as number) + (after[i] as number));
    m[0] = mean(READING.driveW);
    m[1] = mean(READING.driveReflectedW);
    m[2] = mean(READING.forwardW);
    m[3] = mean(READING.reflectedW);
    m[4] = mean(READING.plateCurrentA);
    m[5] = mean(READING.gridCurrentA);
    m[6] = mean(READING.plateV);
    m[7] = mean(READING.plateRfPeakV);
    this.sensing.advanceSegment(this.buffer, SENSING_AT, dtS, m);
    this.comparator(fromNs, dtS, before, after);
    const sums = this.clockSum;
    sums[0] = (sums[0] as number) + dtS * Math.max(mean(READING.gridDissipationW), 0);
    sums[1] = (sums[1] as number) + dtS * Math.max(mean(READING.plateDissipationW), 0);
    sums[2] = (sums[2] as number) + dtS * mean(READING.tubeCurrentA);
    sums[3] = (sums[3] as number) + dtS * (m[1] as number);
    if ((before[READING.arcW] as number) > 0 || (after[READING.arcW] as number) > 0) {
      for (let a = 0; a < ARC_COUNT; a++) {
        const joules = dtS * mean(READING.arcPlaceW + a);
        if (joules <= 0) continue;
        this.arcJ[a] = (this.arcJ[a] as number) + joules;
        this.buffer[ARC_ENERGY_AT + a] = (this.buffer[ARC_ENERGY_AT + a] as number) + joules;
        this.arcPeakS[a] = (this.arcPeakS[a] as number) + dtS * mean(READING.arcPlacePeakA + a);
        this.arcBurnS[a] = (this.arcBurnS[a] as number) + dtS;
      }
    }
    const peak = after[READING.plateRfPeakV] as number;
    if (peak > this.highestV) this.highestV = peak;
    const clear =
      (after[READING.arcW] as number) < CLEAR_ARC_W &&
      (after[READING.forwardW] as number) < CLEAR_FORWARD_W &&
      this.circuit.shortSiemens * (after[READING.plateV] as number) < CLEAR_SHORT_A;
    if (!clear) this.buffer[CLEAR_AT] = -1;
    else if ((this.buffer[CLEAR_AT] as number) < 0) {
      this.buffer[CLEAR_AT] = Math.ceil(fromNs + dtS * 1e9 - 1e-6);
    }
    this.recorder.piece(fromNs, dtS, before, after, this.stage);
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

  private closeSample(startNs: number, endNs: number, firstEvent: number): void {
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
    this.releaseRelay(endNs);
    this.heat(endNs, dtS);
    this.noteClearing(endNs);
    if (this.inhibited) this.lookAsOperator(endNs);
    this.record(startNs, endNs, firstEvent);
  }

  /** A trip's T/R relay opens once the output has fallen, or after the longest wait. */
  private releaseRelay(endNs: number): void {
    const since = this.logic.relayWaitSinceNs;
    if (since === null) return;
    const steps = actuatorSteps(["transmitReceive"], this.project.actuators, this.logic.failures);
    const step = steps[0];
    const outputW = this.buffer[ROW_AT + READING.forwardW] as number;
    if (step === undefined || !isReleased(step, endNs - since, outputW)) return;
    this.logic = { ...this.logic, relayWaitSinceNs: null };
    this.queue = enqueue(this.queue, endNs + step.delayNs, { kind: "actuate", step });
  }

  private heat(endNs: number, dtS: number): void {
    for (let a = 0; a < ARC_COUNT; a++) {
      const burned = this.arcBurnS[a] as number;
      if (burned > 0) this.arcPeakS[a] = (this.arcPeakS[a] as number) / burned;
    }
    for (let k = 0; k < CLOCK_PARTS.length; k++)
      this.clockSum[k] = (this.clockSum[k] as number) / dtS;
    this.damage.advance(
      this.buffer,
      endNs,
      dtS,
      this.arcJ,
      this.arcPeakS,
      this.clockSum,
      this.logic.milestones,
      (part, milestone, edge, atNs) => {
        const key = milestoneKey(part, milestone, edge as EdgeVariant);
        this.logic = { ...this.logic, milestones: [...this.logic.milestones, key] };
        this.events.push({ kind: "milestone", atNs, part, milestone, edge });
      },
    );
  }

  private lookAsOperator(endNs: number): void {
    const { zero } = this.logic;
    if (this.found !== null || zero === null) return;
    if (endNs - zero.atNs < nanoseconds(this.project.operatorS)) return;
    const place = this.damage.worstPlace(this.buffer);
    this.found = {
      atNs: endNs,
      moltenKg: ARC_PLACES.map((_, a) => this.damage.peakMoltenKg(this.buffer, a)),
      place,
      cellsK: this.damage.cellsK(this.buffer, place),
    };
  }

  private noteClearing(endNs: number): void {
    const { zero, cleared } = this.logic;
    if (zero === null || cleared) return;
    const since = this.buffer[CLEAR_AT] as number;
    if (since < 0 || endNs - since < CLEAR_FOR_NS) return;
    this.logic = { ...this.logic, cleared: true };
    this.events.push({ kind: "cleared", atNs: Math.max(since, zero.atNs) });
  }

  /** The recorded row of the state as it stands. */
  private fillRow(): void {
    const { buffer, damage } = this;
    const row = this.recorder.row;
    for (let i = 0; i < STAGE_CHANNELS; i++) row[i] = buffer[ROW_AT + i] as number;
    let peakA = 0;
    for (let a = 0; a < ARC_COUNT; a++) {
      peakA = Math.max(peakA, buffer[ROW_AT + READING.arcPlacePeakA + a] as number);
    }
    row[CH.arcPeakA] = peakA;
    row[CH.plateRfHighestV] = this.highestV;
    const place = damage.worstPlace(buffer);
    row[CH.edgeK] = damage.edgeK(buffer, place);
    row[CH.edgeFraction] = damage.edgeFraction(buffer, place);
    row[CH.moltenKg] = damage.moltenKg(buffer, place);
    row[CH.gridFraction] = damage.clockFraction(buffer, 0);
    row[CH.anodeFraction] = damage.clockFraction(buffer, 1);
    row[CH.cathodeFraction] = damage.clockFraction(buffer, 2);
    row[CH.exciterFraction] = damage.clockFraction(buffer, 3);
    const gain = forwardGainDb(this.sensedRow[0] as number, this.sensedRow[2] as number);
    row[CH.sensedForwardGainDb] = Number.isNaN(gain) ? NO_GAIN_DB : gain;
  }

  private record(startNs: number, endNs: number, firstEvent: number): void {
    const { buffer } = this;
    const row = this.recorder.row;
    this.fillRow();
    this.recorder.closeSample(startNs, endNs);
    const bad = this.recorder.firstNotFinite();
    if (bad !== null) throw new Error(`not a finite number: ${bad} at ${endNs} ns`);
    mixValues(buffer, HASH_AT, row, 0, row.length);
    for (let i = firstEvent; i < this.events.length; i++) {
      mixText(buffer, HASH_AT, eventText(this.events[i] as BenchEvent));
    }
  }

  /** Logs what protection reports, and carries out what it commands. */
  private readonly emit = (event: ProtectionEvent): void => {
    this.events.push({ kind: "protection", atNs: event.atNs, event });
    if (event.kind === "trip" || event.kind === "keyDownLimit") {
      if (event.actions.length === 0) return;
      this.logic = { ...this.logic, tripHeld: true };
      const steps = actuatorSteps(event.actions, this.project.actuators, this.logic.failures);
      for (const step of steps) {
        if (step.wait !== null) {
          if (this.logic.relayWaitSinceNs === null) {
            this.logic = { ...this.logic, relayWaitSinceNs: event.atNs };
          }
          continue;
        }
        this.queue = enqueue(this.queue, event.atNs + step.delayNs, { kind: "actuate", step });
      }
    } else if (event.kind === "operate") this.recorder.startBurst(event.atNs, "event");
    else if (event.actions.length > 0) this.releaseLater(event);
  };

  /** A reset is reported before the new protection state is in place: what is released is settled after. */
  private releaseLater(event: ProtectionEvent): void {
    const held = heldActions(this.system, this.protection).filter(
      (a) => !event.actions.includes(a),
    );
    this.logic = { ...this.logic, tripHeld: held.length > 0 };
    this.apply(release(this.project, this.logic, event.actions, event.atNs));
  }
}

function isOperatorCommand(command: Command): boolean {
  return (
    command.do === "key" ||
    command.do === "standby" ||
    command.do === "operate" ||
    command.do === "mode"
  );
}

/** What of an event enters the hash: kind, instant and what is specific to it. */
function eventText(event: BenchEvent): string {
  switch (event.kind) {
    case "command":
      return `c${event.atNs}${event.command.do}${event.refused}`;
    case "protection":
      return `p${event.atNs}${event.event.kind}${event.event.monitorId}${event.event.criterion}`;
    case "milestone":
      return `m${event.atNs}${event.part}${event.milestone}${event.edge}`;
    case "strike":
    case "arcOut":
      return `${event.kind}${event.atNs}${event.place}`;
    case "actuator":
      return `a${event.atNs}${event.actuator}${event.effect}`;
    case "faultZero":
      return `z${event.atNs}${event.fault}${event.part}`;
    case "sequence":
      return `s${event.atNs}${event.step}`;
    default:
      return `${event.kind}${event.atNs}`;
  }
}
