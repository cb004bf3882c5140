/**
 * When the plate supply counts as ready: at the end of the first sample in which the plate voltage as it is sensed
 * passes 90 % of its no-load value with the contactor closed. Only what switches the supply makes it unready
 * again; a supply that fails stays "ready" and is the undervoltage monitor's business.
 */
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import { isPlateAllowed, type Logic } from "./logic";

/** Share of the no-load voltage that counts as ready; common practice, no source. */
const READY_SHARE = 0.9;
const PLATE_V = SENSOR_NAMES.indexOf("plateV");

/** The logic after a sample that ended at `endNs` with these sensor readings. */
export function noteSupplyReady(
  logic: Logic,
  sensedRow: Float64Array,
  noLoadV: number,
  endNs: number,
): Logic {
  const { power, contactorOpen, supplyReadyAtNs } = logic;
  const isFed = isPlateAllowed(power) && !contactorOpen;
  if (supplyReadyAtNs !== null || !isFed) return logic;
  if (!((sensedRow[PLATE_V] as number) >= READY_SHARE * noLoadV)) return logic;
  return { ...logic, supplyReadyAtNs: endNs };
}
