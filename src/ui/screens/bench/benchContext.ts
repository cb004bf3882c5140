/** What every part of the bench screen may reach: playback, project store, settings. One of each a page. */
import { createContext, useContext, useEffect, useReducer, useRef } from "react";
import { useStore } from "zustand";
import type { Playback } from "../../../state/playback";
import type { PlaybackState } from "../../../state/playbackState";
import type { createProjectStore, ProjectState } from "../../../state/project";
import type { createSettings, SettingsState } from "../../../state/settings";

export interface BenchStores {
  readonly playback: Playback;
  readonly projects: ReturnType<typeof createProjectStore>;
  readonly settings: ReturnType<typeof createSettings>;
}

export const BenchContext = createContext<BenchStores | null>(null);

export function useBench(): BenchStores {
  const stores = useContext(BenchContext);
  if (stores === null) throw new Error("the bench's stores are missing above this component");
  return stores;
}

/** One value of the playback's state; redraws only when it changes. */
export function usePlayback<T>(select: (state: PlaybackState) => T): T {
  return useStore(useBench().playback.store, select);
}

export function useProjects<T>(select: (state: ProjectState) => T): T {
  return useStore(useBench().projects.store, select);
}

export function useSettings<T>(select: (state: SettingsState) => T): T {
  return useStore(useBench().settings.store, select);
}

const GOLDEN = 0.618;
let drawers = 0;

/** Calls `draw` after each frame; `figures` is true at most `perSecond` times a second, and when time stands. */
export function useFrames(draw: (figures: boolean) => void, perSecond = 10): void {
  const { playback } = useBench();
  const latest = useRef(draw);
  latest.current = draw;
  useEffect(() => {
    let lastMs = -Infinity;
    let trailing: ReturnType<typeof setTimeout> | null = null;
    const everyMs = 1000 / perSecond;
    // drawn at once, then out of step with the others, so that no frame carries the work of all
    let lateMs = everyMs * ((drawers++ * GOLDEN) % 1);
    const figure = (): void => {
      trailing = null;
      lastMs = performance.now() - lateMs;
      lateMs = 0;
      latest.current(true);
    };
    const stop = playback.onFrame(() => {
      const nowMs = performance.now();
      if (nowMs - lastMs >= everyMs) {
        if (trailing !== null) clearTimeout(trailing);
        figure();
        return;
      }
      latest.current(false);
      // the last frame before a standstill gets its figures too
      if (trailing === null) trailing = setTimeout(figure, everyMs - (nowMs - lastMs));
    });
    return () => {
      stop();
      if (trailing !== null) clearTimeout(trailing);
    };
  }, [playback, perSecond]);
}

/** Redraws the component at most `perSecond` times a second while frames come. */
export function useFrameTurn(perSecond: number): number {
  const [turn, next] = useReducer((n: number) => n + 1, 0);
  useFrames((figures) => {
    if (figures) next();
  }, perSecond);
  return turn;
}
