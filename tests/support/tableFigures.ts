/** Figures as the README's tables print them. */

/** Times in µs, ms or s with three figures. */
export function time(s: number | null): string {
  if (s === null) return "never";
  if (s < 1e-3) return `${Number((s * 1e6).toPrecision(3))} µs`;
  return s < 1 ? `${Number((s * 1e3).toPrecision(3))} ms` : `${Number(s.toPrecision(3))} s`;
}

export function twoFigures(x: number): string {
  return String(Number(x.toPrecision(2)));
}
