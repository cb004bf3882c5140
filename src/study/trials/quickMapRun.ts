/**
 * A run without faults, quickly: the bench's own switches, keying, exciter, sensing law and monitor interpreter over
 * settled states (`quickMapStage`) instead of the stage's differential equations. Protection is inhibited: everything is evaluated and noted and
 * nothing acts, so every operation stands for itself.
 *
 * What it leaves out against the bench: the microseconds in which tank and cathode return follow (every one after a
 * relay, all others settle within a sample), pieces shorter than a sample, heat, damage and record. The error is measured
 * against the bench in the tests. What it cannot follow it says: a gap that would strike, a drive or supply beyond the map,
 * a plate current near a comparator, a command or fault that is no ordinary use. Then the bench has to be run.
 */

import { relativeAirDensity, standardPressurePa } from "../../physics/airgap/airDensity";
import {
  advanceAnodeK,
  anodeCooler,
  coolingWPerK,
  exhaustAirK,
} from "../../physics/heat/anodeCooler";
import { emptyCircuit, type StageCircuit } from "../../physics/stage/circuit";
import { ARC_COUNT } from "../../physics/stage/layout";
import {
  applyStation,
  driveSourceA,
  type LiveStation,
  liveAtRest,
  resolveStation,
  type StationParts,
} from "../../physics/stage/stationCircuit";
import type { MonitorDef, MonitorRole } from "../../project/protection";
import type { Command, FaultName } from "../../project/scenario";
import type { Project } from "../../project/types";
import type { ProtectionEvent } from "../../protection/events";
import { smoothingsOf } from "../../protection/interpreter/program";
import { compileProtection } from "../../protection/protectionState";
import { SENSOR_NAMES } from "../../protection/sensing/sensing";
import { runCommand } from "../../simulation/commands";
import { enqueue, type Queued } from "../../simulation/eventQueue";
import { expectedForwardGain } from "../../simulation/expectedGain";
import { applyLogic } from "../../simulation/faultEffects";
import { expectedGainFrom } from "../../simulation/gainTable";
import { gapAir, withstandAt } from "../../simulation/gaps";
import { loadOfStation } from "../../simulation/liveLoad";
import { initialLogic, type Logic, RAMP_NS } from "../../simulation/logic";
import { takeTimedStep } from "../../simulation/power";
import type { Change } from "../../simulation/sequencer";
import { situationOf } from "../../simulation/situationOf";
import type { QueuedStep } from "../../simulation/tripLink";
import { fixCircuit } from "../../simulation/worldStart";
import { nanoseconds } from "../../units/nanoseconds";
import { QuickDrive } from "./quickMapDrive";
import { QuickFamilies } from "./quickMapFamily";
import { BLOCK, QuickSensing } from "./quickMapSensing";
import { type MapStore, QuickStage } from "./quickMapStage";
import { QuickWatch, readEverySample } from "./quickMapWatch";
import { drained, type Steps } from "./steps";

/** Faults a quick run can follow: they move load, tank, tube or mains slowly, or only the drive. */
const FOLLOWED: readonly FaultName[] = [
  "leadingEdge",
  "overdrive",
  "alcLost",
  "ice",
  "sway",
  "gust",
  "wrongAntenna",
  "offResonance",
  "mainsDip",
  "mainsLevel",
  "tubeAgeing",
];
const MOVING: readonly FaultName[] = ["sway", "gust"];
/** A comparator is not asked; a run that comes this near to its pickup is none of ours. */
const COMPARATOR_SHARE = 0.8;
/** Blocks between two pauses; while the circuit moves each has one sample. */
export const PAUSE_BLOCKS = 250;

/** What a monitor, or the tune-mode limit, did. */
export interface Operation {
  readonly kind: "operate" | "alarm" | "keyDownLimit";
  readonly monitor: string;
  readonly role: MonitorRole;
  readonly atS: number;
}

export type QuickOutcome =
  | { readonly ok: true; readonly operations: readonly Operation[] }
  /** Why a quick run is no answer here, in words. */
  | { readonly ok: false; readonly reason: string };

/** What of the protection's events is an operation or an alarm; null for the rest. */
export function operationOf({ kind, monitorId, role, atNs }: ProtectionEvent): Operation | null {
  if (kind !== "operate" && kind !== "alarm" && kind !== "keyDownLimit") return null;
  return { kind, monitor: monitorId, role, atS: atNs / 1e9 };
}

