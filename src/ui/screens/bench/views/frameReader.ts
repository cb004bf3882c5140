/** Reads a frame by name: the row at the play head, needles, stresses. No copies. */
import { CLOCK_PARTS, type ClockPart } from "../../../../physics/heat/clocks";
import { FRAME, METER_CHANNELS } from "../../../../shells/bench/frameLayout";
import type { ClockReading } from "../../../../shells/bench/protocol";
import { CH, type ChannelName } from "../../../../simulation/channels";

/** Under this, watts, volts and amperes are the solver's rounding and read as nothing. */
const NOTHING = 1e-4;

/** A reading as it is shown: remnants of rounding are 0. */
export function shownValue(value: number): number {
  return Math.abs(value) < NOTHING ? 0 : value;
}

/** Value of a recorded channel at the play head. */
export function channelIn(frame: ArrayLike<number>, name: ChannelName): number {
  return shownValue(frame[FRAME.row + CH[name]] as number);
}

/** What the panel meter of a channel shows; the true value where the channel has no meter. */
export function needleIn(frame: ArrayLike<number>, name: ChannelName): number {
  const meter = METER_CHANNELS.indexOf(CH[name]);
  return meter < 0 ? channelIn(frame, name) : (frame[FRAME.meters + meter] as number);
}

/** All clocks at the play head, in the order of CLOCK_PARTS. */
export function clocksIn(frame: ArrayLike<number>): readonly ClockReading[] {
  return CLOCK_PARTS.map((part) => clockIn(frame, part));
}

/** One clock at the play head. */
export function clockIn(frame: ArrayLike<number>, part: ClockPart): ClockReading {
  const k = CLOCK_PARTS.indexOf(part);
  return {
    stress: frame[FRAME.stress + k] as number,
    fraction: frame[FRAME.clockFractions + k] as number,
    leftS: frame[FRAME.timeLeft + k] as number,
  };
}

/** Value of a channel in a bare row, `null` without one. */
export function channelOf(row: Float64Array | null, name: ChannelName): number | null {
  return row === null ? null : shownValue(row[CH[name]] as number);
}
