/**
 * What a person would have seen on the panel: moving-coil meters as a first-order lag of 0.3 s, and a peak
 * meter of forward power that rises at once, holds for 2 s and then falls with the same lag.
 *
 *   m += (x - m)(1 - exp(-dt/tau))      per sample, x its recorded value
 *
 * Standing: common practice for panel instruments, no source. The state goes with snapshots, so that a
 * needle scrubbed back stands where it stood.
 */
import { exp } from "../../math/elementary";
import { CH } from "../../simulation/channels";
import { METER_CHANNELS } from "./frameLayout";

export const METER_LAG_S = 0.3;
export const PEP_HOLD_S = 2;

const PEP = METER_CHANNELS.length;
const PEP_SINCE = PEP + 1;

/** Numbers of state: the needles, the peak meter, and since when (seconds) it has held. */
export const METER_STATE_LENGTH = PEP_SINCE + 1;

/** Needles at rest on what is there at t = 0. */
export function startMeters(row: Float64Array): Float64Array {
  const state = new Float64Array(METER_STATE_LENGTH);
  for (let i = 0; i < PEP; i++) state[i] = row[METER_CHANNELS[i] as number] as number;
  state[PEP] = row[CH.forwardW] as number;
  return state;
}

/** One sample further; allocates nothing. */
export class Ballistics {
  private readonly pull: number;
  private readonly sampleS: number;

  constructor(sampleNs: number) {
    this.sampleS = sampleNs / 1e9;
    this.pull = 1 - exp(-this.sampleS / METER_LAG_S);
  }

  advance(state: Float64Array, row: Float64Array): void {
    for (let i = 0; i < PEP; i++) {
      const m = state[i] as number;
      state[i] = m + ((row[METER_CHANNELS[i] as number] as number) - m) * this.pull;
    }
    const forwardW = row[CH.forwardW] as number;
    const shown = state[PEP] as number;
    if (forwardW >= shown) {
      state[PEP] = forwardW;
      state[PEP_SINCE] = 0;
      return;
    }
    const held = (state[PEP_SINCE] as number) + this.sampleS;
    state[PEP_SINCE] = held;
    if (held > PEP_HOLD_S) state[PEP] = shown + (forwardW - shown) * this.pull;
  }
}
