/** What the bench logs, in the order it happened. One union for screen, command line and tests. */

import type { ClockPart } from "../physics/heat/clocks";
import type { ActuatorName } from "../project/protection";
import type { Command, FaultName, PartName } from "../project/scenario";
import type { ArcPlace } from "../project/station";
import type { ProtectionEvent } from "../protection/events";
import type { EdgeVariant } from "./worldLayout";

export type DamagePart = ArcPlace | ClockPart;

export type Milestone = "meltOnset" | "halfMilligram" | "bead" | "bridged" | "damage";

/** What becomes of the plate supply and of the power that feeds it. */
export type SupplyNews =
  | "heaterOn"
  | "warm"
  | "stepStart"
  | "supplyOn"
  | "supplyOff"
  | "powerOff"
  | "fanOff"
  /** The filter has fallen to 50 V after its supply was taken away. */
  | "discharged"
  | "fuseMelted"
  | "dcArcOut"
  /** Blocking capacitor shorted and safety choke open. */
  | "antennaLive";

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
  /** Metal that bridged a gap has been taken off. */
  | { readonly kind: "mended"; readonly atNs: number; readonly place: ArcPlace }
  /** The arc's law holds for other currents than this one. */
  | {
      readonly kind: "outsideArcLaw";
      readonly atNs: number;
      readonly place: ArcPlace;
      readonly peakA: number;
    }
  | {
      readonly kind: "actuator";
      readonly atNs: number;
      readonly actuator: ActuatorName;
      readonly effect: "acted" | "released" | "failed";
    }
  | {
      readonly kind: "sequence";
      readonly atNs: number;
      readonly step: "transmit" | "receive" | "driveOn" | "driveOff";
    }
  | { readonly kind: "supply"; readonly atNs: number; readonly news: SupplyNews }
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
    case "mended":
    case "outsideArcLaw":
      return `${event.kind}${event.atNs}${event.place}`;
    case "actuator":
      return `a${event.atNs}${event.actuator}${event.effect}`;
    case "faultZero":
      return `z${event.atNs}${event.fault}${event.part}`;
    case "sequence":
      return `s${event.atNs}${event.step}`;
    case "supply":
      return `u${event.atNs}${event.news}`;
    default:
      return `${event.kind}${event.atNs}`;
  }
}
