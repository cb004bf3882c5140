/** What the bench logs, in the order it happened. One union for screen, command line and tests. */
import type { ArcPlace, Command, FaultName, PartName } from "../project/types";
import type { ProtectionEvent } from "../protection/events";
import type { EdgeVariant } from "./worldLayout";

export type DamagePart = ArcPlace | "grid" | "anode" | "cathode" | "exciter";

export type Milestone = "meltOnset" | "halfMilligram" | "bead" | "bridged" | "damage";

export type BenchEvent =
  | {
      readonly kind: "command";
      readonly atNs: number;
      readonly command: Command;
      readonly refused: string;
    }
  | {
      readonly kind: "faultZero";
      readonly atNs: number;
      readonly fault: FaultName;
      readonly part: PartName;
      readonly struck: ArcPlace | null;
    }
  | {
      readonly kind: "strike";
      readonly atNs: number;
      readonly place: ArcPlace;
      readonly peakV: number;
    }
  | {
      readonly kind: "arcOut";
      readonly atNs: number;
      readonly place: ArcPlace;
      readonly energyJ: number;
      readonly burnedNs: number;
    }
  | {
      readonly kind: "actuator";
      readonly atNs: number;
      readonly actuator: "driveInhibit" | "cathodeCutoff" | "transmitReceive" | "contactor";
      readonly effect: "acted" | "released" | "failed";
    }
  | {
      readonly kind: "sequence";
      readonly atNs: number;
      readonly step: "transmit" | "receive" | "driveOn" | "driveOff";
    }
  | { readonly kind: "cleared"; readonly atNs: number }
  | {
      readonly kind: "milestone";
      readonly atNs: number;
      readonly part: DamagePart;
      readonly milestone: Milestone;
      readonly edge: EdgeVariant;
    }
  | { readonly kind: "notice"; readonly atNs: number; readonly text: string }
  | ({ readonly kind: "protection" } & { readonly atNs: number; readonly event: ProtectionEvent });