/** Whether an operation would have acted. */
export function isFalseTrip({ kind, role }: Operation): boolean {
  return kind !== "alarm" && role === "acting";
}

/** Sees every block of samples, in order: what tests and curves are made of. */
export type BlockSink = (firstIndex: number, n: number, rows: readonly Float64Array[]) => void;

export interface QuickOptions {
  /** Shared by the runs of a trial. */
  readonly maps?: MapStore;
  /** More monitors, in shadow and beside all others: what they do is noted under their ids. */
  readonly variants?: readonly MonitorDef[];
  readonly sink?: BlockSink;
  /** Ends the run at the block in which an acting monitor first operates. */
  readonly untilTrip?: boolean;
}

/** Runs a project without faults to its end. */
export function quickRun(project: Project, options: QuickOptions = {}): QuickOutcome {
  return drained(quickSteps(project, options));
}

/** The same with pauses. */
export function* quickSteps(project: Project, options: QuickOptions = {}): Steps<QuickOutcome> {
  const reason = whyNot(project);
  if (reason !== "") return { ok: false, reason };
  const resolved = resolveStation(project.station);
  if (!resolved.ok) return { ok: false, reason: resolved.problem };
  const run = new QuickRun(project, resolved.parts, options);
  for (;;) {
    yield;
    const outcome = run.stretch();
    if (outcome !== null) return outcome;
  }
}

function whyNot({ scenario, monitors, station }: Project): string {
  if (station.exciter.alc.kind !== "none")
    return "the exciter's level control acts sample by sample";
  for (const entry of scenario) {
    if (entry.do === "placeFault") {
      if (!FOLLOWED.includes(entry.fault)) return `${entry.fault} is more than ordinary use`;
    } else if (!ORDINARY.includes(entry.do)) return `${entry.do} is no ordinary use`;
  }
  const broken = monitors.find((m) => m.path === "comparator" && m.criteria[0] === undefined);
  return broken === undefined ? "" : `${broken.name} watches nothing`;
}

const ORDINARY: readonly Command["do"][] = [
  "set",
  "key",
  "signal",
  "operate",
  "standby",
  "mode",
  "removeFault",
];

class QuickRun {
  private logic: Logic;
  private queue: readonly Queued<QueuedStep>[] = [];
  private readonly script: readonly { readonly atNs: number; readonly command: Command }[];
  private scriptAt = 0;
  private readonly circuit: StageCircuit = emptyCircuit();
  private readonly live: LiveStation;
  private readonly drive: QuickDrive;
  private readonly sensing: QuickSensing;
  private readonly watch: QuickWatch;
  private readonly families: QuickFamilies;
  private readonly sink: BlockSink | null;
  private readonly untilTrip: boolean;
  private readonly stage: QuickStage;
  private readonly rows: readonly Float64Array[];
  private readonly operations: Operation[] = [];
  private readonly cooler: ReturnType<typeof anodeCooler>;
  private anodeK: number;
  private readonly comparatorA: number;
  private isChanged = true;
  /** Of the next sample. */
  private index = 0;
  /** The circuit moves by itself until then. */
  private movingUntilNs = 0;
  private refused = "";

