/**
 * Line and antenna as the amplifier's connector shows them at the carrier.
 *
 *   Y = line(antenna(f, resonance ratio) or a broken feed point)
 *
 * At the second harmonic the stage needs no more: it carries the same G and jB, a positive B as a
 * capacitor, a negative one as an inductor. The true admittance there is another
 * (`feederAdmittance` at 2 f has it), but the loading capacitor, some 20 ohm at 2 f, and the coil,
 * some 550 ohm, stand between it and the tube. Compared with a stage with a pi network that carries
 * the true one: over half a wave of line in 25 steps, on resonance, 1.5 % above and 3 % below it
 * (SWR to 2), dipoles at 1.86, 7.12, 14.17 and 28.5 MHz, tuned as designed and at the dip, both 50
 * ohm cables, worst of all: output 0.057 % (0.0025 dB of gain), plate RF 0.029 %, plate current
 * 0.022 %, grid current 0.21 %, plate dissipation 0.8 W of 1500 W. On the 450 ohm line, SWR to 80
 * at the connector, less, where a settled state was found: output 0.023 %, grid current 0.055 %.
 *
 * A connector has a resistance of its own: what would be less than 1 mohm is 1 mohm. A broken feed
 * point leaks 20 uS; both estimates, as the stage's own open and short.
 */
import type { Antenna, FeedLine } from "../../project/station";
import { antennaAdmittance } from "./antenna";
import { lineInput, type MutableAdmittance } from "./line";

const MOST_SIEMENS = 1e3;
const LEAK_SIEMENS = 2e-5;

/** What moves on a feeder. Of one feeder, several resonance ratios multiply. */
export interface FeederState {
  /** Resonance as it is over resonance as built. */
  readonly resonanceRatio: number;
  /** False while the line's far end hangs open. */
  readonly feedPointConnected: boolean;
}

export const FEEDER_AT_REST: FeederState = { resonanceRatio: 1, feedPointConnected: true };

/**
 * Admittance of a feeder at the connector at any frequency, into `out`. Allocation-free. Law:
 * module header.
 */
export function feederAdmittance(
  line: FeedLine,
  antenna: Antenna,
  freqHz: number,
  state: FeederState,
  out: MutableAdmittance,
): void {
  if (state.feedPointConnected) {
    antennaAdmittance(antenna, freqHz, line.lineOhm, state.resonanceRatio, out);
  } else {
    out.conductanceSiemens = LEAK_SIEMENS;
    out.susceptanceSiemens = 0;
  }
  lineInput(line, freqHz, out.conductanceSiemens, out.susceptanceSiemens, out);
  const g = out.conductanceSiemens;
  const b = out.susceptanceSiemens;
  if (g * g + b * b > MOST_SIEMENS * MOST_SIEMENS) {
    out.conductanceSiemens = MOST_SIEMENS;
    out.susceptanceSiemens = 0;
  }
}
