/**
 * The race as plain data: protection's progress and each part's way to damage on one logarithmic axis of time from the
 * strike. Times in seconds from the strike, fractions 0 to 1, words finished. Null says "does not happen in this run".
 */
import type { RichText } from "../drawing/shapes";
import type { MarkName } from "../state/stateWord";

/** An instant of a lane: solid where it happened, hollow where it would happen in the run left alone, in shadow or ahead. */
export interface RaceMark {
  readonly atS: number;
  readonly happened: boolean;
}

export interface MonitorLane {
  readonly key: string;
  readonly name: string;
  /** Device number of IEEE C37.2, or empty. */
  readonly device: string;
  /** Setting in words: `2.0 dB under expected, 3 scans of 1 ms`. */
  readonly setting: string;
  readonly mode: "acting" | "shadow" | "off";
  /** The lane drawn tall: the monitor that clears, or would. */
  readonly leading: boolean;
  /** What passed before the pickup: `filter`. */
  readonly beforeWord: string;
  readonly pickup: RaceMark | null;
  /** Scans seen between pickup and operate, for the notches of the confirm bar. */
  readonly scansS: readonly number[];
  readonly operate: RaceMark | null;
  readonly trip: RaceMark | null;
  readonly arcOut: RaceMark | null;
  /** What the quantity did and its pickup, for a lane that did not pick up: `fell, 93.0 to 71.0 mA, pickup 150 mA`. */
  readonly why: string;
  /** Words right of the operate mark of the leading lane, and a second, smaller line. */
  readonly words: RichText;
  readonly subWords: string;
  readonly state: MarkName;
  readonly stateWord: string;
  readonly stateNote: string;
}

export interface RacePoint {
  readonly atS: number;
  readonly fraction: number;
}

export interface DamageStage {
  readonly word: "melt" | "bead" | "bridged";
  readonly fromS: number;
  /** Null: to the end of the axis. */
  readonly toS: number | null;
  readonly happened: boolean;
}

export interface DamageLane {
  readonly key: string;
  readonly name: string;
  readonly notes: readonly string[];
  /** The struck part is drawn tall. */
  readonly tall: boolean;
  /** Way to damage in this run: up to clearing, and cooling after it. */
  readonly burning: readonly RacePoint[];
  readonly cooling: readonly RacePoint[];
  /** The same fault left alone, from clearing on (from the strike in a forecast), and its slow edge. */
  readonly leftAlone: readonly RacePoint[];
  readonly slowEdge: readonly RacePoint[];
  readonly onsetEarlyS: number | null;
  readonly onsetS: number | null;
  readonly onsetLateS: number | null;
  readonly stages: readonly DamageStage[];
  /** `melt onset, 660 °C`; written at the dotted line of fraction 1. */
  readonly limitWord: string;
  /** `7 % when the arc went out`; written at the clearing line. */
  readonly reachedWord: string;
  /** Words of a low lane: `2.55 kW in the arc, 1.50 kW rated`. */
  readonly why: string;
  /** Right column: a time or a word, and up to two notes under it. */
  readonly head: string;
  readonly headNotes: readonly string[];
}

export interface RaceSpine {
  readonly clearingS: number | null;
  readonly clearingHappened: boolean;
  /** Beside the time: `cleared at`, `would clear at`, `cleared by hand at`; empty without one. */
  readonly clearingWord: string;
  readonly onsetEarlyS: number | null;
  readonly onsetS: number | null;
  readonly onsetLateS: number | null;
  /** Time to damage left alone over clearing time; null when either does not happen. */
  readonly margin: number | null;
  readonly marginEarly: number | null;
  readonly marginRequired: number | null;
  /** Said in place of a margin: `no monitor clears this fault`, `no damage within 10 s`. */
  readonly noMarginWord: string;
}

export interface RaceOperator {
  readonly earliestS: number;
  readonly latestS: number;
  readonly nominalS: number;
  /** Onset over the operator's time; null without damage. */
  readonly margin: number | null;
}

export interface RaceView {
  readonly standing: "live" | "forecast";
  readonly title: string;
  readonly note: string;
  /** Play head, from the strike; null in a forecast. */
  readonly nowS: number | null;
  readonly monitors: readonly MonitorLane[];
  readonly spine: RaceSpine;
  readonly operator: RaceOperator;
  readonly damage: readonly DamageLane[];
  /** The whole picture in one sentence. */
  readonly summary: string;
}
