/**
 * The one reader of typed quantities: number, prefix, unit, in SI out.
 *
 * Prefixes are case-sensitive (m milli, M mega, `meg` mega). Point and comma are both decimal marks; with both in one
 * number the later one is. A lone comma before exactly three digits may also be a group mark: that is refused with both
 * readings offered. A lone point is always a decimal mark, since every number the program writes uses it so.
 * Exponents (`1e-3`) are read. Never throws: what cannot be read comes back as a problem with suggestions.
 */
import { formatQuantity, MINUS, NO_BREAK_SPACE } from "./format";
import { PLAIN_UNITS, PREFIXES, type Prefix } from "./prefixes";

export type ParsedQuantity =
  | { readonly ok: true; readonly value: number; readonly echo: string }
  | { readonly ok: false; readonly problem: string; readonly suggestions: readonly string[] };

export interface ParseOptions {
  /** What a number without letters is taken to be, where the field stands in milliampere or milliseconds. */
  readonly bare?: Prefix;
}

const NUMBER = /^([+-]?)(\d[\d.,]*|[.,]\d+)(?:[eE]([+-]?\d{1,3}))?(.*)$/;

type Digits =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly readings: readonly string[] };

/** Turns digits with points and commas into digits with one point, or says how they could be read. */
function readDigits(written: string): Digits {
  const points = written.split(".").length - 1;
  const commas = written.split(",").length - 1;
  if (points > 0 && commas > 0) {
    const decimal = written.lastIndexOf(".") > written.lastIndexOf(",") ? "." : ",";
    const group = decimal === "." ? "," : ".";
    const [whole = "", fraction = "", ...rest] = written.split(decimal);
    return rest.length === 0 && grouped(whole, group)
      ? { ok: true, text: `${whole.replaceAll(group, "")}.${fraction}` }
      : { ok: false, readings: [] };
  }
  const mark = points > 0 ? "." : ",";
  const count = points + commas;
  if (count > 1)
    return grouped(written, mark)
      ? { ok: true, text: written.replaceAll(mark, "") }
      : { ok: false, readings: [] };
  if (commas === 1 && /^[1-9]\d{0,2},\d{3}$/.test(written)) {
    return { ok: false, readings: [written.replace(",", "."), written.replace(",", "")] };
  }
  return { ok: true, text: written.replace(",", ".") };
}

function grouped(text: string, mark: string): boolean {
  const [head = "", ...groups] = text.split(mark);
  return /^\d{1,3}$/.test(head) && groups.every((group) => /^\d{3}$/.test(group));
}

type Scale = { readonly factor: number; readonly offset: number };

/** What the letters after the number multiply by, or null when they say something else. */
function readSuffix(suffix: string, unit: string): Scale | null {
  const plain = PLAIN_UNITS[unit];
  if (plain !== undefined)
    return suffix === "" || suffix.toLowerCase() === unit.toLowerCase() ? plain : null;
  if (suffix === "" || suffix === unit) return { factor: 1, offset: 0 };
  const rest = endsWithUnit(suffix, unit) ? suffix.slice(0, -unit.length) : suffix;
  if (rest === "") return { factor: 1, offset: 0 };
  if (/^meg$/i.test(rest)) return { factor: 1e6, offset: 0 };
  const letter = rest === "u" || rest === "\u03bc" ? "µ" : rest;
  const entry = PREFIXES.find(({ prefix }) => prefix !== "" && prefix === letter);
  return entry === undefined ? null : { factor: entry.factor, offset: 0 };
}

function endsWithUnit(suffix: string, unit: string): boolean {
  if (suffix.endsWith(unit)) return true;
  // Letter case of the unit is forgiven where it cannot be mistaken for a prefix; m alone stays milli.
  return unit !== "m" && suffix.toLowerCase().endsWith(unit.toLowerCase());
}

function suggestionsFor(number: string, suffix: string, unit: string): readonly string[] {
  if (PLAIN_UNITS[unit] !== undefined) return [`${number} ${unit}`.trim()];
  const turned = suffix.startsWith("K") ? `k${suffix.slice(1)}` : suffix.toLowerCase();
  const readable =
    turned !== suffix && readSuffix(turned, unit) !== null
      ? `${number} ${turned.endsWith(unit) || turned.length > 1 ? turned : turned + unit}`
      : null;
  return readable === null
    ? [`${number} ${unit}`, `${number} m${unit}`]
    : [readable, `${number} ${unit}`];
}

/** Shows how a value was understood. */
export function echoQuantity(value: number, unit: string): string {
  const plain = PLAIN_UNITS[unit];
  if (plain === undefined)
    return formatQuantity(value, unit, { figures: 6 })
      .replace(/(\.\d*?)0+(?=\D|$)/, "$1")
      .replace(/\.(?=\D|$)/, "");
  const written = Number(((value - plain.offset) / plain.factor).toPrecision(10));
  const number = String(written).replace("-", MINUS);
  return unit === "" ? number : `${number}${NO_BREAK_SPACE}${unit}`;
}

/** Reads what somebody typed as a quantity of one unit. The value is SI: per cent comes back as a fraction, degrees Celsius as kelvin. */
export function parseQuantity(
  typed: string,
  unit: string,
  options: ParseOptions = {},
): ParsedQuantity {
  const text = typed.replace(/[\s\u00a0\u2009\u202f']/g, "").replaceAll(MINUS, "-");
  if (text === "") return { ok: false, problem: "Nothing was typed.", suggestions: [] };
  const match = NUMBER.exec(text);
  if (match === null)
    return {
      ok: false,
      problem: `"${typed.trim()}" does not begin with a number.`,
      suggestions: [],
    };
  const [, sign = "", written = "", exponent, suffix = ""] = match;
  const digits = readDigits(written);
  if (!digits.ok) {
    const tail = suffix === "" ? unit : suffix;
    return {
      ok: false,
      problem:
        digits.readings.length > 0
          ? `"${written}" can be read in two ways.`
          : `"${written}" is not one number.`,
      suggestions: digits.readings.map((reading) => `${sign}${reading} ${tail}`.trim()),
    };
  }
  const scale = readSuffix(suffix === "" ? (options.bare ?? "") : suffix, unit);
  if (scale === null) {
    const number = `${sign}${digits.text}`;
    return {
      ok: false,
      problem: `"${suffix}" is no way to write ${unit === "" ? "a plain number" : unit}.`,
      suggestions: suggestionsFor(number, suffix, unit),
    };
  }
  const value = Number(`${sign}${digits.text}e${exponent ?? "0"}`) * scale.factor + scale.offset;
  if (!Number.isFinite(value))
    return { ok: false, problem: `"${typed.trim()}" is too large.`, suggestions: [] };
  return { ok: true, value, echo: echoQuantity(value, unit) };
}
