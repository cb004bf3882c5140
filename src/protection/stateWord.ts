/** The one word that stands beside a monitor's mark. */
import type { MonitorDef } from "../project/protection";
import type { MonitorState } from "./interpreter/monitorState";
import type { Latch } from "./latch";
import { roleOf } from "./protectionState";
import type { Situation } from "./situation";

export type StateWord =
  | "off"
  | "not armed"
  | "no pickup"
  | "pickup"
  | "alarm"
  | "operate"
  | "trip"
  | "acknowledged"
  | "lockout";

/** What weighs most comes first: lockout, trip, operate, pickup, alarm. A shadow monitor says what it would do. */
export function stateWord(
  def: MonitorDef,
  monitor: MonitorState,
  latch: Latch,
  situation: Situation,
): StateWord {
  if (latch.kind === "lockout") return "lockout";
  if (latch.kind === "trip") return latch.acknowledged ? "acknowledged" : "trip";
  if (roleOf(def, situation) === "off") return "off";
  if (monitor.kind === "operate") return "operate";
  if (monitor.kind === "pickup") return "pickup";
  if (monitor.alarmed) return "alarm";
  return monitor.kind === "notArmed" ? "not armed" : "no pickup";
}
