/**
 * The faults a person can place: on which part, and what their severity means; `faultWords` says the rest.
 *
 * `severity` is one number whose meaning and unit depend on the fault; the table gives its range and its
 * usual value. Ranges are what the model can stand, defaults are what the demonstrations use. "Never by
 * hand" marks what must not be tried on real equipment even by somebody who knows it well.
 */
import { EXCITER_FAULTS } from "./faults/exciter";
import { GAP_FAULTS } from "./faults/gap";
import type { FaultKind } from "./faults/kind";
import { LOAD_FAULTS } from "./faults/load";
import { MAINS_FAULTS } from "./faults/mains";
import { PROTECTION_FAULTS } from "./faults/protection";
import { SENSOR_FAULTS } from "./faults/sensor";
import { SUPPLY_FAULTS } from "./faults/supply";
import { TANK_FAULTS } from "./faults/tank";
import { TUBE_FAULTS } from "./faults/tube";
import type { FaultName, Onset, PartName } from "./scenario";

export const FAULTS: Readonly<Record<FaultName, FaultKind>> = {
  ...LOAD_FAULTS,
  ...GAP_FAULTS,
  ...EXCITER_FAULTS,
  ...TANK_FAULTS,
  ...SUPPLY_FAULTS,
  ...MAINS_FAULTS,
  ...TUBE_FAULTS,
  ...PROTECTION_FAULTS,
  ...SENSOR_FAULTS,
};

export const FAULT_NAMES = Object.keys(FAULTS) as readonly FaultName[];

/** Whether the fault can be placed on the part. */
export function faultFits(fault: FaultName, part: PartName): boolean {
  return FAULTS[fault].parts.includes(part);
}

/** Whether the fault can come in this way: one that waits for its call is there or not unless it says otherwise, some cannot grow. */
export function onsetFits(fault: FaultName, onset: Onset): boolean {
  const { latent, onsets } = FAULTS[fault];
  if (onset.kind === "sudden") return true;
  return onsets === undefined ? !latent : onsets.includes(onset.kind);
}

/** Severity a fault has on a part when nobody says otherwise. */
export function usualSeverity(fault: FaultName, part: PartName): number {
  const kind = FAULTS[fault];
  return kind.usualOn?.[part] ?? kind.severity.usual;
}

/** The faults that can be placed on a part, in the order of the table. */
export function faultsOn(part: PartName): readonly FaultKind[] {
  return FAULT_NAMES.map((name) => FAULTS[name]).filter((kind) => kind.parts.includes(part));
}
