/**
 * States of one monitor: plain immutable values, so that a snapshot is a reference. Times are whole scans counted
 * from t = 0, -1 for "not running".
 */

export interface CriterionState {
  /** Past its pickup and not yet back past its drop-off. */
  readonly picked: boolean;
  /** Scan at which the confirmation began; moved later by scans that were held. */
  readonly sinceScan: number;
  /**
   * What the timing keeps between scans: instantaneous, the picked flags of the last scans as bits; inverse, the
   * travel from 0 to 1; thermal, the heat image in units of the quantity; definite, nothing (0).
   */
  readonly memory: number;
}

interface Watch {
  /** Scan at which drive first passed its floor in this transmission. */
  readonly settlingSinceScan: number;
  /** Scan at which drive fell under its floor while something was counting. */
  readonly heldSinceScan: number;
  readonly criteria: readonly CriterionState[];
  /** Scan at which the reading was first past the alarm level. */
  readonly alarmSinceScan: number;
  readonly alarmed: boolean;
}

/** The conditions for watching do not hold; counts are clear. */
export interface NotArmed extends Watch {
  readonly kind: "notArmed";
}
/** Armed, nothing past its pickup. */
export interface NoPickup extends Watch {
  readonly kind: "noPickup";
}
/** At least one criterion is past its pickup and being confirmed. */
export interface Pickup extends Watch {
  readonly kind: "pickup";
}
/** Confirmed. Only a reset leaves this state; the criteria go on telling whether the condition persists. */
export interface Operate extends Watch {
  readonly kind: "operate";
  readonly atScan: number;
  readonly criterion: number;
  readonly value: number;
}

export type MonitorState = NotArmed | NoPickup | Pickup | Operate;

export const CRITERION_AT_REST: CriterionState = { picked: false, sinceScan: -1, memory: 0 };

/** A monitor that has seen nothing yet; one that is armed at any time starts at "no pickup". */
export function initialMonitorState(
  criteria: number,
  kind: "notArmed" | "noPickup" = "notArmed",
): MonitorState {
  return {
    kind,
    settlingSinceScan: -1,
    heldSinceScan: -1,
    criteria: new Array<CriterionState>(criteria).fill(CRITERION_AT_REST),
    alarmSinceScan: -1,
    alarmed: false,
  };
}

/** Whether any criterion is still past its drop-off. */
export function persists(state: MonitorState): boolean {
  for (let i = 0; i < state.criteria.length; i++) if (state.criteria[i]?.picked) return true;
  return false;
}
