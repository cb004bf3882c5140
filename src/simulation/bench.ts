/**
 * The running bench: one world, its scenario, and time. Page, command line and tests use exactly this.
 *
 * Time is an integer count of nanoseconds and advances in whole samples, so the size of the caller's steps
 * cannot matter. Inside a sample: events at their instants, physics between them, then sensing, monitors,
 * actuators, record. Commands may come for an instant inside the sample just made: that sample is undone
 * and made again with the command in it. No pacing, no clock.
 */
import { resolveStation, type StationParts } from "../physics/stage/stationCircuit";
import type { Command } from "../project/scenario";
import type { Project } from "../project/types";
import type { ProtectionState, ProtectionSystem } from "../protection/protectionState";
import { nanoseconds } from "../units/nanoseconds";
import type { Damage } from "./damage";
import type { Queued } from "./eventQueue";
import type { FaultZero, Logic } from "./logic";
import type { RecorderMark } from "./recorder";
import type { QueuedStep } from "./tripLink";
import { World } from "./world";

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

export interface FaultStart {
  readonly zero: FaultZero;
  readonly snapshot: Snapshot;
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

export class Bench extends World {
  /** The faults so far, each with the world at the start of the sample of its time zero. */
  zeros: readonly FaultStart[] = [];

  private script: readonly ScriptEntry[];
  private scriptAt = 0;
  /** Start of the open sample; its arrays are used again for every sample, so it never leaves the bench. */
  private readonly open: { -readonly [K in keyof Snapshot]: Snapshot[K] };

  constructor(
    project: Project,
    parts: StationParts,
    options: BenchOptions,
    shared: Bench | null = null,
    damage: Damage | null = null,
  ) {
    super(project, parts, {
      inhibited: options.protection === "inhibited",
      recorder: options.recorder ?? "tracks",
      from: shared,
      damage,
    });
    this.script = project.scenario.map(({ atS, ...command }) => ({
      atNs: nanoseconds(atS),
      command: command as Command,
    }));
    this.script = [...this.script].sort((a, b) => a.atNs - b.atNs);
    this.open = this.snapshot();
  }

  // ------------------------------------------------------------------ time

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
    this.restore({ ...s, eventCount: 0, mark: this.recorder.adopt(s.mark) });
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
    this.moments.clear();
    this.zeros = this.zeros.filter((z) => z.zero.atNs < s.timeNs);
    this.found = null;
    if (s !== this.open) this.keepOpen();
  }

  /**
   * The same run from a fault on with protection inhibited and nobody opening the key: what opens it, standby
   * and mode are left out from the fault's instant on, a text becomes a key held down, and what an earlier trip
   * had commanded but not done is void. Events before the fork are not copied.
   */
  fork({ zero, snapshot: from }: FaultStart): Bench {
    const twin = new Bench(
      this.project,
      this.parts,
      { protection: "inhibited", recorder: "tracks" },
      this,
    );
    const kept = (atNs: number, command: Command): readonly ScriptEntry[] => {
      const left = atNs < zero.atNs ? command : withNobodyAtTheKey(command);
      return left === null ? [] : [{ atNs, command: left }];
    };
    twin.script = this.script.flatMap((e) => kept(e.atNs, e.command));
    const queue = from.queue.flatMap(({ atNs, item }): readonly Queued<QueuedStep>[] => {
      if (item.kind === "actuate") return [];
      if (item.kind !== "command") return [{ atNs, item }];
      return kept(atNs, item.command).map((e) => ({
        atNs,
        item: { kind: "command", command: e.command },
      }));
    });
    const logic = { ...from.logic, tripHeld: false, relayWaitSinceNs: null };
    twin.restore({ ...from, queue, logic, eventCount: 0, mark: twin.recorder.mark() });
    twin.scriptAt = from.scriptAt;
    twin.lookAtNs = zero.atNs + Math.round(this.project.operatorS * 1e9);
    return twin;
  }

  /** Instant of the next thing in the scenario that starts another fault; Infinity for none. */
  nextFaultNs(afterNs: number): number {
    for (const e of this.script) {
      if (e.atNs > afterNs && e.command.do === "placeFault") return e.atNs;
    }
    return Infinity;
  }

  // ------------------------------------------------------------------ one sample

  private sample(): void {
    this.keepOpen();
    const startNs = this.timeNs;
    const endNs = startNs + this.sampleNs;
    this.sums.clear();
    this.moments.clear();
    const firstEvent = this.events.length;
    this.recorder.openSample();
    let t = startNs;
    for (;;) {
      this.runEventsAt(t);
      if (t >= endNs) break;
      this.noteMoment(t);
      const until = Math.min(endNs, this.nextEventNs());
      t = this.physics(t, until, endNs);
      this.noteMoment(t);
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
        this.queue = this.queue.slice(1);
        this.step(queued.item, ns);
      } else if (scripted) {
        this.scriptAt++;
        this.command(entry.command, ns);
      }
    }
  }

  private insertScript(atNs: number, command: Command): void {
    let i = this.script.length;
    while (i > this.scriptAt && (this.script[i - 1] as ScriptEntry).atNs > atNs) i--;
    this.script = [...this.script.slice(0, i), { atNs, command }, ...this.script.slice(i)];
  }

  protected override noteMoment(atNs: number): void {
    this.moments.note(atNs, this.open, this);
  }

  protected override faultBegan(zero: FaultZero): void {
    if (this.inhibited) return;
    // a twin has tracks of its own: those before the fault need not be kept alive for it
    const mark = { samples: this.recorder.sampleCount, bursts: [] };
    this.zeros = [...this.zeros, { zero, snapshot: { ...this.openSnapshot(), mark } }];
  }
}

/** What is left of a command when nobody opens the key any more; null for nothing. */
function withNobodyAtTheKey(command: Command): Command | null {
  switch (command.do) {
    case "key":
      return "text" in command || command.down ? { do: "key", down: true } : null;
    case "standby":
    case "mode":
      return null;
    case "power":
      return command.on ? command : null;
    case "interlock":
      return command.closed ? command : null;
    default:
      return command;
  }
}
