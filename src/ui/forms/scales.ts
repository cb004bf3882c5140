/** How a field's value stands in its box: in one unit with one prefix, whatever is typed; and how it is read. */

import { MINUS, NO_BREAK_SPACE } from "../../units/format";
import { echoQuantity, type ParsedQuantity, parseQuantity } from "../../units/parseQuantity";
import { PREFIXES, type Prefix } from "../../units/prefixes";

export interface Scale {
  /** Behind the box. */
  readonly unit: string;
  /** Digits as they stand in the box. */
  readonly format: (value: number) => string;
  /** With the unit, for messages and labels of steps. */
  readonly full: (value: number) => string;
  readonly parse: (typed: string) => ParsedQuantity;
}

const BASES = ["Hz", "H", "F", "Ω", "V", "A", "W", "S", "s", "m", "A/V^1.5"] as const;

/** Units that are no SI unit with a prefix: how one written unit becomes SI. */
const OWN: Readonly<Record<string, number>> = {
  "°": Math.PI / 180,
  "A/mm²": 1e6,
  "dB/100 m": 0.01,
  "m³/h": 1 / 3600,
};

/** Ten digits: what a person typed comes back as typed. */
function digits(value: number): string {
  return String(Number(value.toPrecision(10))).replace("-", MINUS);
}

/** Scale of a written unit: `pF`, `MHz`, `%`, `°C`, `A/mm²`; "" for a plain number. */
export function scaleOf(unit: string): Scale {
  const factor = OWN[unit];
  if (factor !== undefined) return ownScale(unit, factor);
  if (unit === "" || unit === "%" || unit === "dB" || unit === "°C") {
    return {
      unit,
      format: (v) => echoQuantity(v, unit).split(NO_BREAK_SPACE)[0] as string,
      full: (v) => echoQuantity(v, unit),
      parse: (typed) => parseQuantity(typed, unit),
    };
  }
  const base = BASES.find((b) => unit.endsWith(b) && isPrefix(unit.slice(0, -b.length)));
  if (base === undefined) return ownScale(unit, 1);
  const prefix = unit.slice(0, -base.length) as Prefix;
  const by = PREFIXES.find((p) => p.prefix === prefix)?.factor ?? 1;
  return {
    unit,
    format: (v) => digits(v / by),
    full: (v) => `${digits(v / by)}${NO_BREAK_SPACE}${unit}`,
    parse: (typed) => {
      // m alone is a metre to the reader, so a bare number of millimetres is given its unit
      const text = base === "m" && /\d[\s\u202f]*$/.test(typed) ? `${typed}${unit}` : typed;
      return parseQuantity(text.replace(/ohms?\s*$/i, "Ω"), base, { bare: prefix });
    },
  };
}

function isPrefix(text: string): boolean {
  return PREFIXES.some((p) => p.prefix === text);
}

function ownScale(unit: string, factor: number): Scale {
  const full = (v: number): string => `${digits(v / factor)}${NO_BREAK_SPACE}${unit}`;
  return {
    unit,
    format: (v) => digits(v / factor),
    full,
    parse: (typed) => {
      const text = typed.trim();
      const read = parseQuantity(text.endsWith(unit) ? text.slice(0, -unit.length) : text, "");
      if (!read.ok) return read;
      const value = read.value * factor;
      return { ok: true, value, echo: full(value) };
    },
  };
}
