/** Monitor definitions made for tests, small and with numbers that are all different. */
import { ALWAYS, BY_HAND } from "../../src/project/presets/rules";
import type { Criterion, MonitorDef } from "../../src/project/protection";

/** Grid current over 0.2 A for 5 ms, drop-off 0.18 A, unless said. */
export function criterion(more: Partial<Criterion> = {}): Criterion {
  return {
    quantity: "gridCurrentA",
    side: "over",
    pickup: 0.2,
    dropOff: 0.18,
    timing: { kind: "definite", delayS: 5e-3 },
    when: [],
    ...more,
  };
}

export function monitor(more: Partial<MonitorDef> = {}): MonitorDef {
  return {
    id: "grid",
    name: "Grid",
    deviceNumber: "",
    role: "acting",
    tuneRole: "acting",
    path: "scanned",
    scanS: 1e-3,
    smoothingS: 0,
    arming: ALWAYS,
    blankingS: 0,
    criteria: [criterion()],
    alarm: null,
    actions: ["driveInhibit", "cathodeCutoff"],
    reset: BY_HAND,
    ...more,
  };
}
