/**
 * The engine behind a page: one live bench that stays at most one sample ahead of the play head, its record,
 * its snapshots and branches, and what runs ahead of it. Knows no worker, no clock and no page.
 *
 * Live and looking back are one thing: a frame is the record at the play head. What the record no longer
 * holds is made again on a second bench from the nearest snapshot, bit for bit. How much is done in one call
 * is the caller's choice and changes nothing but how soon it is there.
 */
import type { Command, ScenarioEntry } from "../../project/scenario";
import type { Project } from "../../project/types";
import { type Bench, createBench, type ScriptEntry } from "../../simulation/bench";
import type { BenchEvent } from "../../simulation/benchEvent";
import { CHANNEL_COUNT } from "../../simulation/channels";
import { Ahead } from "./ahead";
import { Branches, partingNs } from "./branches";
import { objectionTo } from "./commandCheck";
import { fillWorld } from "./fillFrame";
import type { FaultChoice } from "./forecast";
import { FRAME } from "./frameLayout";
import { Past, shownAt } from "./past";
import type {
  BranchView,
  ForecastReport,
  KeepOfPlan,
  RaceReport,
  StripColumns,
  StripRequest,
} from "./protocol";
import { readRecord, readTracks } from "./recordReader";
import { Runner, recordedRow } from "./runner";
import { type Kept, SNAPSHOT_EVERY_NS, Snapshots } from "./snapshots";
import { stripColumns } from "./strip";
import { sameMonitors, viewWorld, type WorldParts, type WorldView } from "./worldView";

/** What was seen so long ago may still be acted on: the frames in flight when the hand moved. */
const STILL_PRESENT_NS = 0.5e9;
/** Frames between two looks at a race that has only grown. */
const RACE_EVERY_FRAMES = 6;
const FRAMES_KEPT = 3;

export interface EventBatch {
  readonly from: number;
  readonly events: readonly BenchEvent[];
}

export type ActResult =
  | { readonly ok: true; readonly atNs: number }
  | { readonly ok: false; readonly atNs: number; readonly reason: string };

export type EngineCreated =
  | { readonly ok: true; readonly engine: LiveEngine }
  | { readonly ok: false; readonly problem: string };

/** An engine at t = 0 of a project; a station that cannot be designed is a problem. */
export function createLiveEngine(project: Project): EngineCreated {
  const created = createBench(project, { recorder: "full" });
  return created.ok ? { ok: true, engine: new LiveEngine(created.bench) } : created;
}

export class LiveEngine {
  private readonly live: Runner;
  private readonly past = new Past();
  private readonly snapshots = new Snapshots();
  private readonly branches = new Branches();
  private readonly ahead = new Ahead();
  /** Entries the opened project brought along. */
  private planned: ReadonlySet<ScriptEntry>;
  private frameStarts: readonly Kept[] = [];
  private headNs = 0;
  private replayToNs = 0;
  private sequence = 0;
  /** Events handed over, and how many of them still stand. */
  private told = 0;
  private standing = 0;
  private lastParts: WorldParts | null = null;
  private lastView: WorldView | null = null;
  private viewedParts: WorldParts | null = null;
  private actingPoints = 0;
  private framesSinceRace = 0;

  constructor(bench: Bench) {
    this.live = new Runner(bench);
    this.planned = new Set(bench.entries);
    this.snapshots.add(this.live.keep(true));
  }

  get bench(): Bench {
    return this.live.bench;
  }

  get project(): Project {
    return this.bench.project;
  }

  /** End of what a person has seen live. */
  get liveNs(): number {
    return this.headNs;
  }

  get snapshotCount(): number {
    return this.snapshots.count;
  }

  // ------------------------------------------------------------------ frames

  /**
   * One frame at `playNs` into `frame`, making at most `maxSamples` samples. `live` makes the record up to
   * the play head, as far as it gets; `back` only reads.
   */
  ask(playNs: number, mode: "live" | "back", maxSamples: number, frame: Float64Array): void {
    let budget = maxSamples;
    let behind = false;
    if (this.isReplaying) budget -= this.replay(budget);
    else if (mode === "live") {
      const wanted = Math.max(Math.round(playNs), this.headNs);
      if (wanted > this.live.timeNs) this.noteFrame();
      budget -= this.makeUpTo(wanted, budget);
      behind = this.live.timeNs < wanted;
      this.headNs = Math.min(wanted, this.live.timeNs);
    }
    const isLive = mode === "live" || this.isReplaying;
    const shownNs = isLive ? this.headNs : Math.min(Math.max(Math.round(playNs), 0), this.headNs);
    const exact =
      isLive ||
      shownNs >= this.bench.openFromNs ||
      this.past.moveTo(shownNs, this.bench, this.snapshots, budget);
    this.fill(frame, shownNs, exact);
    frame[FRAME.sequence] = ++this.sequence;
    frame[FRAME.live] = isLive ? 1 : 0;
    frame[FRAME.behind] = behind ? 1 : 0;
    this.ahead.follow(this.bench);
    this.lookAtRace();
  }

