/**
 * The words a monitor, a lane or a mark may carry, and the other marks that stand in a record.
 * Terms of protective relaying (IEC 60255, IEEE C37.100) and of alarm management (ISA-18.2).
 */
export type StateWord =
  | "no pickup"
  | "not armed"
  | "pickup"
  | "alarm"
  | "operate"
  | "trip"
  | "drop-off"
  | "acknowledged"
  | "lockout"
  | "reset"
  | "shadow"
  | "off";

/** Marks in lists and on the record: state words, and what else happens. */
export type MarkName = StateWord | "shadow pickup" | "operate ahead" | "strike" | "change" | "due";

export const STATE_WORDS: readonly StateWord[] = [
  "no pickup",
  "not armed",
  "pickup",
  "alarm",
  "operate",
  "trip",
  "drop-off",
  "acknowledged",
  "lockout",
  "reset",
  "shadow",
  "off",
];

/** What each word means, one line, for keys and help. */
export const STATE_MEANINGS: Readonly<Record<StateWord, string>> = {
  "no pickup": "quantity on its normal side",
  "not armed": "arming condition not met, the monitor waits",
  pickup: "timing has begun",
  alarm: "the earlier warning level is passed",
  operate: "the monitor has given its output",
  trip: "the action on the power stage",
  "drop-off": "back past the drop-off value",
  acknowledged: "operated, seen by a person",
  lockout: "waits for a person",
  reset: "released, shown for 2 s",
  shadow: "would have; never acts",
  off: "switched off in the project",
};
