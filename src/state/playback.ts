/**
 * The play head and everything that follows it: wall clock to simulated time, pace and lens, run and pause,
 * steps, jumps, looking back, runs that branch, and what is done to the bench. A factory, one a bench or
 * test; it holds what is shown, never the engine.
 *
 * Whoever owns the animation frame calls `tick` with its time. What moves at frame rate is read from `frame`
 * and drawn from `onFrame`; the store changes once a frame, by its sequence number.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Command, ControlName, Project } from "../project/types";
import type { FaultChoice } from "../shells/bench/forecast";
import { CONTROL_NAMES, FRAME, FRAME_LENGTH } from "../shells/bench/frameLayout";
import type { BenchPort, FromEngine, KeepOfPlan, StripRequest } from "../shells/bench/protocol";
import { CHANNEL_COUNT } from "../simulation/channels";
import { Knobs } from "./knobs";
import { landmarksOf, lensEvents } from "./landmarks";
import { advanceLens, lensRate } from "./lens";
import { PACES } from "./pace";
import { EMPTY, offsetText, type PlaybackState } from "./playbackState";
import { raceList, scanOf, withEvents } from "./playbackUpdates";

/** A gap between two ticks longer than this is a stall, not time that was watched. */
const LONGEST_TICK_MS = 100;
const STRIP_EVERY_MS = 50;
/** Behind means: under this share of what was asked, averaged over about half a second. */
const BEHIND_SHARE = 0.95;
const BEHIND_LAG_MS = 500;

export interface StripWish {
  readonly spanNs: number;
  readonly columns: number;
  readonly channels: readonly number[];
}

export interface Exported {
  readonly project: Project;
  readonly hash: string;
}

export type Playback = ReturnType<typeof createPlayback>;

