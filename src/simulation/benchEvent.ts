/** What the bench logs, in the order it happened. One union for screen, command line and tests. */

import type { Command, FaultName, PartName } from "../project/scenario";
import type { ArcPlace } from "../project/station";
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
  | ({ readonly kind: "protection" } & { readonly atNs: number; readonly event: ProtectionEvent });

/** What of an event enters the hash: kind, instant and what is specific to it. */
export function eventText(event: BenchEvent): string {
  switch (event.kind) {
    case "command":
      return `c${event.atNs}${event.command.do}${event.refused}`;
    case "protection":
      return `p${event.atNs}${event.event.kind}${event.event.monitorId}${event.event.criterion}`;
    case "milestone":
      return `m${event.atNs}${event.part}${event.milestone}${event.edge}`;
    case "strike":
    case "arcOut":
      return `${event.kind}${event.atNs}${event.place}`;
    case "actuator":
      return `a${event.atNs}${event.actuator}${event.effect}`;
    case "faultZero":
      return `z${event.atNs}${event.fault}${event.part}`;
    case "sequence":
      return `s${event.atNs}${event.step}`;
    default:
      return `${event.kind}${event.atNs}`;
  }
}
