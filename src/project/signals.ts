/** What a signal's numbers may be, for whoever checks one: the project file and a person's command. */
import type { Signal } from "./scenario";

/** A beat longer than a second is keying, one over 3 kHz no voice channel passes and no sample of 50 us shows. */
export const SIGNAL_RANGES = {
  spacingHz: { min: 1, max: 3000 },
  processingDb: { min: 0, max: 30 },
  powerShare: { min: 0, max: 1 },
} as const;

const LARGEST_TALKER = 0xffff_ffff;

/** Why a signal cannot be sent, in words; empty when it can. */
export function objectionToSignal(signal: Signal): string {
  if ("talker" in signal) {
    const { talker } = signal;
    if (!(Number.isInteger(talker) && talker >= 0 && talker <= LARGEST_TALKER))
      return `talkers are whole numbers from 0 to ${LARGEST_TALKER}`;
  }
  switch (signal.signal) {
    case "twoTone":
      return outside("spacingHz", signal.spacingHz);
    case "processedSpeech":
      return outside("processingDb", signal.processingDb);
    case "data":
      return outside("powerShare", signal.powerShare);
    default:
      return "";
  }
}

function outside(name: keyof typeof SIGNAL_RANGES, value: number): string {
  const { min, max } = SIGNAL_RANGES[name];
  return value >= min && value <= max ? "" : `${name} goes from ${min} to ${max}`;
}