/** A playback at the end of `port`, empty until a project is opened. */
export function createPlayback(port: BenchPort) {
  const store: StoreApi<PlaybackState> = createStore<PlaybackState>()(() => EMPTY);
  const set = store.setState;
  const get = store.getState;

  const frame = new Float64Array(FRAME_LENGTH);
  /** Recorded row at the play head, in the order of CHANNEL_NAMES; always the same array. */
  const readings = frame.subarray(FRAME.row, FRAME.row + CHANNEL_COUNT);
  const frameListeners = new Set<() => void>();

  let spare: Float64Array | null = new Float64Array(FRAME_LENGTH);
  /** Where the play head is wanted, with the part of a nanosecond that slow paces need. */
  let wantNs = 0;
  let askedNs = 0;
  let turn = 0;
  let askedTurn = 0;
  let isDirty = true;
  let lastTickMs: number | null = null;
  let askedAdvanceNs = 0;
  let askedPassedMs = 0;
  let rate = 1;
  let shareReached = 1;
  let isHidden = false;
  let beforeScrub: boolean | null = null;
  let stripWish: StripWish | null = null;
  let lastStripMs = -Infinity;
  let nextId = 1;
  let lastCommand: { readonly id: number; readonly command: Command } | null = null;
  const exports = new Map<number, (exported: Exported) => void>();

  const knobs = new Knobs((control, value) => act({ do: "set", control, value }));

  // ---------------------------------------------------------------- from the engine

  port.listen((message: FromEngine) => {
    switch (message.kind) {
      case "opened":
        if (!message.ok) {
          set({ words: message.problem, standing: get().project === null ? "empty" : "ready" });
          return;
        }
        begin(message.project);
        return;
      case "frame":
        show(message);
        return;
      case "events":
        set((s) => {
          const events = withEvents(s.events, message.from, message.events);
          const landmarks = landmarksOf(events);
          return { events, landmarks, races: raceList(s.races, null, events) };
        });
        isDirty = true;
        return;
      case "race":
        set((s) => ({ races: raceList(s.races, message.report, s.events) }));
        return;
      case "forecast":
        set({ forecast: message.report });
        return;
      case "acted":
        if (!message.ok) {
          const command = lastCommand?.id === message.id ? lastCommand.command : null;
          set({ refusal: { text: message.reason, command } });
        }
        isDirty = true;
        return;
      case "branches":
        set({ branches: message.branches, branch: message.current });
        isDirty = true;
        return;
      case "exported":
        exports.get(message.id)?.({ project: message.project, hash: message.hash });
        exports.delete(message.id);
        return;
      case "failed":
        set({ standing: "failed", words: message.words, running: false });
        return;
    }
  });

  function begin(project: Project): void {
    const { pace, lensOn } = get();
    set({
      ...EMPTY,
      standing: "ready",
      project,
      pace,
      lensOn,
      sampleNs: project.sampleNs,
      scanNs: scanOf(project),
      settings: project.monitors,
    });
    aim(0);
    lastTickMs = null;
    beforeScrub = null;
  }

  function show(message: Extract<FromEngine, { kind: "frame" }>): void {
    frame.set(message.buffer);
    spare = message.buffer;
    const playNs = frame[FRAME.playNs] as number;
    const isReplaying = frame[FRAME.replaying] === 1;
    const before = get();
    const isCurrent = askedTurn === turn;
    if (isCurrent && (isReplaying || before.replaying || Math.round(wantNs) !== playNs))
      wantNs = playNs;
    isDirty = !isCurrent || isReplaying || frame[FRAME.exact] !== 1;
    noteReached(playNs - before.playNs);
    const world = message.world ?? before.world;
    set({
      sequence: before.sequence + 1,
      playNs,
      headNs: frame[FRAME.headNs] as number,
      replaying: isReplaying,
      exact: frame[FRAME.exact] === 1,
      world,
      settings: world?.settings ?? before.settings,
      rate,
      reachedRate: shareReached < BEHIND_SHARE ? rate * shareReached : null,
      ...(message.strip === null ? {} : { strip: message.strip }),
    });
    for (const listener of frameListeners) listener();
  }

  function noteReached(movedNs: number): void {
    if (!(askedAdvanceNs > 0)) return;
    const share = Math.min(Math.max(movedNs / askedAdvanceNs, 0), 1);
    const weight = Math.min(askedPassedMs / BEHIND_LAG_MS, 1);
    shareReached += (share - shareReached) * weight;
  }

  // ---------------------------------------------------------------- the clock

  /** Puts the wanted play head somewhere else than time would bring it. */
  function aim(ns: number): void {
    wantNs = ns;
    turn++;
    isDirty = true;
    askedAdvanceNs = 0;
  }

  /** Called once an animation frame, with its time. Answers whether a frame was asked for. */
  function tick(wallMs: number): boolean {
    const passedMs = lastTickMs === null ? 0 : wallMs - lastTickMs;
    knobs.tick(wallMs);
    if (get().standing !== "ready" || isHidden) {
      lastTickMs = wallMs;
      return false;
    }
    // one frame in flight: the time until it is back counts with the next one
    if (spare === null) return false;
    lastTickMs = wallMs;
    let advanceNs = 0;
    const state = get();
    if (state.running && !state.replaying)
      advanceNs = run(state, Math.min(passedMs, LONGEST_TICK_MS));
    const isStripDue = stripWish !== null && wallMs - lastStripMs >= STRIP_EVERY_MS;
    if (!state.running && !isDirty) return false;
    askedAdvanceNs = advanceNs;
    askedPassedMs = passedMs;
    ask(wallMs, isStripDue || isDirty);
    return true;
  }

  /** Moves the wanted play head on; answers by how much. */
  function run(state: PlaybackState, wallMs: number): number {
    const pace = PACES[state.pace] as number;
    const planned = frame[FRAME.nextFaultNs] as number;
    const near = state.lensOn
      ? lensEvents(state.events, wantNs, planned > 0 ? planned : null)
      : { lastNs: null, nextNs: null };
    const toNs = advanceLens(wantNs, wallMs, pace, near);
    const movedNs = toNs - wantNs;
    wantNs = toNs;
    rate = lensRate(wantNs, pace, near);
    if (state.mode === "back" && wantNs >= state.headNs) set({ mode: "live" });
    return movedNs;
  }

  function ask(wallMs: number, withStrip: boolean): void {
    const buffer = spare;
    if (buffer === null) return;
    spare = null;
    askedTurn = turn;
    askedNs = Math.round(wantNs);
    const { mode } = get();
    const strip = withStrip ? stripRequest(askedNs) : null;
    if (strip !== null) lastStripMs = wallMs;
    port.post({ kind: "ask", playNs: askedNs, mode, buffer, strip });
  }

  function stripRequest(playNs: number): StripRequest | null {
    if (stripWish === null) return null;
    const { spanNs, columns, channels } = stripWish;
    return { fromNs: playNs - spanNs, toNs: playNs, columns, channels };
  }

  // ---------------------------------------------------------------- what a person does with time

  function pause(): void {
    set({ running: false });
  }

  function runOn(): void {
    if (get().standing !== "ready") return;
    beforeScrub = null;
    set({ running: true, refusal: null });
  }

  /** To `ns` inside the record; at its end this is live. */
  function seek(ns: number): void {
    const { headNs, running, mode } = get();
    const to = Math.min(Math.max(Math.round(ns), 0), headNs);
    if (to < headNs && mode === "live") beforeScrub = running;
    set({ mode: to < headNs ? "back" : "live", running: false, refusal: null });
    aim(to);
  }

  /** Back to the end of the record; it runs on if it ran when it was left. */
  function goLive(): void {
    const resume = beforeScrub ?? get().running;
    beforeScrub = null;
    set({ mode: "live", running: resume, refusal: null });
    aim(get().headNs);
  }

  /** One sample or one scan, whatever the pace. Forward at the end of the record makes a new one. */
  function step(by: "sample" | "scan", direction: 1 | -1 = 1): void {
    const { sampleNs, scanNs, headNs, standing } = get();
    if (standing !== "ready") return;
    const unit = by === "sample" ? sampleNs : scanNs;
    const from = Math.round(wantNs);
    const to =
      direction > 0
        ? (Math.floor(from / unit) + 1) * unit
        : Math.max((Math.ceil(from / unit) - 1) * unit, 0);
    set({ running: false, mode: to < headNs ? "back" : "live", refusal: null });
    aim(to);
  }

  /** To the next or previous landmark; false where there is none in the record. */
  function jump(direction: "previous" | "next"): boolean {
    const { landmarks } = get();
    const from = Math.round(wantNs);
    const target =
      direction === "next"
        ? landmarks.find((ns) => ns > from)
        : landmarks.findLast((ns) => ns < from);
    if (target === undefined) return false;
    seek(target);
    return true;
  }

  function changePace(direction: "slower" | "faster"): void {
    const pace = get().pace + (direction === "slower" ? 1 : -1);
    if (pace < 0 || pace >= PACES.length) return;
    shareReached = 1;
    rate = PACES[pace] as number;
    set({ pace, rate, reachedRate: null });
  }

  // ---------------------------------------------------------------- what a person does to the bench

  /** Does something at the instant shown. Looking back it is refused, with the way out: a new run from here. */
  function act(command: Command): void {
    const state = get();
    if (state.standing !== "ready") return;
    if (state.replaying) {
      set({ refusal: { text: "The run is still being made again up to here.", command: null } });
      return;
    }
    if (state.mode === "back") {
      const text = `You are looking at the past, ${offsetText(state)}: start a new run from here, or go back to live.`;
      set({ refusal: { text, command } });
      return;
    }
    post(state.playNs, command);
  }

  function post(atNs: number, command: Command): void {
    const id = nextId++;
    lastCommand = { id, command };
    set({ refusal: null });
    isDirty = true;
    port.post({ kind: "act", id, atNs, command });
  }

  /** A new run from the play head on, and the refused command, if any, as its first act. */
  function branch(keep: KeepOfPlan = "planned", name = ""): void {
    const { playNs, refusal, standing } = get();
    if (standing !== "ready") return;
    const command = refusal?.command ?? null;
    beforeScrub = null;
    set({ mode: "live", running: false, replaying: true, refusal: null });
    port.post({ kind: "branch", atNs: playNs, keep, name });
    aim(playNs);
    if (command !== null) post(playNs, command);
  }

  function switchBranch(id: number): void {
    set({ mode: "live", running: false, replaying: true, refusal: null });
    port.post({ kind: "switchBranch", branch: id });
    aim(0);
  }

  /** From the start again, as a run of its own. */
  function restart(): void {
    set({ mode: "live", running: false, refusal: null });
    port.post({ kind: "branch", atNs: 0, keep: "planned", name: "" });
    aim(0);
  }

  function moveKnob(control: ControlName, value: number, wallMs: number): void {
    const from = frame[FRAME.controls + CONTROL_NAMES.indexOf(control)] as number;
    knobs.move(control, value, from, wallMs);
  }

  function releaseKnob(control: ControlName): void {
    const gesture = knobs.release(control, get().playNs);
    if (gesture !== null) set((s) => ({ gestures: [...s.gestures, gesture] }));
  }

  return {
    store,
    /** The frame shown; offsets in FRAME. Always the same array. */
    frame: frame as ArrayLike<number>,
    readings: readings as ArrayLike<number>,
    onFrame(listener: () => void): () => void {
      frameListeners.add(listener);
      return () => frameListeners.delete(listener);
    },
    tick,
    open(project: Project): void {
      if (get().standing === "failed") return;
      set({ standing: "starting", words: "" });
      port.post({ kind: "open", project });
    },
    run: runOn,
    pause,
    toggle: () => (get().running ? pause() : runOn()),
    step,
    seek,
    goLive,
    jump,
    changePace,
    setLens: (lensOn: boolean) => set({ lensOn }),
    /** A hidden tab pauses; shown again, time goes on from where it stood. */
    setHidden(hidden: boolean): void {
      isHidden = hidden;
      lastTickMs = null;
    },
    act,
    branch,
    switchBranch,
    restart,
    moveKnob,
    releaseKnob,
    /** Value to show beside a knob: the hand's own, or null for the bench's. */
    heldKnob: (control: ControlName) => knobs.held(control),
    dismissRefusal: () => set({ refusal: null }),
    chooseFault: (choice: FaultChoice | null) => port.post({ kind: "forecast", choice }),
    setStrip(wish: StripWish | null): void {
      stripWish = wish;
      isDirty = true;
    },
    exportProject(): Promise<Exported> {
      const id = nextId++;
      return new Promise((resolve) => {
        exports.set(id, resolve);
        port.post({ kind: "export", id });
      });
    },
    close: () => port.close(),
  };
}
