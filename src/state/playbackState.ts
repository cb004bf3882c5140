/** What the bench screen shows besides the numbers of a frame. */

import type { MonitorDef } from "../project/protection";
import type { Command } from "../project/scenario";
import type { Project } from "../project/types";
import type {
  BranchView,
  ForecastReport,
  RaceReport,
  StripColumns,
} from "../shells/bench/protocol";
import type { WorldView } from "../shells/bench/worldView";
import type { BenchEvent } from "../simulation/benchEvent";
import type { ExpectedGain } from "../simulation/gainTable";
import { formatTime } from "../units/format";
import type { Gesture } from "./knobs";

export interface Refusal {
  /** Why nothing was done, in words. */
  readonly text: string;
  /** What could be done on a new run from here; null where that does not help. */
  readonly command: Command | null;
  /** Another way to what was wanted, offered as a button. */
  readonly way?: { readonly word: string; readonly take: () => void };
}

export interface PlaybackState {
  readonly standing: "empty" | "starting" | "ready" | "failed";
  /** Why it failed, or why a project was not taken; empty otherwise. */
  readonly words: string;
  readonly project: Project | null;
  /** What the engine changed or could not keep of the project as it was opened. */
  readonly notices: readonly string[];
  /** What a healthy station gains at each drive; NaN before a project is open. */
  readonly expectedGain: ExpectedGain;
  /** One a frame: whoever draws compares this. */
  readonly sequence: number;
  readonly playNs: number;
  readonly headNs: number;
  readonly sampleNs: number;
  readonly scanNs: number;
  /** Following the end of the record, or looking at what is past. */
  readonly mode: "live" | "back";
  /** The record is being made again up to where this run had come. */
  readonly replaying: boolean;
  /** Sensors, needles and edges belong to the play head; false while they are worked out. */
  readonly exact: boolean;
  readonly running: boolean;
  /** Index into PACES. */
  readonly pace: number;
  readonly lensOn: boolean;
  /** Simulated seconds a second on screen just now, lens included. */
  readonly rate: number;
  /** What the engine manages of it when it falls behind; null while it keeps up. */
  readonly reachedRate: number | null;
  readonly world: WorldView | null;
  readonly settings: readonly MonitorDef[];
  /** What the bench was told since; null for nothing. See `settingsAsTold`. */
  readonly told: ToldSettings | null;
  readonly events: readonly BenchEvent[];
  readonly landmarks: readonly number[];
  /** One a fault, in order of time zero. */
  readonly races: readonly RaceReport[];
  readonly forecast: ForecastReport | null;
  readonly strip: StripColumns | null;
  readonly branches: readonly BranchView[];
  readonly branch: number;
  readonly gestures: readonly Gesture[];
  readonly refusal: Refusal | null;
}

export const EMPTY: PlaybackState = {
  standing: "empty",
  words: "",
  project: null,
  notices: [],
  expectedGain: () => Number.NaN,
  sequence: 0,
  playNs: 0,
  headNs: 0,
  sampleNs: 50_000,
  scanNs: 1_000_000,
  mode: "live",
  replaying: false,
  exact: true,
  running: false,
  pace: 0,
  lensOn: true,
  rate: 1,
  reachedRate: null,
  world: null,
  settings: [],
  told: null,
  events: [],
  landmarks: [],
  races: [],
  forecast: null,
  strip: null,
  branches: [],
  branch: 0,
  gestures: [],
  refusal: null,
};

/** Monitors a bench was told, over those it showed then: while it stands still it does not show them itself. */
export interface ToldSettings {
  readonly monitors: readonly MonitorDef[];
  readonly over: readonly MonitorDef[];
}

/** The monitors as they are set on the bench, or as they will be once it goes on. */
export function settingsAsTold({
  settings,
  told,
}: Pick<PlaybackState, "settings" | "told">): readonly MonitorDef[] {
  return told !== null && told.over === settings ? told.monitors : settings;
}

/** The persistent text while looking back, `3.10 ms before the record's end`; empty when live. */
export function offsetText(state: Pick<PlaybackState, "mode" | "playNs" | "headNs">): string {
  if (state.mode === "live") return "";
  return `${formatTime((state.headNs - state.playNs) / 1e9)} before the record's end`;
}

/** The race the play head is in: the latest fault at or before it; null before the first. */
export function raceAt(races: readonly RaceReport[], playNs: number): RaceReport | null {
  let found: RaceReport | null = null;
  for (const r of races) if (r.zero.atNs <= playNs) found = r;
  return found;
}
