/** What lanes are made from, and one monitor's course through a race. */
import type { MonitorDef, MonitorRole } from "../../../../project/protection";
import type { TrackPoints } from "../../../../shells/bench/protocol";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import type { ExpectedGain } from "../../../../simulation/gainTable";
import type { RaceMark } from "../../../instruments/race/raceView";

export type Mode = "operate" | "tune";

/** What the lanes are made from. */
export interface LaneSource {
  readonly monitors: readonly MonitorDef[];
  readonly mode: Mode;
  /** Play head from the fault; null in a forecast and while nothing has struck. */
  readonly nowS: number | null;
  readonly zeroNs: number;
  /** Instant of the next fault; what comes after is not this race's. */
  readonly untilNs: number;
  readonly protectedEvents: readonly BenchEvent[];
  readonly aloneEvents: readonly BenchEvent[];
  readonly aloneDone: boolean;
  /** Events from t = 0 on, for who was armed. */
  readonly armingEvents: readonly BenchEvent[];
  /** Row just before the fault; null before anything is recorded. */
  readonly before: Float64Array | null;
  /** The fault left alone; null without a fault. */
  readonly track: TrackPoints | null;
  /** The same fault as this run, or its forecast, has it; null without a fault. */
  readonly shown: TrackPoints | null;
  /** How long after the fault its readings count: to its clearing, else to the play head, ns. */
  readonly shownToNs: number;
  readonly expectedGain: ExpectedGain | null;
  /** An arc burned: its gain needs no further word. */
  readonly struck: boolean;
}

/** One monitor's course: of the protected run as far as it goes, then of the run left alone. */
export interface Course {
  readonly def: MonitorDef;
  readonly role: MonitorRole;
  readonly armed: boolean;
  readonly criterion: number;
  /** Pickup of the criterion that operated; a monitor may have picked up on another one before. */
  readonly confirmFromS: number | null;
  readonly pickup: RaceMark | null;
  /** The pickup is of this run, not of the one left alone. */
  readonly isOwn: boolean;
  readonly operate: RaceMark | null;
  readonly trip: RaceMark | null;
}
