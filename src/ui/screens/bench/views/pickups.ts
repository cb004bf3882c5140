/** Pickups drawn as lines on charts. */
import type { MonitorDef } from "../../../../project/protection";

/** Pickup of a monitor's first criterion; null where it is off or not there. */
export function criterionPickup(settings: readonly MonitorDef[], id: string): number | null {
  const def = settings.find((m) => m.id === id);
  return def === undefined || def.role === "off" ? null : (def.criteria[0]?.pickup ?? null);
}
