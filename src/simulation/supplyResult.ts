/**
 * What came through a fault of the plate supply, what limited it, and whether the test wire would have survived: a
 * result in words and figures for screen, command line and trials.
 */
import { testWireA2s } from "../physics/supply/copperWire";
import type { BenchEvent } from "./benchEvent";
import type { FaultZero } from "./logic";
import { SUPPLY_ACTUATORS, type SupplyTotals } from "./supplyWatch";

/** Where less than this share of the stored energy was left when something first acted, nothing acted in time. */
const IN_TIME_SHARE = 0.1;

export type SupplyLimit = "surgeResistor" | "crowbar" | "fuse" | "contactor";

export interface SupplyResult extends SupplyTotals {
  /** What kept the rest of the stored energy from the fault; `surgeResistor`: nothing could act in time. */
  readonly limitedBy: SupplyLimit;
  readonly words: string;
  /** Copper-wire test: action integral that melts No. 30 AWG of 6 in (Onderdonk), and whether it survives this one. */
  readonly wireMeltsA2s: number;
  readonly wireSurvives: boolean;
}

const LIMIT_WORDS: Readonly<Record<SupplyLimit, string>> = {
  surgeResistor: "limited by the surge resistor, not by a monitor",
  crowbar: "limited by the crowbar",
  fuse: "limited by the high-voltage fuse",
  contactor: "limited by the contactor",
};

/** Result of a fault that let direct current through; null for every other. `events` are the protected run's. */
export function supplyResult(
  zero: FaultZero,
  totals: SupplyTotals,
  events: readonly BenchEvent[],
): SupplyResult | null {
  if (totals.peakA <= 0) return null;
  const limitedBy = limitOf(zero, totals, events);
  const wireMeltsA2s = testWireA2s();
  return {
    ...totals,
    limitedBy,
    words: LIMIT_WORDS[limitedBy],
    wireMeltsA2s,
    wireSurvives: totals.letThroughA2s < wireMeltsA2s,
  };
}

function limitOf(
  zero: FaultZero,
  { storedJ, leftJ }: SupplyTotals,
  events: readonly BenchEvent[],
): SupplyLimit {
  if (leftJ === null || leftJ < IN_TIME_SHARE * storedJ) return "surgeResistor";
  for (const e of events) {
    if (e.atNs < zero.atNs) continue;
    if (e.kind === "supply" && e.news === "fuseMelted") return "fuse";
    if (e.kind !== "actuator" || e.effect !== "acted") continue;
    const name = SUPPLY_ACTUATORS.find((actuator) => actuator === e.actuator);
    if (name !== undefined) return name;
  }
  return "surgeResistor";
}
