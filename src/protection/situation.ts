/** What protection is told about the station besides sensed values. Kept by the world; never part of its own state. */
export interface Situation {
  /** Operate rather than standby. */
  readonly operate: boolean;
  readonly mode: "operate" | "tune";
  readonly keyDown: boolean;
  /** Instant of the last key-down, ns; any number while none has happened. */
  readonly keyDownAtNs: number;
  /** The T/R relays' own contacts report transmit, and no trip holds its actuators. */
  readonly transmitConfirmed: boolean;
  /** Instant plate voltage first passed 90 % of no load, ns; null while it has not. */
  readonly supplyReadyAtNs: number | null;
  /** Evaluate and log everything, act on nothing: the unprotected run. */
  readonly inhibited: boolean;
}