  constructor(
    private readonly project: Project,
    private readonly parts: StationParts,
    { maps = new Map(), variants = [], sink, untilTrip = false }: QuickOptions,
  ) {
    const { station, sensors, sampleNs, seed } = project;
    // who looks at nothing needs no reading
    const monitors = project.monitors.filter((m) => m.role !== "off" || m.tuneRole !== "off");
    const read = [...monitors, ...variants];
    this.sink = sink ?? null;
    this.untilTrip = untilTrip;
    this.sensing = new QuickSensing(
      sensors,
      sampleNs,
      smoothingsOf(read),
      sink === undefined ? readEverySample(read, sampleNs) : SENSOR_NAMES,
    );
    const { rows, rowLength } = this.sensing;
    this.rows = Array.from({ length: BLOCK }, (_, k) =>
      rows.subarray(k * rowLength, (k + 1) * rowLength),
    );
    const expected = expectedForwardGain(parts);
    const system = compileProtection(monitors, {
      sampleNs,
      rowIndex: (sensor, smoothingS) => this.sensing.rowIndex(sensor, smoothingS),
      expectedForwardGainDb: expectedGainFrom(expected),
      gainKnownToW: expected.knownToW,
    });
    this.watch = new QuickWatch(system);
    this.families = new QuickFamilies(variants, system.context);
    this.comparatorA = Math.min(Infinity, ...system.comparators.map((c) => c.pickupA));
    this.logic = initialLogic(project, loadOfStation(parts));
    this.live = liveAtRest(parts);
    fixCircuit(project, this.circuit);
    this.lay(0);
    const filterV = this.restingV();
    const withstandV = new Float64Array(ARC_COUNT);
    withstandAt(station, seed, gapAir(station), this.logic, 0, withstandV);
    this.stage = new QuickStage(maps, filterV, sampleNs * 1e-9, withstandV, (watts) =>
      driveSourceA(parts, watts),
    );
    this.stage.start(filterV);
    this.drive = new QuickDrive(project);
    const { cooling, ratings, site } = station;
    const inletK = cooling.inletK ?? site.airK;
    this.cooler = anodeCooler({
      ratedW: ratings.plateDissipationW,
      ratedRiseK: cooling.ratedRiseK,
      heatJPerK: cooling.anodeHeatCapacityJPerK,
      airflowM3PerS: cooling.airflowM3PerS,
      inletK,
      relativeDensity: relativeAirDensity(standardPressurePa(site.altitudeM), inletK),
      stillShare: cooling.stillShare,
      anodeLimitK: cooling.anodeLimitK,
      sealTimeConstantS: cooling.sealTimeConstantS,
      sealLimitK: cooling.sealLimitK,
    });
    this.anodeK = inletK;
    this.sensing.init(seed, { plateV: filterV, exhaustAirK: inletK });
    this.script = project.scenario
      .map(({ atS, ...command }) => ({ atNs: nanoseconds(atS), command: command as Command }))
      .sort((a, b) => a.atNs - b.atNs);
  }

  /** Goes on for so many blocks; null until it has ended. */
  stretch(): QuickOutcome | null {
    const { sampleNs } = this.project;
    const endIndex = Math.floor(Math.round(this.project.endS * 1e9) / sampleNs);
    let situationIn = this.logic;
    let situation = situationOf(situationIn, true);
    let { index } = this;
    for (let blocks = 0; index < endIndex; blocks++) {
      if (blocks === PAUSE_BLOCKS) {
        this.index = index;
        return null;
      }
      const startNs = index * sampleNs;
      this.eventsUntil(startNs + sampleNs);
      const isMoving = this.movingUntilNs > startNs;
      const n = this.blockLength(index, endIndex, isMoving);
      const done = isMoving ? this.moveThrough(startNs) : this.standThrough(startNs, n);
      if (!done) return { ok: false, reason: this.refused };
      this.sense(n);
      if (this.logic !== situationIn) {
        situationIn = this.logic;
        situation = situationOf(situationIn, true);
      }
      this.watch.step(this.rows, n, index, situation, this.note);
      this.families.step(this.rows, n, index, situation, this.noteVariant);
      this.sink?.(index, n, this.rows);
      index += n;
      if (this.untilTrip && this.operations.some(isFalseTrip)) break;
    }
    return { ok: true, operations: this.operations };
  }

  /** To the next event, the next whole block or the end; one sample while the circuit moves. */
  private blockLength(index: number, endIndex: number, isMoving: boolean): number {
    if (isMoving) return 1;
    const { sampleNs } = this.project;
    const nextNs = Math.min(
      this.script[this.scriptAt]?.atNs ?? Infinity,
      this.queue[0]?.atNs ?? Infinity,
    );
    const whole = Math.floor(nextNs / sampleNs) - index;
    return Math.max(1, Math.min(BLOCK - (index % BLOCK), endIndex - index, whole));
  }

  private standThrough(startNs: number, n: number): boolean {
    const { sampleNs } = this.project;
    if (this.isChanged) {
      this.lay(startNs + sampleNs);
      this.stage.stand(this.circuit);
      this.isChanged = false;
    }
    this.drive.fill(this.logic, startNs, n);
    if (!this.stage.still(this.circuit, this.drive.watts, n)) return this.refuse("the map");
    return this.isBelowComparator();
  }

