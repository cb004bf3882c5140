/**
 * How far a placed fault is there at an instant: at once and for good, growing, coming and going, or for a time.
 *
 * The share runs from 0 (as if it had never been placed) to 1 (all of its severity). A growing fault rises in a straight
 * line; an intermittent one is all there or not at all, on a pattern that the project's seed fixes and that is the same
 * however the time is cut into pieces.
 */
import { contactMade, nextContactChangeNs } from "../physics/feeder/moving";
import { FAULTS } from "../project/faults";
import type { FaultName } from "../project/scenario";
import { nanoseconds } from "../units/nanoseconds";
import type { PlacedFault } from "./logic";

/** Share of the fault that is there at `ns`, 0 to 1. */
export function presenceOf(f: PlacedFault, ns: number): number {
  const { onset } = f;
  switch (onset.kind) {
    case "sudden":
      return 1;
    case "passing":
      return ns < f.placedNs + onset.forS * 1e9 ? 1 : 0;
    case "growing": {
      const grown = (ns - f.placedNs) / (onset.overS * 1e9);
      return grown >= 1 ? 1 : Math.max(grown, 0);
    }
    case "intermittent":
      // the pattern's broken time is when the fault is there; it counts from the placing
      return contactMade(ns - f.placedNs, f.seed, onset.share) ? 0 : 1;
  }
}

/** Share of the fault in a piece of time that ends at `ns`: what comes or goes at this very instant has not done so yet. */
export function presenceUntil(f: PlacedFault, ns: number): number {
  const isStep = f.onset.kind === "intermittent" || f.onset.kind === "passing";
  return presenceOf(f, isStep ? ns - 1 : ns);
}

/**
 * Next instant after `ns` at which an intermittent fault comes or goes, a passing one ends, the switch it turns has
 * arrived, or a growing one breaks down; Infinity for every other.
 */
export function nextOnsetNs(f: PlacedFault, ns: number): number {
  if (f.onset.kind === "passing") {
    const overNs = f.placedNs + Math.ceil(f.onset.forS * 1e9);
    return overNs > ns ? overNs : Infinity;
  }
  if (f.onset.kind === "growing") {
    const grownNs = f.placedNs + Math.ceil(f.onset.overS * 1e9);
    return breaksDown(f) && ns < grownNs ? grownNs : Infinity;
  }
  if (f.onset.kind !== "intermittent") {
    const arrivesNs = f.placedNs + nanoseconds(FAULTS[f.fault].travelS ?? 0);
    return ns < arrivesNs ? arrivesNs : Infinity;
  }
  return f.placedNs + nextContactChangeNs(ns - f.placedNs, f.seed, f.onset.share);
}

/** Severe enough to end in a flashover once all of it is there. */
function breaksDown({ fault, severity }: PlacedFault): boolean {
  return severity >= (FAULTS[fault].breaksDownFrom ?? Infinity);
}

/** Has become a flashover in the piece of time that ends at `ns`. */
export function hasBrokenDown(f: PlacedFault, ns: number): boolean {
  return breaksDown(f) && presenceOf(f, ns - 1) >= 1;
}

/** Seed of a fault's pattern: every fault has one of its own, whatever stands beside it in the table. */
export function patternSeed(fault: FaultName, projectSeed: number): number {
  let hash = projectSeed >>> 0;
  for (let i = 0; i < fault.length; i++) hash = Math.imul(hash ^ fault.charCodeAt(i), 16777619);
  return hash >>> 0;
}