  /** Where the frame before began: a command for what it showed need not go back further. */
  private noteFrame(): void {
    this.frameStarts = [this.live.keepOpen(), ...this.frameStarts.slice(0, FRAMES_KEPT - 1)];
  }

  /** The run is made up to `ns`, by the frames that come, before it counts as live. */
  playTo(ns: number): void {
    this.replayToNs = ns;
  }

  get isReplaying(): boolean {
    return this.headNs < this.replayToNs;
  }

  private replay(budget: number): number {
    const isDoneThere = this.bench.entries.some((e) => e.atNs === this.replayToNs);
    const made = this.makeUpTo(this.replayToNs + (isDoneThere ? 1 : 0), budget);
    this.headNs = Math.min(this.replayToNs, this.live.timeNs);
    return made;
  }

  /** Samples up to the one that holds `ns`, at most `most`; answers how many were made. */
  private makeUpTo(ns: number, most: number): number {
    const { live } = this;
    const { bench } = live;
    let made = 0;
    while (live.timeNs < ns && made < most) {
      const before = bench.events.length;
      live.step();
      made++;
      if (bench.events.length !== before) this.snapshots.add(live.keepOpen());
      // first sample's end at or after each mark: samples need not divide the distance
      if (live.timeNs % SNAPSHOT_EVERY_NS < bench.sampleNs) this.snapshots.add(live.keep(false));
    }
    return made;
  }

  private fill(frame: Float64Array, ns: number, exact: boolean): void {
    const { bench } = this;
    const { recorder, sampleNs } = bench;
    const runner = ns >= bench.openFromNs ? this.live : (this.past.runner ?? this.live);
    const shown = shownAt(runner, ns);
    const row = frame.subarray(FRAME.row, FRAME.row + CHANNEL_COUNT);
    let pointNs = readRecord(recorder, sampleNs, ns, row);
    if (pointNs < 0) {
      row.set(recordedRow(shown.buffer, CHANNEL_COUNT));
      pointNs = readTracks(recorder.tracks, ns, Math.floor(ns / sampleNs) * sampleNs, row);
    }
    fillWorld(frame, bench, shown, ns);
    const nextNs = bench.nextFaultNs(ns);
    frame[FRAME.playNs] = ns;
    frame[FRAME.reachedNs] = bench.timeNs;
    frame[FRAME.headNs] = this.headNs;
    frame[FRAME.pointNs] = pointNs;
    frame[FRAME.exact] = exact ? 1 : 0;
    frame[FRAME.replaying] = this.isReplaying ? 1 : 0;
    frame[FRAME.nextFaultNs] = nextNs === Infinity ? -1 : nextNs;
    frame[FRAME.branch] = this.branches.current;
    if (exact) this.lastParts = shown;
  }

  /** The world to show with the frame just filled, null when it is the one shown before. */
  takeWorld(): WorldView | null {
    const parts = this.lastParts;
    const seen = this.viewedParts;
    if (parts === null) return null;
    const isSame =
      seen !== null &&
      seen.logic === parts.logic &&
      seen.system === parts.system &&
      seen.protection === parts.protection;
    if (isSame) return null;
    const { logic, system, protection } = parts;
    this.viewedParts = { logic, system, protection };
    const view = viewWorld(parts);
    // a running count changes the protection's state, but nothing that is shown
    const hasSameRest = seen !== null && seen.logic === logic && seen.system === system;
    if (hasSameRest && this.lastView !== null && sameMonitors(this.lastView, view)) return null;
    this.lastView = view;
    return view;
  }

  strip(request: StripRequest, playNs: number): StripColumns {
    const { recorder, sampleNs } = this.bench;
    return stripColumns(recorder, sampleNs, request, Math.min(playNs, this.headNs));
  }

  /** Events since the last time, none before its instant has come; null for none. */
  takeEvents(): EventBatch | null {
    const { events } = this.bench;
    let end = events.length;
    while (end > this.standing && (events[end - 1] as BenchEvent).atNs > this.headNs) end--;
    if (end === this.standing && this.told === this.standing) return null;
    const from = this.standing;
    this.told = end;
    this.standing = end;
    this.ahead.touchRace();
    return { from, events: events.slice(from, end) };
  }

  // ------------------------------------------------------------------ doing things

