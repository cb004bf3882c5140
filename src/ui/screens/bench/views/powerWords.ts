/** What the plate supply and its filter stand at, in words. */
import { dischargeS } from "../../../../physics/supply/faultEnergy";
import type { Project } from "../../../../project/types";
import type { WorldView } from "../../../../shells/bench/worldView";
import { isPlateAllowed, whyNotReady } from "../../../../simulation/logic";
import { SAFE_V } from "../../../../simulation/supplyWatch";
import { formatQuantity, formatTime } from "../../../../units/format";
import { upperFirst } from "./words";

/** Ready, or why not. */
export function powerWords(world: WorldView, ns: number): string {
  const why = whyNotReady(world, ns);
  return why === "" ? "Ready" : upperFirst(why);
}

/** Voltage of the filter and, with the supply away, how long until it is safe. */
export function filterWords(world: WorldView, { station }: Project, filterV: number): string {
  const { supply } = station;
  const volts = `Filter at ${formatQuantity(filterV, "V")}`;
  const isFed = isPlateAllowed(world.power) && !world.contactorOpen;
  if (isFed || supply.kind !== "rectified") return volts;
  if (filterV < SAFE_V) return `${volts}: verify before touching`;
  const isOpen = world.faults.some((f) => f.fault === "bleederOpen");
  const leftS = dischargeS(supply.filterF, supply.bleederOhm, filterV, SAFE_V);
  return isOpen
    ? `${volts}: stays charged, the bleeder is open`
    : `${volts}: under ${SAFE_V} V in ${formatTime(leftS)}`;
}
