/**
 * What page and engine say to each other. Everything is plain data that a worker can be sent; one frame is
 * asked for at a time, and its buffer comes back with the answer.
 */
import type { Command } from "../../project/scenario";
import type { Project } from "../../project/types";
import type { BenchEvent } from "../../simulation/benchEvent";
import type { GainTable } from "../../simulation/gainTable";
import type { FaultZero } from "../../simulation/logic";
import type { Race } from "../../simulation/race";
import type { SupplyResult } from "../../simulation/supplyResult";
import type { FaultChoice } from "./forecast";
import type { EdgeTrack } from "./unprotectedRun";
import type { WorldView } from "./worldView";

/** Traces of some channels in columns of equal width. */
export interface StripRequest {
  readonly fromNs: number;
  readonly toNs: number;
  /** At most MOST_COLUMNS. */
  readonly columns: number;
  readonly channels: readonly number[];
}

export const MOST_COLUMNS = 600;

export interface StripColumns {
  /** Start of the first column and width of all: columns stand on whole multiples of their width. */
  readonly fromNs: number;
  readonly columnNs: number;
  readonly columns: number;
  readonly channels: readonly number[];
  /** Least and greatest, one channel after the other; not a number where nothing is recorded. */
  readonly minima: Float32Array;
  readonly maxima: Float32Array;
}

/** Points of a fault's track: rows of CHANNEL_COUNT at these times after the fault. */
export interface TrackPoints {
  readonly sinceNs: readonly number[];
  readonly rows: Float64Array;
}

/** One clock at an instant: heat over what its part carries for good, way to damage, seconds left if it stays so. */
export interface ClockReading {
  readonly stress: number;
  readonly fraction: number;
  /** Infinity for never. */
  readonly leftS: number;
}

/** One race with all a picture of it needs. `race` holds times and margins, finished. */
export interface RaceReport {
  readonly zero: FaultZero;
  readonly race: Race;
  /** What came through a fault of the plate supply; null for every other fault. */
  readonly supply: SupplyResult | null;
  /** The recorded row just before the fault, in the order of CHANNEL_NAMES. */
  readonly before: Float64Array;
  readonly acting: TrackPoints;
  readonly alone: TrackPoints;
  readonly aloneEdge: EdgeTrack;
  readonly aloneEvents: readonly BenchEvent[];
  /** How far the unprotected run has come; done when it will come no further. */
  readonly aloneReachedNs: number;
  readonly aloneDone: boolean;
  /** Where the unprotected run's clocks stand then, in the order of CLOCK_PARTS. */
  readonly aloneClocks: readonly ClockReading[];
  /** The plates when the operator opens the key; null before the unprotected run is there. */
  readonly found: {
    readonly atNs: number;
    readonly place: number;
    readonly moltenKg: readonly number[];
    readonly cellsK: Float64Array;
  } | null;
  readonly moltenKg: number;
}

export interface ForecastReport {
  readonly choice: FaultChoice;
  /** Present of which it speaks. */
  readonly placedNs: number;
  readonly standing: "working" | "done" | "noStrike" | "latent";
  readonly actingEvents: readonly BenchEvent[];
  readonly report: RaceReport | null;
}

export interface BranchView {
  readonly id: number;
  readonly name: string;
  /** Branch it left, -1 for the first, and where. */
  readonly parent: number;
  readonly forkNs: number;
  /** Where live stood when it was left, or stands now. */
  readonly headNs: number;
}

/** What of the plan beyond the fork a new branch keeps: nothing, or what the opened project had planned. */
export type KeepOfPlan = "nothing" | "planned";

export type ToEngine =
  /** `playToNs`: the run is made up to there before a person sees it live. */
  | { readonly kind: "open"; readonly project: Project; readonly playToNs: number }
  | {
      readonly kind: "ask";
      readonly playNs: number;
      /** `live` makes the record up to the play head; `back` only reads it. */
      readonly mode: "live" | "back";
      readonly buffer: Float64Array;
      readonly strip: StripRequest | null;
    }
  | {
      readonly kind: "act";
      readonly id: number;
      readonly atNs: number;
      readonly command: Command;
    }
  | { readonly kind: "forecast"; readonly choice: FaultChoice | null }
  | {
      readonly kind: "branch";
      readonly atNs: number;
      readonly keep: KeepOfPlan;
      readonly name: string;
    }
  | { readonly kind: "switchBranch"; readonly branch: number }
  | { readonly kind: "export"; readonly id: number };

export type FromEngine =
  | {
      readonly kind: "opened";
      readonly ok: true;
      readonly project: Project;
      readonly sampleNs: number;
      /** What was changed of what the monitors were asked for, in words. */
      readonly notices: readonly string[];
      /** What a healthy station gains at each drive, for the marks beside the true reading. */
      readonly expectedGain: GainTable;
    }
  | { readonly kind: "opened"; readonly ok: false; readonly problem: string }
  | {
      readonly kind: "frame";
      readonly buffer: Float64Array;
      /** Null: as in the frame before. */
      readonly world: WorldView | null;
      readonly strip: StripColumns | null;
    }
  /** Events from index `from` on are these; what stood there before did not happen. */
  | { readonly kind: "events"; readonly from: number; readonly events: readonly BenchEvent[] }
  | { readonly kind: "race"; readonly report: RaceReport }
  | { readonly kind: "forecast"; readonly report: ForecastReport | null }
  | {
      readonly kind: "acted";
      readonly id: number;
      readonly ok: boolean;
      /** Instant under which it is logged. */
      readonly atNs: number;
      /** Why not, in words; empty when it was taken. */
      readonly reason: string;
    }
  | {
      readonly kind: "branches";
      readonly current: number;
      readonly branches: readonly BranchView[];
    }
  | {
      readonly kind: "exported";
      readonly id: number;
      readonly project: Project;
      readonly hash: string;
    }
  /** The engine has stopped and will not answer any more. */
  | { readonly kind: "failed"; readonly words: string };

/** A way to an engine: a worker, or the same thing in this thread. */
export interface BenchPort {
  post(message: ToEngine): void;
  /** One listener; it may be called inside `post`. */
  listen(listener: (message: FromEngine) => void): void;
  close(): void;
}
