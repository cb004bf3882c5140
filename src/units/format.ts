/**
 * How quantities are written: three significant figures, trailing zeros kept, true minus, no-break space
 * between number and unit, groups of three by a thin space from 10 000.
 *
 * Times use us below 1 ms, ms below 1 s, s above. Ratios carry two figures and a multiplication sign.
 * Sources: SI Brochure, 9th edition, 5.4.3 (space before the unit); NIST SP 811, 10.5.3 (thin-space groups).
 * Valid for finite numbers; anything else is written as an en dash, or "none" where a word is asked.
 */
import { PREFIXES, type Prefix, prefixFactor } from "./prefixes";

export const NO_BREAK_SPACE = "\u00a0";
export const THIN_SPACE = "\u202f";
export const MINUS = "\u2212";
export const NO_VALUE = "\u2013";

/** A number and its unit, apart, so that a drawing may set them in two sizes. */
export interface QuantityParts {
  readonly number: string;
  readonly unit: string;
}

export interface QuantityFormat {
  /** Significant figures, 3 unless said. */
  readonly figures?: number;
  /** A fixed prefix; chosen by size when absent. */
  readonly prefix?: Prefix;
  /** Write a plus sign before positive numbers. */
  readonly signed?: boolean;
}

/** Writes digits made by toPrecision or toFixed the house way: true minus, thin-space groups from 10 000. */
export function dressDigits(digits: string, signed = false): string {
  const negative = digits.startsWith("-");
  const body = negative ? digits.slice(1) : digits;
  const [whole = "", fraction] = body.split(".");
  const isZero = !/[1-9]/.test(body);
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, THIN_SPACE) : whole;
  const sign = negative && !isZero ? MINUS : signed && !isZero ? "+" : "";
  return `${sign}${grouped}${fraction === undefined ? "" : `.${fraction}`}`;
}

/** A plain number to so many significant figures, never in exponent form. */
export function formatNumber(value: number, figures = 3, signed = false): string {
  if (!Number.isFinite(value)) return NO_VALUE;
  if (value === 0) return dressDigits((0).toFixed(Math.max(figures - 1, 0)));
  const rounded = Number(value.toPrecision(figures));
  const size = Math.abs(rounded);
  let wholeDigits = 1;
  for (let limit = 10; size >= limit && wholeDigits < 21; limit *= 10) wholeDigits += 1;
  let leadingZeros = 0;
  for (let limit = 1; size < limit && leadingZeros < 15; limit /= 10) leadingZeros += 1;
  const decimals = size >= 1 ? figures - wholeDigits : figures - 1 + leadingZeros;
  return dressDigits(rounded.toFixed(Math.min(Math.max(decimals, 0), 20)), signed);
}

/**
 * A number told from a limit that it is not: with more figures than `figures` where fewer would not part them, rounded away
 * from it.
 */
export function formatApart(value: number, limit: number, figures = 3): string {
  const side = Math.sign(value - limit);
  if (side === 0) return formatNumber(value, figures);
  let enough = figures;
  while (enough < MOST_FIGURES && side * (Number(value.toPrecision(enough)) - limit) <= 0)
    enough += 1;
  const nearest = Number(value.toPrecision(enough));
  if (side * (nearest - value) >= 0) return formatNumber(nearest, enough);
  const exponent = Number(nearest.toExponential(enough - 1).split("e")[1]);
  return formatNumber(nearest + side * Number(`1e${exponent - enough + 1}`), enough);
}

/** More of them a number does not hold. */
const MOST_FIGURES = 17;

function fixedPrefixNumber(scaled: number, figures: number, signed: boolean): string {
  // Under one of the shown unit more places would only be jitter: 0.000 A, not 0.000123 A.
  if (Math.abs(scaled) < 1) return dressDigits(scaled.toFixed(figures), signed);
  return formatNumber(scaled, figures, signed);
}

/** Number and unit of an SI value, prefixed by size or as asked. */
export function quantityParts(
  value: number,
  unit: string,
  format: QuantityFormat = {},
): QuantityParts {
  const { figures = 3, prefix, signed = false } = format;
  if (!Number.isFinite(value)) return { number: NO_VALUE, unit: `${prefix ?? ""}${unit}` };
  if (prefix !== undefined) {
    return {
      number: fixedPrefixNumber(value / prefixFactor(prefix), figures, signed),
      unit: `${prefix}${unit}`,
    };
  }
  if (value === 0) return { number: formatNumber(0, figures), unit };
  const rounded = Math.abs(Number(value.toPrecision(figures)));
  let chosen = PREFIXES[0] ?? { prefix: "" as const, factor: 1 };
  // Multiplying by 1.000001 keeps 1e-3 from reading as 999.999...e-6 through the last bit of a division.
  for (const entry of PREFIXES) if (rounded * 1.000001 >= entry.factor) chosen = entry;
  return {
    number: formatNumber(value / chosen.factor, figures, signed),
    unit: `${chosen.prefix}${unit}`,
  };
}

