/** What a panel gauge shows: its scale, and what moves on it. Numbers in SI, words finished. */
import type { Prefix } from "../../../units/prefixes";
import type { MarkName } from "../state/stateWord";

export interface GaugeScale {
  readonly minimum: number;
  readonly maximum: number;
  /** Distance of the long scale marks; `minorPerMajor` parts between them. */
  readonly major: number;
  readonly minorPerMajor: number;
  /** What stands at the two ends: `0`, `2.5`. */
  readonly minimumWord: string;
  readonly maximumWord: string;
}

/** The part React draws, on events only. */
export interface GaugeView {
  readonly key: string;
  readonly name: string;
  readonly unit: string;
  /** Fixed prefix of the reading; by size when absent. */
  readonly prefix?: Prefix;
  readonly scale: GaugeScale;
  readonly pickup: number | null;
  /** What stands at the right of the name: `pickup 1.05`, `no monitor`. */
  readonly pickupWord: string;
  /** Continuous rating or safe limit; the scale is hatched beyond it. */
  readonly limit: number | null;
  readonly limitSide: "over" | "under";
  readonly state: MarkName;
  /** Word at the state shape: `pickup 0.4 s`, `trip`, `no monitor`. */
  readonly stateWord: string;
  readonly isNew: boolean;
  /** Value before the fault, and what is written of it. */
  readonly before: number | null;
  readonly beforeWord: string;
  /** Fourth corner: `now 0.00` while readings are held, empty otherwise. */
  readonly nowWord: string;
  /** Reason in words when there is no reading: `sensor open`. */
  readonly noReading: string | null;
}

/** What moves at frame rate. */
export interface GaugeFrame {
  /** What a panel meter of 0.3 s shows: the needle. */
  readonly needle: number;
  /** The true value: the figures below. */
  readonly value: number;
}

/** Drawn straight on the page, without React. */
export interface GaugeHandle {
  /** Moves the needle at once; figures and spoken value follow when `figures` is true, at most ten times a second. */
  draw(frame: GaugeFrame, figures: boolean): void;
}