  /**
   * Puts a command at the instant the person saw. Inside the open sample that sample is made again; in the
   * frames just before, the run goes back to its nearest snapshot and comes again, bit for bit. A later instant
   * is planned.
   */
  act(atNs: number, command: Command): ActResult {
    const { live, bench } = this;
    const ns = Math.max(Math.round(atNs), 0);
    const objection = objectionTo(command);
    if (objection !== "") return { ok: false, atNs: ns, reason: objection };
    if (this.headNs - ns > STILL_PRESENT_NS)
      return { ok: false, atNs: ns, reason: "this instant is past: go on from it as a new run" };
    const reachedNs = bench.timeNs;
    if (ns < bench.openFromNs) {
      const start = this.frameStarts.find((k) => k.snapshot.timeNs <= ns);
      this.goBack(start ?? this.snapshots.nearest(ns));
    }
    const isMadeAgain = ns < bench.timeNs;
    if (isMadeAgain) {
      this.standing = Math.min(this.standing, bench.openSnapshot().eventCount);
      this.snapshots.dropAfter(bench.openFromNs);
    }
    bench.schedule(ns, command);
    if (isMadeAgain) {
      live.reread();
      this.snapshots.add(live.keepOpen());
    }
    this.makeUpTo(reachedNs, Infinity);
    // on the very edge of a sample: the next one is opened, so that the command is in the record now
    if (ns === this.headNs && !this.isReplaying) this.makeUpTo(ns + 1, Infinity);
    this.past.forget();
    this.ahead.changed(command);
    this.ahead.follow(bench);
    return { ok: true, atNs: ns };
  }

  private goBack(kept: Kept): void {
    this.live.restore(kept);
    this.snapshots.dropAfter(kept.snapshot.timeNs);
    this.standing = Math.min(this.standing, kept.snapshot.eventCount);
    this.frameStarts = this.frameStarts.filter((k) => k.snapshot.timeNs <= kept.snapshot.timeNs);
    this.past.forget();
  }

  /**
   * Leaves the run at `atNs` as a new one. `keep` says what of the plan beyond stays: nothing, or what the
   * opened project had in store (the same fault at the same instant, with another setting).
   */
  branch(atNs: number, keep: KeepOfPlan = "nothing", name = ""): void {
    const { bench } = this;
    const ns = Math.min(Math.max(Math.round(atNs), 0), this.headNs);
    this.branches.leave(bench.entries, this.headNs);
    this.goBack(this.snapshots.nearest(ns));
    // what is shown at an instant has what was done at it; only a new start keeps nothing
    const isPast = (e: ScriptEntry): boolean => (ns > 0 ? e.atNs <= ns : e.atNs < 0);
    this.goOn(
      bench.entries.filter((e) => isPast(e) || (keep === "planned" && this.planned.has(e))),
      ns,
    );
    this.branches.fork(ns, name);
  }

  /** Takes an earlier run up again where it was left; false for a run that does not exist. */
  switchTo(id: number): boolean {
    const { bench } = this;
    const target = this.branches.find(id);
    if (target === null || id === this.branches.current) return target !== null;
    const parting = partingNs(bench.entries, target.entries);
    this.branches.leave(bench.entries, this.headNs);
    this.goBack(this.snapshots.nearest(Math.min(parting, target.headNs, this.headNs)));
    this.goOn(target.entries, target.headNs);
    this.branches.current = id;
    return true;
  }

  private goOn(entries: readonly ScriptEntry[], untilNs: number): void {
    this.bench.follow(entries);
    this.headNs = Math.min(this.bench.timeNs, untilNs);
    this.replayToNs = untilNs;
    this.ahead.startAgain();
    this.ahead.follow(this.bench);
  }

  branchViews(): { readonly current: number; readonly branches: readonly BranchView[] } {
    const headNs = Math.max(this.headNs, this.replayToNs);
    return { current: this.branches.current, branches: this.branches.view(headNs) };
  }

  /** The session as a project: its scenario is everything that was done, at its exact instants. */
  exportProject(): Project {
    const scenario = this.bench.entries.map(
      ({ atNs, command }): ScenarioEntry => ({ atS: atNs / 1e9, ...command }),
    );
    const endS = Math.max(this.project.endS, this.bench.timeNs / 1e9);
    return { ...this.project, endS, scenario };
  }

  // ------------------------------------------------------------------ ahead of the play head

  choose(choice: FaultChoice | null): void {
    this.ahead.choose(choice);
  }

  /** One slice of what runs ahead; false when there is nothing left to do. */
  work(samples: number): boolean {
    return this.ahead.work(this.bench, samples);
  }

  takeRace(): RaceReport | null {
    const report = this.ahead.takeRace(this.bench);
    if (report !== null) this.framesSinceRace = 0;
    return report;
  }

  takeForecast(): ForecastReport | null | undefined {
    return this.ahead.takeForecast();
  }

  /** The protected run's own track grows while it is watched; that is worth a report now and then. */
  private lookAtRace(): void {
    if (++this.framesSinceRace < RACE_EVERY_FRAMES) return;
    const zeroNs = this.bench.logic.zero?.atNs;
    if (zeroNs === undefined) return;
    const { tracks } = this.bench.recorder;
    const count = tracks.find((t) => t.kind === "fault" && t.atNs === zeroNs)?.count ?? 0;
    if (count === this.actingPoints) return;
    this.actingPoints = count;
    this.ahead.touchRace();
  }
}
