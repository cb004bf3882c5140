/** The time bar as plain data. Times in seconds from the zero that the clock names. */
import type { MarkName } from "../state/stateWord";

/** Knot of the record's scale: this instant stands at this fraction of the bar. Straight between knots, both increasing. */
export interface ScaleKnot {
  readonly atS: number;
  readonly fraction: number;
}

export interface RecordTick {
  readonly atS: number;
  readonly word: string;
}

export interface RecordEvent {
  readonly key: string;
  readonly atS: number;
  readonly mark: MarkName;
}

export interface TimeBarView {
  readonly running: boolean;
  readonly knots: readonly ScaleKnot[];
  readonly ticks: readonly RecordTick[];
  readonly events: readonly RecordEvent[];
  /** Where the lens slowed the clock. */
  readonly lensSpans: readonly { readonly fromS: number; readonly toS: number }[];
  readonly lensOn: boolean;
  /** `on screen 1 s = 2 ms`. */
  readonly paceWord: string;
  /** Said when the engine cannot keep up: `reached 1 s = 1.4 ms`; empty otherwise. */
  readonly reachedWord: string;
  readonly canSlower: boolean;
  readonly canFaster: boolean;
  /** `seed 7, 3f9a 0c`. */
  readonly identityWord: string;
  /** At the end of the record, following it. */
  readonly live: boolean;
}

/** What moves at frame rate. */
export interface TimeBarFrame {
  readonly headS: number;
  readonly clockNumber: string;
  readonly clockUnit: string;
  /** What the clock counts from is always among them: `paused, from the strike`; `from the start, 3.10 ms before the record's end`. */
  readonly clockNote: string;
}

export interface TimeBarHandle {
  draw(frame: TimeBarFrame): void;
}

export interface TimeBarActions {
  readonly onRun: () => void;
  readonly onPause: () => void;
  readonly onStep: (by: "sample" | "scan") => void;
  readonly onEvent: (direction: "previous" | "next") => void;
  readonly onLive: () => void;
  readonly onScrub: (atS: number) => void;
  readonly onPace: (direction: "slower" | "faster") => void;
  readonly onLens: (on: boolean) => void;
}
