/** Random circuits of the stage for property tests: all bands, loads up to VSWR 3, mistuning, drive, supply. */
import * as fc from "fast-check";
import type { WaveformInput } from "./waveformNetlist";

/** Even over the range; `fc.double` is even over the floating-point numbers, which crowd at zero. */
export const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((i) => min + ((max - min) * i) / 1_000_000);

/**
 * A generic stage scaled to a frequency: 1900 ohm, Q 12 at the plate, 58 ohm, Q 2.5 at the cathode (values of the
 * matched 14.2 MHz circuit, reactances kept). The reflection factor is drawn in polar form.
 */
export const anyInput: fc.Arbitrary<WaveformInput> = fc
  .record({
    f: between(1.8e6, 29.7e6),
    drive: between(0.5, 120),
    plateV: between(2000, 3500),
    perveance: between(0.003, 0.005),
    mu: between(120, 210),
    tuning: between(0.85, 1.2),
    loading: between(0.8, 1.4),
    magnitude: between(0, 0.5),
    phase: between(-Math.PI, Math.PI),
  })
  .map((r) => {
    const s = 14.2e6 / r.f;
    const re = r.magnitude * Math.cos(r.phase);
    const im = r.magnitude * Math.sin(r.phase);
    const d = 50 * ((1 + re) ** 2 + im * im);
    return {
      f: r.f,
      tube: { mu: r.mu, K: r.perveance, delta: 3, su: 1, sg: 2, sp: 20 },
      Eb: r.plateV,
      Ek: r.plateV / 330,
      Rs: 50,
      Rkloss: 1500,
      Pd: r.drive,
      net: {
        C1: 72.18e-12 * s * r.tuning,
        L: 2.0043e-6 * s,
        rL: 0.7153,
        C2: 390.6e-12 * s * r.loading,
        Lrfc: 90e-6 * s,
        Ck: 483.1e-12 * s,
        Lk: 260.03e-9 * s,
        n: 1.077,
      },
      load: { G: (1 - re * re - im * im) / d, B: (-2 * im) / d },
      arc: null,
      tap: 0,
    };
  });
