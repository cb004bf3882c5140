/**
 * What the record keeps of every sample. `mean` over the sample, `end` at its last instant, `peak` the
 * greatest value the envelope reached inside it.
 */
import type { ClockPart } from "../physics/heat/clocks";
import { READING } from "../physics/stage/readings";
import type { ArcPlace } from "../project/station";

export interface Channel {
  readonly name: ChannelName;
  readonly unit: string;
  readonly kind: "mean" | "end" | "peak";
}

export const CHANNEL_NAMES = [
  "driveW",
  "driveReflectedW",
  "cathodeRfPeakV",
  "plateCurrentA",
  "tubeCurrentA",
  "gridCurrentA",
  "cathodeV",
  "plateV",
  "filterV",
  "plateRfPeakV",
  "coilPeakA",
  "outputRfPeakV",
  "forwardW",
  "reflectedW",
  "outputW",
  "plateDissipationW",
  "gridDissipationW",
  "arcW",
  "arcPeakA",
  "plateRfHighestV",
  "edgeK",
  "edgeFraction",
  "moltenKg",
  "gridFraction",
  "anodeFraction",
  "cathodeFraction",
  "exciterFraction",
  "sensedForwardGainDb",
] as const;

export type ChannelName = (typeof CHANNEL_NAMES)[number];

export const CHANNEL_COUNT = CHANNEL_NAMES.length;

/** Index of each channel. */
export const CH = Object.fromEntries(CHANNEL_NAMES.map((n, i) => [n, i])) as Readonly<
  Record<ChannelName, number>
>;

/** Channels that are readings of the stage, in the order of READING up to arcW. */
export const STAGE_CHANNELS = READING.arcW + 1;

const UNITS: readonly (readonly [suffix: string, unit: string])[] = [
  ["Fraction", ""],
  ["Db", "dB"],
  ["Kg", "kg"],
  ["W", "W"],
  ["V", "V"],
  ["A", "A"],
  ["K", "K"],
];

export const CHANNELS: readonly Channel[] = CHANNEL_NAMES.map((name) => ({
  name,
  unit: UNITS.find(([suffix]) => name.endsWith(suffix))?.[1] ?? "",
  kind: name === "plateRfHighestV" ? "peak" : "end",
}));

/** Stands for "no reading" of a gain in the record, which holds finite numbers only. */
export const NO_GAIN_DB = -200;

/** Channel of a clock's fraction; null for those that are not recorded. */
export function clockChannel(part: ArcPlace | ClockPart): number | null {
  switch (part) {
    case "grid":
      return CH.gridFraction;
    case "anode":
      return CH.anodeFraction;
    case "cathode":
      return CH.cathodeFraction;
    case "exciter":
      return CH.exciterFraction;
    default:
      return null;
  }
}
