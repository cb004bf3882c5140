/**
 * The play head and everything that follows it: wall clock to simulated time, pace and lens, run and pause,
 * steps, jumps, looking back, runs that branch, and what is done to the bench. A factory, one a bench or
 * test; it holds what is shown, never the engine.
 *
 * Whoever owns the animation frame calls `tick` with its time. What moves at frame rate is read from `frame`
 * and drawn from `onFrame`; the store changes once a frame, by its sequence number.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { MonitorDef } from "../project/protection";
import type { Command, ControlName } from "../project/scenario";
import type { Project } from "../project/types";
import type { FaultChoice } from "../shells/bench/forecast";
import { CONTROL_NAMES, FRAME } from "../shells/bench/frameLayout";
import type { BenchPort, FromEngine, KeepOfPlan } from "../shells/bench/protocol";
import { CHANNEL_COUNT } from "../simulation/channels";
import { expectedGainFrom } from "../simulation/gainTable";
import { FrameLoop, type StripWish } from "./frameLoop";
import { Knobs } from "./knobs";
import { landmarksOf } from "./landmarks";
import { PACES } from "./pace";
import { EMPTY, offsetText, type PlaybackState, type Refusal } from "./playbackState";
import { raceList, refusalAmong, scanOf, withEvents } from "./playbackUpdates";

export interface Exported {
  readonly project: Project;
  readonly hash: string;
}

type Opened = Extract<FromEngine, { kind: "opened"; ok: true }>;

export type Playback = ReturnType<typeof createPlayback>;

/** A playback at the end of `port`, empty until a project is opened. */
export function createPlayback(port: BenchPort) {
  const store: StoreApi<PlaybackState> = createStore<PlaybackState>()(() => EMPTY);
  const set = store.setState;
  const get = store.getState;

  const loop = new FrameLoop(
    (message) => port.post(message),
    () => set({ mode: "live" }),
  );
  const { frame } = loop;
  /** Recorded row at the play head, in the order of CHANNEL_NAMES; always the same array. */
  const readings = frame.subarray(FRAME.row, FRAME.row + CHANNEL_COUNT);
  const frameListeners = new Set<() => void>();

  /** Whether it ran when it was scrubbed back; null while live. */
  let beforeScrub: boolean | null = null;
  let nextId = 1;
  /** Where the project being opened is to be shown first. */
  let openAtNs = 0;
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
        begin(message);
        return;
      case "frame":
        show(message);
        return;
      case "events":
        set((s) => {
          const events = withEvents(s.events, message.from, message.events);
          const landmarks = landmarksOf(events);
          const refusal = s.replaying ? null : refusalAmong(message.events);
          const races = raceList(s.races, null, events);
          return { events, landmarks, races, ...(refusal === null ? {} : { refusal }) };
        });
        loop.touch();
        return;
      case "race":
        set((s) => ({ races: raceList(s.races, message.report, s.events) }));
        loop.touch(); // what draws by frames would otherwise not show it while time stands
        return;
      case "forecast":
        set({ forecast: message.report });
        loop.touch();
        return;
      case "acted":
        if (!message.ok) {
          const command = lastCommand?.id === message.id ? lastCommand.command : null;
          set({ refusal: { text: message.reason, command }, told: null });
        }
        loop.touch();
        return;
      case "branches":
        set({ branches: message.branches, branch: message.current });
        loop.touch();
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

  function begin({ project, notices, expectedGain }: Opened): void {
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
      notices,
      expectedGain: expectedGainFrom(expectedGain),
    });
    if (openAtNs > 0) set({ replaying: true });
    loop.aim(openAtNs);
    loop.forgetTime();
    beforeScrub = null;
  }

  function show(message: Extract<FromEngine, { kind: "frame" }>): void {
    const before = get();
    loop.take(message, before);
    const world = message.world ?? before.world;
    set({
      sequence: before.sequence + 1,
      playNs: frame[FRAME.playNs] as number,
      headNs: frame[FRAME.headNs] as number,
      replaying: frame[FRAME.replaying] === 1,
      exact: frame[FRAME.exact] === 1,
      world,
      settings: world?.settings ?? before.settings,
      rate: loop.rate,
      reachedRate: loop.reachedRate,
      ...(message.strip === null ? {} : { strip: message.strip }),
    });
    for (const listener of frameListeners) listener();
  }

  // ---------------------------------------------------------------- the clock

  /** Called once an animation frame, with its time. Answers whether a frame was asked for. */
  function tick(wallMs: number): boolean {
    knobs.tick(wallMs);
    const state = get();
    return loop.tick(wallMs, state, state.standing === "ready");
  }

  // ---------------------------------------------------------------- what a person does with time

  function pause(): void {
    set({ running: false });
    loop.touch(); // one more picture, with traces up to the play head
  }

  function runOn(): void {
    if (get().standing !== "ready") return;
    beforeScrub = null;
    set({ running: true, refusal: null });
  }

  /** To `ns` inside the record; at its end this is live. */
  function seek(ns: number): void {
    const { headNs, running, mode } = get();
    const to = Math.max(Math.round(ns), 0);
    if (to >= headNs) {
      goLive();
      return;
    }
    if (mode === "live") beforeScrub = running;
    set({ mode: "back", running: false, refusal: null });
    loop.aim(to);
  }

  /** Back to the end of the record; it runs on if it ran when it was left. */
  function goLive(): void {
    const resume = beforeScrub ?? get().running;
    beforeScrub = null;
    set({ mode: "live", running: resume, refusal: null });
    loop.aim(get().headNs);
  }

  /** One sample or one scan, whatever the pace. Forward at the end of the record makes a new one. */
  function step(by: "sample" | "scan", direction: 1 | -1 = 1): void {
    const { sampleNs, scanNs, headNs, standing } = get();
    if (standing !== "ready") return;
    const unit = by === "sample" ? sampleNs : scanNs;
    const from = loop.wantNs;
    const to =
      direction > 0
        ? (Math.floor(from / unit) + 1) * unit
        : Math.max((Math.ceil(from / unit) - 1) * unit, 0);
    set({ running: false, mode: to < headNs ? "back" : "live", refusal: null });
    loop.aim(to);
  }

  /** To the next or previous landmark; false where there is none in the record. */
  function jump(direction: "previous" | "next"): boolean {
    const { landmarks } = get();
    const from = loop.wantNs;
    const target =
      direction === "next"
        ? landmarks.find((ns) => ns > from)
        : landmarks.findLast((ns) => ns < from);
    if (target === undefined) {
      const word = direction === "next" ? "later" : "earlier";
      set({ refusal: { text: `There is no ${word} event in the record.`, command: null } });
      return false;
    }
    seek(target);
    return true;
  }

  function changePace(direction: "slower" | "faster"): void {
    const pace = get().pace + (direction === "slower" ? 1 : -1);
    if (pace < 0 || pace >= PACES.length) return;
    loop.setPace(PACES[pace] as number);
    set({ pace, rate: loop.rate, reachedRate: null });
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
    loop.touch();
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
    loop.aim(playNs);
    if (command !== null) post(playNs, command);
  }

  function switchBranch(id: number): void {
    set({ mode: "live", running: false, replaying: true, refusal: null });
    port.post({ kind: "switchBranch", branch: id });
    loop.aim(0);
  }

  /** From the start again, as a run of its own. */
  function restart(): void {
    set({ mode: "live", running: false, refusal: null });
    port.post({ kind: "branch", atNs: 0, keep: "planned", name: "" });
    loop.aim(0);
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
    /** Stands still at the project's start, or at an instant up to which it is played first. */
    open(project: Project, playToNs = 0): void {
      if (get().standing === "failed") return;
      set({ standing: "starting", words: "" });
      openAtNs = playToNs;
      port.post({ kind: "open", project, playToNs });
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
    setHidden: (hidden: boolean) => loop.setHidden(hidden),
    act,
    /** Plans something for a later instant of the live run. */
    actAt(atNs: number, command: Command): void {
      const { standing, mode, playNs } = get();
      if (standing === "ready" && mode === "live") post(Math.max(atNs, playNs), command);
    },
    /** What the monitors will be by commands just given; until the bench shows monitors of its own again. */
    tell: (monitors: readonly MonitorDef[]) =>
      set((s) => ({ told: { monitors, over: s.settings } })),
    branch,
    switchBranch,
    restart,
    moveKnob,
    releaseKnob,
    /** Value to show beside a knob: the hand's own, or null for the bench's. */
    heldKnob: (control: ControlName) => knobs.held(control),
    dismissRefusal: () => set({ refusal: null }),
    dismissNotices: () => set({ notices: [] }),
    /** Says why nothing was done, where the page knows before the engine does. */
    refuse: (refusal: Refusal) => set({ refusal }),
    chooseFault: (choice: FaultChoice | null) => port.post({ kind: "forecast", choice }),
    setStrip: (wish: StripWish | null) => loop.setStrip(wish),
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
