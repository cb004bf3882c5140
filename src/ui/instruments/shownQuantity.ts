/** A quantity as a reading shows it: nothing at all is a plain 0, not a row of noughts. */
import { type QuantityFormat, type QuantityParts, quantityParts } from "../../units/format";

export function shownParts(
  value: number,
  unit: string,
  format: QuantityFormat = {},
): QuantityParts {
  const parts = quantityParts(value, unit, format);
  return /^0[.0]*$/.test(parts.number) ? { number: "0", unit: parts.unit } : parts;
}

/** The same in one string: `0 W`, `143 W`. */
export function shownQuantity(value: number, unit: string, format: QuantityFormat = {}): string {
  const parts = shownParts(value, unit, format);
  return parts.unit === "" ? parts.number : `${parts.number}\u00a0${parts.unit}`;
}
