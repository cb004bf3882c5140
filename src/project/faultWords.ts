/** Every fault in plain sentences: apart from `faults`, for what computes a run needs none of them. */
import { EXCITER_WORDS } from "./faultWords/exciter";
import { GAP_WORDS } from "./faultWords/gap";
import type { FaultWords } from "./faultWords/kind";
import { LOAD_WORDS } from "./faultWords/load";
import { MAINS_WORDS } from "./faultWords/mains";
import { PROTECTION_WORDS } from "./faultWords/protection";
import { SENSOR_WORDS } from "./faultWords/sensor";
import { SUPPLY_WORDS } from "./faultWords/supply";
import { TANK_WORDS } from "./faultWords/tank";
import { TUBE_WORDS } from "./faultWords/tube";
import type { FaultName } from "./scenario";

export const FAULT_WORDS: Readonly<Record<FaultName, FaultWords>> = {
  ...LOAD_WORDS,
  ...GAP_WORDS,
  ...EXCITER_WORDS,
  ...TANK_WORDS,
  ...SUPPLY_WORDS,
  ...MAINS_WORDS,
  ...TUBE_WORDS,
  ...PROTECTION_WORDS,
  ...SENSOR_WORDS,
};