  private moveThrough(startNs: number): boolean {
    const endNs = startNs + this.project.sampleNs;
    this.lay(endNs);
    this.isChanged = true;
    this.drive.fill(this.logic, startNs, 1);
    if (!this.stage.moving(this.circuit, this.drive.watts[0] as number))
      return this.refuse("the settled solver");
    return this.isBelowComparator();
  }

  private refuse(what: string): boolean {
    this.refused = `the station leaves what ${what} can follow`;
    return false;
  }

  private isBelowComparator(): boolean {
    if (this.stage.highestPlateA < COMPARATOR_SHARE * this.comparatorA) return true;
    this.refused = "the plate current comes near the comparator's pickup";
    return false;
  }

  /** Exhaust air from the block's mean dissipation, then every sensor that is read. */
  private sense(n: number): void {
    const { stage, sensing, cooler, project } = this;
    let sumW = 0;
    for (let k = 0; k < n; k++) sumW += Math.max(stage.dissipationW[k] as number, 0);
    const g = coolingWPerK(cooler, 1);
    const exhaustK = exhaustAirK(cooler, this.anodeK, g, 1);
    this.anodeK = advanceAnodeK(cooler, this.anodeK, sumW / n, g, n * project.sampleNs * 1e-9);
    for (let k = 0; k < n; k++) stage.means[EXHAUST * BLOCK + k] = exhaustK;
    sensing.advance(stage.means, n, stage.isResting);
  }

  private lay(ns: number): void {
    applyLogic(this.project, this.parts, this.logic, ns, this.live);
    applyStation(this.parts, this.live, this.circuit);
  }

  /** Filter voltage at no load. */
  private restingV(): number {
    const c = this.circuit;
    if (c.stiffSupply) return c.noLoadV;
    return (c.noLoadV * c.sourceSiemens) / (c.sourceSiemens + c.bleederSiemens);
  }

  // ------------------------------------------------------------------ switches

  /** Everything due before `ns`, each at its own instant. */
  private eventsUntil(ns: number): void {
    for (;;) {
      const scriptNs = this.script[this.scriptAt]?.atNs ?? Infinity;
      const queueNs = this.queue[0]?.atNs ?? Infinity;
      if (Math.min(scriptNs, queueNs) >= ns) return;
      if (queueNs <= scriptNs) {
        const { item, atNs } = this.queue[0] as Queued<QueuedStep>;
        this.queue = this.queue.slice(1);
        if (item.kind === "command") this.command(item.command, atNs);
        else this.take(takeTimedStep(this.project, this.logic, item, atNs), atNs);
      } else {
        const { command } = this.script[this.scriptAt++] as (typeof this.script)[number];
        this.command(command, scriptNs);
      }
    }
  }

  private command(command: Command, ns: number): void {
    const change = runCommand(this.project, this.logic, command, ns);
    for (const e of change.expands) {
      this.queue = enqueue(this.queue, e.atNs, { kind: "command", command: e.command });
    }
    if (command.do === "set" && command.control !== "driveW")
      this.movingUntilNs = Math.max(this.movingUntilNs, ns + RAMP_NS);
    this.take(change, ns);
  }

  private take({ logic, later }: Change, ns: number): void {
    this.logic = logic;
    for (const l of later) this.queue = enqueue(this.queue, l.atNs, l.step);
    this.isChanged = true;
    for (const f of logic.faults) {
      if (MOVING.includes(f.fault)) this.movingUntilNs = Infinity;
      else if (f.onset.kind === "growing")
        this.movingUntilNs = Math.max(this.movingUntilNs, f.placedNs + f.onset.overS * 1e9);
    }
    const isStill = logic.faults.every((f) => !MOVING.includes(f.fault));
    if (isStill && this.movingUntilNs === Infinity) this.movingUntilNs = ns + RAMP_NS;
  }

  private readonly noteVariant = (monitor: string, atNs: number): void => {
    this.operations.push({ kind: "operate", monitor, role: "shadow", atS: atNs / 1e9 });
  };

  private readonly note = (event: ProtectionEvent): void => {
    const operation = operationOf(event);
    if (operation !== null) this.operations.push(operation);
  };
}

const EXHAUST = SENSOR_NAMES.indexOf("exhaustAirK");
