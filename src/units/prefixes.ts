/**
 * SI prefixes used on screen and in typed values: one table for writing and for reading.
 *
 * Case matters: m is milli, M is mega. Both micro signs (U+00B5, U+03BC) and the letter u are read;
 * U+00B5 is written. Source: SI Brochure, 9th edition, table 7.
 */
export type Prefix = "p" | "n" | "µ" | "m" | "" | "k" | "M" | "G";

export interface PrefixFactor {
  readonly prefix: Prefix;
  readonly factor: number;
}

/** Smallest first. */
export const PREFIXES: readonly PrefixFactor[] = [
  { prefix: "p", factor: 1e-12 },
  { prefix: "n", factor: 1e-9 },
  { prefix: "µ", factor: 1e-6 },
  { prefix: "m", factor: 1e-3 },
  { prefix: "", factor: 1 },
  { prefix: "k", factor: 1e3 },
  { prefix: "M", factor: 1e6 },
  { prefix: "G", factor: 1e9 },
];

/** What one prefix multiplies by. */
export function prefixFactor(prefix: Prefix): number {
  const found = PREFIXES.find((entry) => entry.prefix === prefix);
  if (found === undefined) throw new Error(`invalid prefix: ${prefix}`);
  return found.factor;
}

/** Units that never carry a prefix, with how one written unit becomes SI: si = written * factor + offset. */
export const PLAIN_UNITS: Readonly<
  Record<string, { readonly factor: number; readonly offset: number }>
> = {
  "%": { factor: 0.01, offset: 0 },
  dB: { factor: 1, offset: 0 },
  "°C": { factor: 1, offset: 273.15 },
  "×": { factor: 1, offset: 0 },
  "": { factor: 1, offset: 0 },
};
