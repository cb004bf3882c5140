/** The signal path as plain data: one part after the other from exciter to antenna, with readings as finished words. */

export type PathSymbol =
  | "exciter"
  | "input"
  | "tube"
  | "supply"
  | "tuning"
  | "coil"
  | "loading"
  | "relay"
  | "line"
  | "antenna";

export interface PathReading {
  readonly key: string;
  readonly number: string;
  /** Unit and what it is of: `A plate`. */
  readonly unit: string;
  /** `before 0.83 A`; empty while there is no fault to be before of. */
  readonly before: string;
}

/** Grey: stress now over the continuous rating (1 = rating). Brown: fraction of the way to damage (1 = damage). Never both in one. */
export interface StressBar {
  readonly key: string;
  readonly label: string;
  readonly kind: "stress" | "damage";
  readonly fraction: number;
}

export interface FaultChoice {
  readonly key: string;
  readonly word: string;
  /** Where it is placed, for the list: `tuning capacitor`. */
  readonly placeWord: string;
  readonly standing: "free" | "placed" | "struck";
  /** Nobody should try this on the real thing: the caution opens first. */
  readonly neverByHand: boolean;
}

export interface ArcLabel {
  readonly standing: "burning" | "out";
  /** Up to two lines: power and duration; energy and place. */
  readonly lines: readonly string[];
}

export interface PathPart {
  readonly symbol: PathSymbol;
  readonly name: string;
  readonly readings: readonly PathReading[];
  readonly notes: readonly string[];
  readonly bars: readonly StressBar[];
  readonly faults: readonly FaultChoice[];
  readonly arc: ArcLabel | null;
  /** Power leaving the part towards the antenna, now and before the fault: the weight of the line. */
  readonly powerW: number;
  readonly powerBeforeW: number;
  /** Relay: contact to the antenna open. */
  readonly open: boolean;
}

export interface PathView {
  readonly parts: readonly PathPart[];
  /** The whole path in one sentence. */
  readonly summary: string;
}

/** Drawn straight on the page: readings, bars and line weight of the same parts, at most ten times a second. */
export interface PathHandle {
  draw(view: PathView): void;
}
