/** What protection reports: one plain value for each thing that happened, in the order it happened. */
import type { ActuatorName, MonitorRole, QuantityName } from "../project/protection";

export type ProtectionEventKind =
  | "notArmed"
  | "armed"
  | "pickup"
  | "dropOff"
  | "alarm"
  | "alarmDropOff"
  | "operate"
  | "trip"
  | "lockout"
  | "selfReset"
  | "reset"
  | "resetRefused"
  | "acknowledge"
  | "configured"
  | "keyDownLimit"
  | "keyDownLimitOver";

export interface ProtectionEvent {
  readonly kind: ProtectionEventKind;
  readonly atNs: number;
  /** A monitor's id, or KEY_DOWN_LIMIT_ID. */
  readonly monitorId: string;
  readonly role: MonitorRole;
  /** Index of the criterion concerned, -1 where none is. */
  readonly criterion: number;
  readonly quantity: QuantityName | null;
  /** Reading (or heat image) at the event, null without one. */
  readonly value: number | null;
  /** The level it is compared with: pickup, drop-off, alarm. */
  readonly level: number | null;
  /** The first trip since everything was last reset. */
  readonly firstUp: boolean;
  /** `trip`, `keyDownLimit`: commanded now. `reset`, `selfReset`, `keyDownLimitOver`: released now. */
  readonly actions: readonly ActuatorName[];
  /** In words, where something needs a reason; else empty. */
  readonly reason: string;
}

export type Emit = (event: ProtectionEvent) => void;

/** The supervision of key-down time in tune mode, which is no monitor. */
export const KEY_DOWN_LIMIT_ID = "tuneKeyDownLimit";

/** An event with everything that is not said left empty. */
export function protectionEvent(
  kind: ProtectionEventKind,
  atNs: number,
  monitorId: string,
  role: MonitorRole,
  more: Partial<ProtectionEvent> = {},
): ProtectionEvent {
  return {
    kind,
    atNs,
    monitorId,
    role,
    criterion: -1,
    quantity: null,
    value: null,
    level: null,
    firstUp: false,
    actions: [],
    reason: "",
    ...more,
  };
}
