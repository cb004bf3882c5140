/** What the exciter can be made to send on the bench, in words. */
import type { Signal } from "../../../../project/scenario";

export type SignalKind = Signal["signal"] | "morse";

export const SIGNAL_WORDS: Readonly<Record<SignalKind, string>> = {
  carrier: "steady carrier",
  morse: "Morse",
  twoTone: "two tones",
  speech: "speech",
  processedSpeech: "speech, processed",
  data: "data",
};
