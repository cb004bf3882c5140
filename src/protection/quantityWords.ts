/** Words and units of everything a monitor may watch, for events and reasons. */
import type { QuantityName, Side } from "../project/protection";
import {
  formatCelsius,
  formatDb,
  formatNumber,
  formatPercent,
  formatQuantity,
  NO_VALUE,
} from "../units/format";

interface Wording {
  readonly words: string;
  readonly unit: "W" | "A" | "V" | "K" | "dB" | "%" | "";
}

export const QUANTITY_WORDS: Readonly<Record<QuantityName, Wording>> = {
  driveForwardW: { words: "drive", unit: "W" },
  driveReflectedW: { words: "reflected drive", unit: "W" },
  outputForwardW: { words: "forward power", unit: "W" },
  outputReflectedW: { words: "reflected power", unit: "W" },
  plateCurrentA: { words: "plate current", unit: "A" },
  gridCurrentA: { words: "grid current", unit: "A" },
  plateV: { words: "plate voltage", unit: "V" },
  plateRfPeakV: { words: "plate RF peak", unit: "V" },
  exhaustAirK: { words: "exhaust air", unit: "K" },
  tankLight: { words: "light in the tank compartment", unit: "%" },
  forwardGainDb: { words: "forward gain", unit: "dB" },
  gainDeviationDb: { words: "gain against expected", unit: "dB" },
  netOutputW: { words: "net output", unit: "W" },
  vswr: { words: "VSWR", unit: "" },
  plateDissipationW: { words: "plate dissipation", unit: "W" },
  efficiency: { words: "efficiency", unit: "%" },
  gridPlateRatio: { words: "grid over plate current", unit: "%" },
  inputReflectedRatio: { words: "reflected share of the drive", unit: "%" },
};

/** A reading with its unit; a dash where there is none. */
export function formatReading(quantity: QuantityName, value: number): string {
  const { unit } = QUANTITY_WORDS[quantity];
  if (!Number.isFinite(value)) return NO_VALUE;
  if (unit === "dB") return formatDb(value);
  if (unit === "K") return formatCelsius(value);
  if (unit === "%") return formatPercent(value);
  return unit === "" ? formatNumber(value) : formatQuantity(value, unit);
}

/** "plate current is 2.31 A, still over 1.90 A" without the verb's subject's judgement: a plain fact. */
export function stillPast(
  quantity: QuantityName,
  side: Side,
  value: number,
  level: number,
): string {
  const { words } = QUANTITY_WORDS[quantity];
  return `${words} is ${formatReading(quantity, value)}, still ${side} ${formatReading(quantity, level)}`;
}
