/** The strip chart as plain data: the frame React draws, and the columns that move under it. */
import type { Prefix } from "../../../units/prefixes";

export interface StripLane {
  readonly key: string;
  readonly name: string;
  readonly unit: string;
  readonly prefix?: Prefix;
  readonly minimum: number;
  readonly maximum: number;
  /** Dashed line; null where no monitor watches this quantity. */
  readonly pickup: number | null;
}

export interface StripTick {
  readonly atS: number;
  readonly word: string;
}

export interface StripView {
  readonly lanes: readonly StripLane[];
  /** Ends of the time axis, from its zero (the strike, or now while nothing has struck). */
  readonly fromS: number;
  readonly toS: number;
  readonly ticks: readonly StripTick[];
  /** What the figures at the right are: `now`, `held`. */
  readonly valueWord: string;
  /** One sentence. */
  readonly summary: string;
}

/** One picture of the traces: per lane the least and greatest value of each column of time, not a number where nothing is recorded. */
export interface StripFrame {
  readonly columns: number;
  readonly minima: readonly ArrayLike<number>[];
  readonly maxima: readonly ArrayLike<number>[];
  /** Figures at the right, one a lane. */
  readonly values: readonly number[];
  /** Column of the play head; columns right of it are empty. */
  readonly headColumn: number;
  /** Columns in which an arc burns; null without one. */
  readonly arc: { readonly fromColumn: number; readonly toColumn: number } | null;
}

export interface StripHandle {
  /** Draws the traces at once, the figures too when `figures` is true. Not called, nothing moves. */
  draw(frame: StripFrame, figures: boolean): void;
}