/** An SI value with prefix and unit: `2.47 kV`. */
export function formatQuantity(value: number, unit: string, format: QuantityFormat = {}): string {
  const parts = quantityParts(value, unit, format);
  return parts.unit === "" ? parts.number : `${parts.number}${NO_BREAK_SPACE}${parts.unit}`;
}

/** The unit a time is written in: us below 1 ms, ms below 1 s, s above. */
export function timeUnitOf(seconds: number): "µs" | "ms" | "s" {
  const size = Math.abs(Number(seconds.toPrecision(6)));
  if (size === 0 || size >= 1) return "s";
  return size >= 1e-3 ? "ms" : "µs";
}

const TIME_FACTORS = { µs: 1e-6, ms: 1e-3, s: 1 } as const;

/** Number and unit of a time, in a unit of one's own where a sentence must keep to one. */
export function timeParts(
  seconds: number,
  figures = 3,
  unit = timeUnitOf(seconds),
  signed = false,
): QuantityParts {
  if (!Number.isFinite(seconds)) return { number: NO_VALUE, unit };
  return { number: formatNumber(seconds / TIME_FACTORS[unit], figures, signed), unit };
}

/** Figures a time needs, in the unit it is written in, for its last place to be no coarser than `stepS`. */
export function figuresToShow(seconds: number, stepS: number): number {
  const factor = TIME_FACTORS[timeUnitOf(seconds)];
  let places = 0;
  // a millionth more: divided down to 1e-5 a place may be a bit over it
  for (let placeS = factor; placeS > stepS * 1.000001 && places < 9; placeS /= 10) places += 1;
  return String(Math.trunc(Math.abs(seconds) / factor)).length + places;
}

/** A time in the one convention: `50.0 µs`, `4.30 ms`, `2.50 s`. */
export function formatTime(seconds: number, figures = 3): string {
  const parts = timeParts(seconds, figures);
  return `${parts.number}${NO_BREAK_SPACE}${parts.unit}`;
}

/** A level or gain, one decimal: `-6.1 dB`. A reference follows the unit: `dBm`. */
export function formatDb(db: number, reference = ""): string {
  return `${dbNumber(db)}${NO_BREAK_SPACE}dB${reference}`;
}

/** The digits of a level, one decimal. */
export function dbNumber(db: number): string {
  return Number.isFinite(db) ? dressDigits(db.toFixed(1)) : NO_VALUE;
}

/** A margin: two figures and a multiplication sign, `14×`; `0.57×` below one. */
export function formatRatio(ratio: number): string {
  return Number.isFinite(ratio) ? `${formatNumber(ratio, 2)}×` : NO_VALUE;
}

/** By how much somebody is late whose margin is under one: margin 0.024 reads `42× too late`. */
export function formatLate(margin: number): string {
  if (!(margin > 0)) return "never in time";
  return `${formatRatio(1 / margin)} too late`;
}

/** A count with its noun: `1 unit`, `3 units`. */
export function countOf(count: number, one: string, several = `${one}s`): string {
  return `${count} ${count === 1 ? one : several}`;
}

/** A fraction in per cent, without decimals from 0 to 999. */
export function formatPercent(fraction: number): string {
  if (!Number.isFinite(fraction)) return `${NO_VALUE}${NO_BREAK_SPACE}%`;
  return `${dressDigits((fraction * 100).toFixed(0))}${NO_BREAK_SPACE}%`;
}

/** A temperature for the screen, whole degrees Celsius from kelvin. */
export function formatCelsius(kelvin: number): string {
  return Number.isFinite(kelvin)
    ? `${dressDigits((kelvin - 273.15).toFixed(0))}${NO_BREAK_SPACE}°C`
    : NO_VALUE;
}

const UNIT_WORDS: Readonly<Record<string, string>> = {
  V: "volt",
  A: "ampere",
  W: "watt",
  J: "joule",
  Hz: "hertz",
  F: "farad",
  H: "henry",
  Ω: "ohm",
  s: "second",
  m: "metre",
  dB: "decibel",
  "%": "per cent",
  "°C": "degree Celsius",
};
const PREFIX_WORDS: Readonly<Record<Prefix, string>> = {
  p: "pico",
  n: "nano",
  µ: "micro",
  m: "milli",
  "": "",
  k: "kilo",
  M: "mega",
  G: "giga",
};

/** The same quantity in words, for a screen reader: `50.0 milliampere`. */
export function spokenQuantity(value: number, unit: string, format: QuantityFormat = {}): string {
  const word = UNIT_WORDS[unit] ?? unit;
  if (!Number.isFinite(value)) return "no reading";
  if (unit === "dB") return spokenNumber(dbNumber(value), word);
  if (unit === "%") return spokenNumber(dressDigits((value * 100).toFixed(0)), word);
  const parts = quantityParts(value, unit, format);
  const prefix = PREFIXES.find((entry) => `${entry.prefix}${unit}` === parts.unit)?.prefix ?? "";
  return spokenNumber(parts.number, `${PREFIX_WORDS[prefix]}${word}`);
}

function spokenNumber(number: string, word: string): string {
  return `${number.replace(MINUS, "minus ").replaceAll(THIN_SPACE, "")} ${word}`.trim();
}
