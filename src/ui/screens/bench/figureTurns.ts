/**
 * Who draws when: needles with every frame, figures a few times a second, and of several that are due one a frame, so
 * that no frame carries the work of all. What stands still is drawn whole soon after.
 */
import type { Playback } from "../../../state/playback";

export type Draw = (figures: boolean) => void;

interface Drawer {
  draw: Draw;
  everyMs: number;
  /** Its turn takes the frame for itself: needles wait for the next one. */
  isHeavy: boolean;
  /** Something has to be told: the next frame is its turn, whenever the last one was. */
  hasNews: () => boolean;
  isAsked: boolean;
  lastMs: number;
  /** A frame has passed since its figures were drawn. */
  isStale: boolean;
}

/** So many periods late, figures no longer wait for their turn. */
const LATE = 2;

export class FigureTurns {
  private readonly drawers = new Set<Drawer>();
  private trailing: ReturnType<typeof setTimeout> | null = null;
  private stop: (() => void) | null = null;
  private frameMs = -Infinity;

  constructor(private readonly playback: Pick<Playback, "onFrame">) {}

  /**
   * Calls `draw` after each frame; its argument is true at most `perSecond` times a second, and soon after `hasNews`. A
   * heavy one has the frame of its turn for itself. Answers how to end it.
   */
  add(draw: Draw, perSecond: number, isHeavy = false, hasNews = noNews): () => void {
    const everyMs = 1000 / perSecond;
    const drawer: Drawer = {
      draw,
      everyMs,
      isHeavy,
      hasNews,
      isAsked: false,
      lastMs: -Infinity,
      isStale: false,
    };
    this.drawers.add(drawer);
    this.stop ??= this.playback.onFrame(() => this.frame(performance.now()));
    return () => {
      this.drawers.delete(drawer);
      if (this.drawers.size > 0) return;
      this.stop?.();
      this.stop = null;
      if (this.trailing !== null) clearTimeout(this.trailing);
      this.trailing = null;
    };
  }

  private frame(nowMs: number): void {
    this.frameMs = nowMs;
    let turn: Drawer | null = null;
    let most = 1;
    for (const d of this.drawers) {
      const periods = d.isAsked ? Infinity : (nowMs - d.lastMs) / d.everyMs;
      if (periods < most) continue;
      most = periods;
      turn = d;
    }
    for (const d of this.drawers) {
      const isLate = nowMs - d.lastMs >= LATE * d.everyMs;
      if (d === turn || isLate) figures(d, nowMs);
      else {
        d.isStale = true;
        if (turn?.isHeavy !== true) d.draw(false);
      }
    }
    // asked after the drawing: what the news itself redraws in this frame is enough for it
    for (const d of this.drawers) d.isAsked = d.hasNews();
    this.wait();
  }

  /**
   * The last frame before a standstill gets its figures too. One timer is kept for that, and asked again when it finds
   * that frames still came: to put it off with each of them would cost more than the drawing it guards.
   */
  private wait(): void {
    if (this.trailing !== null || ![...this.drawers].some((d) => d.isStale)) return;
    this.trailing = setTimeout(() => this.standing(performance.now()), STILL_MS);
  }

  private standing(nowMs: number): void {
    this.trailing = null;
    const stillMs = nowMs - this.frameMs;
    if (stillMs >= STILL_MS) {
      for (const d of this.drawers) {
        const isDue = stillMs >= AT_REST_MS || nowMs - d.lastMs >= d.everyMs;
        if (d.isAsked || (d.isStale && isDue)) figures(d, nowMs);
      }
    }
    this.wait();
  }
}

/** No frame for so long: time stands, or the machine is slow. */
const STILL_MS = 40;
/** No frame for so long: time stands, and nobody who looks at it is to wait for the turn of a drawing made once a second. */
const AT_REST_MS = 120;

function figures(d: Drawer, nowMs: number): void {
  d.lastMs = nowMs;
  d.isStale = false;
  d.isAsked = false;
  d.draw(true);
}

function noNews(): boolean {
  return false;
}

const turns = new WeakMap<object, FigureTurns>();

/** The turns of a bench: one a playback. */
export function turnsOf(playback: Pick<Playback, "onFrame">): FigureTurns {
  let own = turns.get(playback);
  if (own === undefined) {
    own = new FigureTurns(playback);
    turns.set(playback, own);
  }
  return own;
}
