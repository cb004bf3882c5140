/** Events a person jumps between, and those the lens slows for. */
import { FAULTS } from "../project/faults";
import type { BenchEvent } from "../simulation/benchEvent";
import type { LensEvents } from "./lens";

/** A fault that has been placed and has not struck after so long will not for now. */
const STRIKE_SOON_NS = 1e6;

/**
 * Instants of fault starts, of each monitor's first pickup after one, of every operation, trip, clearing and
 * melting (nominal estimate), in order.
 */
export function landmarksOf(events: readonly BenchEvent[]): readonly number[] {
  const instants = new Set<number>();
  let picked = new Set<string>();
  for (const e of events) {
    switch (e.kind) {
      case "faultZero":
        picked = new Set();
        instants.add(e.atNs);
        break;
      case "strike":
      case "arcOut":
      case "cleared":
        instants.add(e.atNs);
        break;
      case "milestone":
        if (e.edge === "nominal") instants.add(e.atNs);
        break;
      case "protection": {
        const { kind, monitorId } = e.event;
        if (kind === "operate" || kind === "trip" || kind === "lockout") instants.add(e.atNs);
        if (kind === "pickup" && !picked.has(monitorId)) {
          picked.add(monitorId);
          instants.add(e.atNs);
        }
        break;
      }
      case "command":
        if (e.command.do === "placeFault") instants.add(e.atNs);
        break;
      default:
        break;
    }
  }
  return [...instants].sort((a, b) => a - b);
}

/** The fault start before the play head and the one after it, the scenario's plan included. */
export function lensEvents(
  events: readonly BenchEvent[],
  playNs: number,
  plannedNs: number | null,
): LensEvents {
  let lastNs: number | null = null;
  let nextNs = plannedNs !== null && plannedNs > playNs ? plannedNs : null;
  for (const e of events) {
    const { atNs } = e;
    const isZero = e.kind === "faultZero";
    const isPlaced =
      e.kind === "command" &&
      e.command.do === "placeFault" &&
      !FAULTS[e.command.fault].latent &&
      playNs - atNs < STRIKE_SOON_NS;
    if (!isZero && !isPlaced) continue;
    if (atNs <= playNs) lastNs = Math.max(lastNs ?? -Infinity, atNs);
    else if (isZero) nextNs = Math.min(nextNs ?? Infinity, atNs);
  }
  return { lastNs, nextNs };
}
