/**
 * What the station's screen and its study worker say to each other: plain data. A new study supersedes the one before;
 * its answers come in the order in which they are wanted, each under the study's number.
 */
import type { StationParts } from "../../physics/stage/stationCircuit";
import type { LoadAdmittance } from "../../physics/tank/plateNetwork";
import type { Station } from "../../project/station";
import type { Project } from "../../project/types";
import type { TripRecord } from "../../simulation/tripMemory";
import type { CoordinationSheet } from "../../study/coordination/coordinate";
import type { StressName } from "../../study/coordination/stress";
import type { Diagnosis } from "../../study/diagnosis";
import type { LinePoint, TubeCurve } from "../../study/loadLine";
import type { NormalBand } from "../../study/normalReadings";
import type { StressRow } from "../../study/partStress";
import type { RaceOutcome } from "../../study/raceBeside";
import type { HeldValues, TubeFit } from "../../study/tubeFit";
import type { TubePoint } from "../../study/tubePoints";
import type { StopName, TuneUpResult } from "../../study/tuneUp";
import type { Working } from "../../study/workingPoint";

export interface StudyRequest {
  readonly id: number;
  readonly station: Station;
  readonly driveW: number;
  /** Of the circle. */
  readonly swr: number;
}

export interface DiagnosisRequest {
  readonly id: number;
  /** With its monitors as they are set now. */
  readonly project: Project;
  readonly trips: readonly TripRecord[];
}

export interface CoordinationRequest {
  readonly id: number;
  /** With its monitors as they are set now. */
  readonly project: Project;
  /** Stresses in the order in which their sheets are wanted. */
  readonly order: readonly StressName[];
}

export interface MonitorsRequest {
  readonly id: number;
  /** Whose normal readings are wanted. */
  readonly station: Station;
  /** Whose races are wanted, in this order. */
  readonly runs: readonly Project[];
}

/** A working point without the solver's own state. */
export type Point = Omit<Working, "state">;

export type Components = Pick<
  StationParts,
  | "turnsRatio"
  | "cathodeF"
  | "cathodeH"
  | "tuningF"
  | "strayF"
  | "coilH"
  | "coilOhm"
  | "loadingF"
  | "chokeH"
  | "outputCoilH"
  | "outputCoilOhm"
>;

/** The station at its own frequency. */
export interface Here {
  /** Why there is nothing to work out; empty where there is. */
  readonly problem: string;
  readonly components: Components | null;
  /** Plate load it is built for. */
  readonly plateLoadOhm: number;
  /** As designed, into 50 ohm; null where none is found. */
  readonly matched: Point | null;
  readonly stresses: readonly StressRow[];
  readonly load: LoadAdmittance;
  /** Into the station's own load with the settings as designed, and after tuning up. */
  readonly asTuned: Point | null;
  readonly retuned: Point | null;
  readonly tune: TuneUpResult;
}

export interface BandResult {
  readonly band: string;
  readonly freqHz: number;
  /** Why there is no working point; empty where there is. */
  readonly problem: string;
  readonly components: Components | null;
  readonly point: Point | null;
  readonly stresses: readonly StressRow[];
}

export interface DriveResult {
  readonly driveW: number;
  readonly point: Point | null;
}

export interface CircleResult {
  readonly phaseRad: number;
  readonly plateOhm: number;
  readonly asTuned: Point | null;
  readonly retuned: Point | null;
  readonly stops: readonly StopName[];
}

export type ToStudy =
  | ({ readonly kind: "study" } & StudyRequest)
  /** Nothing more is wanted; what is under way ends after its slice. */
  | { readonly kind: "cancel" }
  | ({ readonly kind: "diagnose" } & DiagnosisRequest)
  | ({ readonly kind: "coordinate" } & CoordinationRequest)
  | ({ readonly kind: "monitors" } & MonitorsRequest)
  | {
      readonly kind: "fit";
      readonly id: number;
      readonly points: readonly TubePoint[];
      readonly held: HeldValues;
    };

export type FromStudy =
  | { readonly kind: "here"; readonly id: number; readonly here: Here }
  /** Row `index` of `of`. */
  | {
      readonly kind: "band";
      readonly id: number;
      readonly index: number;
      readonly of: number;
      readonly row: BandResult;
    }
  | {
      readonly kind: "line";
      readonly id: number;
      readonly line: readonly LinePoint[];
      readonly curves: readonly TubeCurve[];
    }
  | { readonly kind: "drive"; readonly id: number; readonly rows: readonly DriveResult[] }
  | { readonly kind: "circle"; readonly id: number; readonly rows: readonly CircleResult[] }
  | { readonly kind: "done"; readonly id: number }
  | { readonly kind: "fit"; readonly id: number; readonly fit: TubeFit }
  /** One for each trip asked about, in their order. */
  | { readonly kind: "diagnosis"; readonly id: number; readonly diagnoses: readonly Diagnosis[] }
  /** What is known of a sheet: `done` of its points, `left` of those known to come. */
  | {
      readonly kind: "sheet";
      readonly id: number;
      readonly sheet: CoordinationSheet;
      readonly done: number;
      readonly left: number;
    }
  | { readonly kind: "coordinated"; readonly id: number }
  | { readonly kind: "normal"; readonly id: number; readonly bands: readonly NormalBand[] }
  /** The race of one of the projects asked about, or why there is none. */
  | {
      readonly kind: "beside";
      readonly id: number;
      readonly index: number;
      readonly outcome: RaceOutcome | null;
      readonly problem: string;
    }
  | { readonly kind: "monitored"; readonly id: number }
  | { readonly kind: "failed"; readonly words: string };

/** A way to the studies: a worker, or what a test puts in its place. */
export interface StudyPort {
  post(message: ToStudy): void;
  /** One listener; it may be called inside `post`. */
  listen(listener: (message: FromStudy) => void): void;
  close(): void;
}
