/**
 * From the wall clock to frames: where the play head is wanted, one frame in flight, its buffer handed back
 * and forth, and how much of the pace the engine manages.
 */
import { FRAME, FRAME_LENGTH } from "../shells/bench/frameLayout";
import type { FromEngine, StripRequest, ToEngine } from "../shells/bench/protocol";
import { lensEvents } from "./landmarks";
import { advanceLens, lensRate } from "./lens";
import { PACES } from "./pace";
import type { PlaybackState } from "./playbackState";

/** A gap between two ticks longer than this is a stall, not time that was watched. */
const LONGEST_TICK_MS = 100;
const STRIP_EVERY_MS = 50;
/** Behind means: under this share of what was asked, averaged over about half a second. */
const BEHIND_SHARE = 0.95;
const BEHIND_LAG_MS = 500;

/** Traces wanted with frames: the last `spanNs` up to the play head. */
export interface StripWish {
  readonly spanNs: number;
  readonly columns: number;
  readonly channels: readonly number[];
}

type Frame = Extract<FromEngine, { kind: "frame" }>;
type ClockState = Pick<
  PlaybackState,
  "running" | "replaying" | "mode" | "headNs" | "pace" | "lensOn" | "events" | "playNs"
>;

export class FrameLoop {
  /** The frame shown; always the same array. */
  readonly frame = new Float64Array(FRAME_LENGTH);
  /** Simulated time a unit of screen time, lens included. */
  rate = 1;
  /** Where the play head is wanted, with the part of a nanosecond that slow paces need. */
  private exactNs = 0;
  private spare: Float64Array | null = new Float64Array(FRAME_LENGTH);
  /** Aims and touches so far, and those that the frame in flight knows of. */
  private aims = 0;
  private touches = 1;
  private knownAims = 0;
  private knownTouches = 0;
  private lastTickMs: number | null = null;
  private advanceNs = 0;
  private passedMs = 0;
  private share = 1;
  private isHidden = false;
  private stripWish: StripWish | null = null;
  private lastStripMs = -Infinity;

  constructor(
    private readonly post: (message: ToEngine) => void,
    /** Played forward to the end of the record, it is live again. */
    private readonly onCaughtUp: () => void,
  ) {}

  get wantNs(): number {
    return Math.round(this.exactNs);
  }

  /** What of the rate the engine manages; null while it keeps up. */
  get reachedRate(): number | null {
    return this.share < BEHIND_SHARE ? this.rate * this.share : null;
  }

  /** Puts the wanted play head somewhere else than time would bring it. */
  aim(ns: number): void {
    this.exactNs = ns;
    this.aims++;
    this.touch();
    this.advanceNs = 0;
  }

  /** One more frame is wanted, even while time stands. */
  touch(): void {
    this.touches++;
  }

  forgetTime(): void {
    this.lastTickMs = null;
  }

  /** While hidden, time stands. */
  setHidden(hidden: boolean): void {
    this.isHidden = hidden;
    this.forgetTime();
  }

  setPace(rate: number): void {
    this.rate = rate;
    this.share = 1;
  }

  setStrip(wish: StripWish | null): void {
    this.stripWish = wish;
    this.touch();
  }

  /** Called with the time of an animation frame; answers whether a frame was asked for. */
  tick(wallMs: number, state: ClockState, isReady: boolean): boolean {
    const passedMs = this.lastTickMs === null ? 0 : wallMs - this.lastTickMs;
    if (!isReady || this.isHidden) {
      this.lastTickMs = wallMs;
      return false;
    }
    // one frame in flight: the time until it is back counts with the next one
    if (this.spare === null) return false;
    this.lastTickMs = wallMs;
    const isTouched = this.touches !== this.knownTouches;
    if (!state.running && !isTouched) return false;
    this.passedMs = passedMs;
    this.advanceNs = 0;
    let { mode } = state;
    if (state.running && !state.replaying) {
      this.run(state, Math.min(passedMs, LONGEST_TICK_MS));
      if (mode === "back" && this.exactNs >= state.headNs) {
        mode = "live";
        this.onCaughtUp();
      }
    }
    this.ask(wallMs, mode, isTouched);
    return true;
  }

  private run(state: ClockState, wallMs: number): void {
    const pace = PACES[state.pace] as number;
    const planned = this.frame[FRAME.nextFaultNs] as number;
    const near = state.lensOn
      ? lensEvents(state.events, this.exactNs, planned > 0 ? planned : null)
      : { lastNs: null, nextNs: null };
    const toNs = advanceLens(this.exactNs, wallMs, pace, near);
    this.advanceNs = toNs - this.exactNs;
    this.exactNs = toNs;
    this.rate = lensRate(toNs, pace, near);
  }

  private ask(wallMs: number, mode: PlaybackState["mode"], isTouched: boolean): void {
    const buffer = this.spare;
    if (buffer === null) return;
    this.spare = null;
    this.knownAims = this.aims;
    this.knownTouches = this.touches;
    const playNs = this.wantNs;
    const isStripDue = isTouched || wallMs - this.lastStripMs >= STRIP_EVERY_MS;
    let strip: StripRequest | null = null;
    if (this.stripWish !== null && isStripDue) {
      const { spanNs, columns, channels } = this.stripWish;
      strip = { fromNs: playNs - spanNs, toNs: playNs, columns, channels };
      this.lastStripMs = wallMs;
    }
    this.post({ kind: "ask", playNs, mode, buffer, strip });
  }

  /** Takes a frame in; `before` is what was shown until now. */
  take(message: Frame, before: Pick<PlaybackState, "playNs" | "replaying">): void {
    const { frame } = this;
    frame.set(message.buffer);
    this.spare = message.buffer;
    const playNs = frame[FRAME.playNs] as number;
    const isReplaying = frame[FRAME.replaying] === 1;
    const isCurrent = this.knownAims === this.aims;
    // the engine may have come less far, or be on its way along a run that is made again
    if (isCurrent && (isReplaying || before.replaying || this.wantNs !== playNs))
      this.exactNs = playNs;
    if (isReplaying || frame[FRAME.exact] !== 1) this.touch();
    if (!(this.advanceNs > 0)) return;
    const share = Math.min(Math.max((playNs - before.playNs) / this.advanceNs, 0), 1);
    this.share += (share - this.share) * Math.min(this.passedMs / BEHIND_LAG_MS, 1);
  }
}
