/**
 * Kinds of feed line and a dipole for each band: what a station may choose from.
 *
 * Lines: the two parts of the attenuation at 1 MHz go through the two points of each comment (dB
 * per 100 m at MHz). Points of the cables are typical figures of the military types of MIL-C-17
 * (today MIL-DTL-17; IEC 61196 for the class), from memory; real cables spread by 15 %, and age
 * adds to it. The open-wire line has no standard; its figures are common practice, dry. Dipoles are
 * ours [E]: resonant in the band, 50 ohm at the height they hang at, Q 12, that is SWR 2 over 5.9 %
 * of the resonance frequency.
 */
import type { Antenna, FeedLine } from "./station";

/** A kind of line: everything but its length. */
export type LineKind = Omit<FeedLine, "lengthM">;

export const LINE_KINDS: readonly LineKind[] = [
  // 3.54 at 30, 8.30 at 150; class of M17/74, solid polyethylene
  line("coaxial, 50 ohm, 10 mm", 50, 0.66, 6.2198e-3, 4.5521e-5),
  // 4.6 at 10, 16.1 at 100; class of M17/28, solid polyethylene
  line("coaxial, 50 ohm, 5 mm", 50, 0.66, 1.38278e-2, 2.2724e-4),
  // 2.2 at 10, 7.5 at 100; class of M17/6, solid polyethylene
  line("coaxial, 75 ohm, 10 mm", 75, 0.66, 6.706e-3, 7.94e-5),
  // 0.26 at 10, 1.0 at 100
  line("open wire with windows, 450 ohm, dry", 450, 0.91, 7.4e-4, 2.6e-5),
];

function line(
  name: string,
  lineOhm: number,
  velocityFactor: number,
  conductorDbPerM: number,
  dielectricDbPerM: number,
): LineKind {
  return { name, lineOhm, velocityFactor, lossAtHz: 1e6, conductorDbPerM, dielectricDbPerM };
}

type Resonant = Extract<Antenna, { kind: "resonant" }>;

export const DIPOLES: readonly Resonant[] = [
  dipole("160 m", 1.86e6),
  dipole("80 m", 3.68e6),
  dipole("40 m", 7.12e6),
  dipole("30 m", 10.125e6),
  dipole("20 m", 14.17e6),
  dipole("17 m", 18.118e6),
  dipole("15 m", 21.2e6),
  dipole("12 m", 24.94e6),
  dipole("10 m", 28.5e6),
];

function dipole(band: string, resonanceHz: number): Resonant {
  return { kind: "resonant", name: `${band} dipole`, resonanceHz, resistanceOhm: 50, q: 12 };
}

/** The dipole whose resonance lies nearest to a frequency, by ratio. */
export function dipoleNear(freqHz: number): Antenna {
  let best: Antenna = DIPOLES[0] as Antenna;
  let least = Infinity;
  for (const dipole of DIPOLES) {
    const miss = Math.max(freqHz / dipole.resonanceHz, dipole.resonanceHz / freqHz);
    if (miss < least) {
      least = miss;
      best = dipole;
    }
  }
  return best;
}
