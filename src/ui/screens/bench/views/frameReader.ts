/** Reads a frame by name: the row at the play head, needles, stresses. No copies. */
import { FRAME, METER_CHANNELS } from "../../../../shells/bench/frameLayout";
import { CH, type ChannelName } from "../../../../simulation/channels";

/** Value of a recorded channel at the play head. */
export function channelIn(frame: Float64Array, name: ChannelName): number {
  return frame[FRAME.row + CH[name]] as number;
}

/** What the panel meter of a channel shows; the true value where the channel has no meter. */
export function needleIn(frame: Float64Array, name: ChannelName): number {
  const meter = METER_CHANNELS.indexOf(CH[name]);
  return meter < 0 ? channelIn(frame, name) : (frame[FRAME.meters + meter] as number);
}

/** Value of a channel in a bare row, `null` without one. */
export function channelOf(row: Float64Array | null, name: ChannelName): number | null {
  return row === null ? null : (row[CH[name]] as number);
}
