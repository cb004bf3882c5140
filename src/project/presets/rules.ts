/** What preset monitors are put together from: arming, reset rules, actions, the two sides of a pickup. */
import type { ActuatorName, Arming, Criterion, ResetRule } from "../protection";

export const ALWAYS: Arming = {
  kind: "always",
  driveAboveW: 0,
  settledS: 0,
  holdS: 0,
  when: [],
  afterSupplyReadyS: 0,
};

/** Operate, T/R confirmed closed, 10 ms after drive first passed 5 W; under 5 W counts are held for 100 ms. */
export const ON_AIR: Arming = {
  kind: "onAir",
  driveAboveW: 5,
  settledS: 0.01,
  holdS: 0.1,
  when: [],
  afterSupplyReadyS: 0,
};

export const BY_HAND: ResetRule = {
  kind: "byHand",
  afterS: 0,
  tries: 0,
  withinS: 0,
  repeatWithinS: 0,
  when: [],
};

export const LOCKOUT: ResetRule = { ...BY_HAND, kind: "lockout" };

/** One try after 2 s; a further operation inside a minute is a lockout. */
export const ONE_RETRY: ResetRule = { ...BY_HAND, kind: "self", afterS: 2, tries: 1, withinS: 60 };

export const DRIVE: readonly ActuatorName[] = ["driveInhibit"];
export const DRIVE_CATHODE: readonly ActuatorName[] = ["driveInhibit", "cathodeCutoff"];
export const ALL: readonly ActuatorName[] = [
  "driveInhibit",
  "cathodeCutoff",
  "transmitReceive",
  "contactor",
];

const SCAN_S = 1e-3;

/** What most monitors share: acting, scanned every 1 ms without smoothing, always armed, no blanking. */
export const SCANNED = {
  role: "acting",
  tuneRole: "acting",
  path: "scanned",
  scanS: SCAN_S,
  smoothingS: 0,
  arming: ALWAYS,
  blankingS: 0,
} as const;

/** Looks at nothing until somebody switches it on. */
export const OFF = { role: "off", tuneRole: "off" } as const;

export function celsius(degrees: number): number {
  return degrees + 273.15;
}

/** Over a pickup for a time, reset ratio 0.95 unless said. */
export function over(
  quantity: Criterion["quantity"],
  pickup: number,
  delayS: number,
  when: Criterion["when"] = [],
  dropOff = 0.95 * pickup,
): Criterion {
  return {
    quantity,
    side: "over",
    pickup,
    dropOff,
    timing: { kind: "definite", delayS },
    when,
  };
}

/** Under a pickup for a time, reset ratio 1.05. */
export function under(
  quantity: Criterion["quantity"],
  pickup: number,
  delayS: number,
  when: Criterion["when"] = [],
): Criterion {
  return { ...over(quantity, pickup, delayS, when), side: "under", dropOff: 1.05 * pickup };
}
