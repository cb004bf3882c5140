/** What every part of the bench screen may reach: playback, project store, settings. One of each a page. */
import { createContext, useContext, useEffect, useReducer, useRef } from "react";
import { useStore } from "zustand";
import type { Playback } from "../../../state/playback";
import type { PlaybackState } from "../../../state/playbackState";
import type { createProjectStore, ProjectState } from "../../../state/project";
import type { createSettings, SettingsState } from "../../../state/settings";
import { turnsOf } from "./figureTurns";

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

/** Calls `draw` after each frame; `figures` is true at most `perSecond` times a second, and when time stands. */
export function useFrames(draw: (figures: boolean) => void, perSecond = 10): void {
  const { playback } = useBench();
  const latest = useRef(draw);
  latest.current = draw;
  useEffect(
    () => turnsOf(playback).add((figures) => latest.current(figures), perSecond),
    [playback, perSecond],
  );
}

/**
 * Redraws the component at most `perSecond` times a second while frames come, and soon after `newsOf` gives something
 * else than before. A redrawing has its frame for itself.
 */
export function useFrameTurn(
  perSecond: number,
  newsOf: (state: PlaybackState) => unknown = noNews,
): number {
  const { playback } = useBench();
  const [turn, next] = useReducer((n: number) => n + 1, 0);
  const latest = useRef(newsOf);
  latest.current = newsOf;
  useEffect(() => {
    const news = (): unknown => latest.current(playback.store.getState());
    let drawn = news();
    const draw = (figures: boolean): void => {
      if (!figures) return;
      drawn = news();
      next();
    };
    return turnsOf(playback).add(draw, perSecond, true, () => !Object.is(news(), drawn));
  }, [playback, perSecond]);
  return turn;
}

function noNews(): null {
  return null;
}

/**
 * How often a drawing over a logarithmic or a long axis is made anew: near real time it hardly changes, and half as often
 * is enough; where now moves by itself, or only news matter, a quarter. News must not wait for it.
 */
export function useDrawingsPerSecond(onlyNews = false): number {
  const isNearRealTime = usePlayback((s) => s.rate > 0.1);
  if (!isNearRealTime) return 4;
  return onlyNews ? 1 : 2;
}
