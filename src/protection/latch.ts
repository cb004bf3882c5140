/**
 * Trip memory: what holds the actuators after a monitor has operated, and how it lets go.
 *
 * By hand: until a person resets. Self: tries again after a time, so many times inside a window; the operation after
 * the last try is a lockout. Lockout: a person at once. A repeat inside its time is a lockout whatever the rule.
 */
import type { ActuatorName, ResetRule } from "../project/protection";

export interface Latch {
  readonly kind: "free" | "trip" | "lockout";
  /** Instant of the last trip, ns; -1 before the first. */
  readonly atNs: number;
  readonly firstUp: boolean;
  readonly acknowledged: boolean;
  /** Trips since the start. */
  readonly trips: number;
  /** Instants of the self-resets that still count, ns, oldest first. */
  readonly selfResetsNs: readonly number[];
}

export const FREE_LATCH: Latch = {
  kind: "free",
  atNs: -1,
  firstUp: false,
  acknowledged: false,
  trips: 0,
  selfResetsNs: [],
};

/** Why a trip became a lockout, in words; empty while it did not. */
export interface LatchedTrip {
  readonly latch: Latch;
  readonly lockoutReason: string;
}

/** The latch after an acting monitor operated at `atNs`. */
export function latchTrip(
  latch: Latch,
  rule: ResetRule,
  atNs: number,
  firstUp: boolean,
): LatchedTrip {
  const selfResetsNs = latch.selfResetsNs.filter((ns) => atNs - ns < rule.withinS * 1e9);
  const lockoutReason = lockoutReasonOf(latch, rule, atNs, selfResetsNs.length);
  return {
    latch: {
      kind: lockoutReason === "" ? "trip" : "lockout",
      atNs,
      firstUp,
      acknowledged: false,
      trips: latch.trips + 1,
      selfResetsNs,
    },
    lockoutReason,
  };
}

function lockoutReasonOf(latch: Latch, rule: ResetRule, atNs: number, tries: number): string {
  if (rule.kind === "lockout") return "locks out at once";
  if (rule.kind === "self" && tries >= rule.tries)
    return tries === 0 ? "no tries allowed" : `${tries} of ${rule.tries} tries used`;
  if (rule.repeatWithinS > 0 && latch.atNs >= 0 && atNs - latch.atNs <= rule.repeatWithinS * 1e9)
    return `second operation inside ${rule.repeatWithinS} s`;
  return "";
}

/** Whether a self-reset is due at `atNs`; the condition must have gone besides. */
export function isSelfResetDue(latch: Latch, rule: ResetRule, atNs: number): boolean {
  return latch.kind === "trip" && rule.kind === "self" && atNs - latch.atNs >= rule.afterS * 1e9;
}

/** The latch after it let go by itself. */
export function selfReset(latch: Latch, atNs: number): Latch {
  return { ...latch, kind: "free", firstUp: false, selfResetsNs: [...latch.selfResetsNs, atNs] };
}

/** The latch after a person reset it: all tries are back. */
export function handReset(latch: Latch): Latch {
  return { ...latch, kind: "free", firstUp: false, selfResetsNs: [] };
}

const ORDER: readonly ActuatorName[] = [
  "crowbar",
  "driveInhibit",
  "cathodeCutoff",
  "transmitReceive",
  "contactor",
];

/** The union of several lists of actions, in the order the actuators act. */
export function unionOfActions(
  lists: readonly (readonly ActuatorName[])[],
): readonly ActuatorName[] {
  return ORDER.filter((name) => lists.some((list) => list.includes(name)));
}
