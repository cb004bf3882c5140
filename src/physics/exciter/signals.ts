/**
 * What the exciter is asked to send, as an envelope: factor 0 to 1 in voltage on the available drive.
 *
 *   carrier   1
 *   two tones |cos(pi df t)|, df the spacing: mean power is half the peak, mean voltage 2/pi of it
 *   speech    see `speech.ts`
 *   data      sqrt(share): one keyed tone at a time has a steady envelope; share of the drive's power
 *
 * Time counts from the instant the signal was chosen. A function of signal and instant alone, whatever was read before.
 * Standing of the two-tone figures: identities. Morse keys the carrier and is made of key events (`project/morse`).
 *
 * Left out: the two tones' change of sign at a null, which no amplifier notices; imbalance of the tones; drive that
 * changes with the audio frequency.
 */
import { cos, powerOfTen } from "../../math/elementary";
import type { Signal } from "../../project/scenario";
import { processedEnvelope, SpeechEnvelope } from "./speech";

/** Reads signals; holds nothing a value depends on, only what it worked out last. */
export class SignalEnvelope {
  private readonly speech = new SpeechEnvelope();
  private lift = 1;
  private liftDb = 0;

  /** Envelope factor, 0 to 1 in voltage, `sinceNs` after the signal was chosen. */
  at(signal: Signal, sinceNs: number): number {
    switch (signal.signal) {
      case "carrier":
        return 1;
      case "twoTone":
        return twoTone(signal.spacingHz, sinceNs);
      case "speech":
        return this.speech.at(signal.talker, sinceNs);
      case "processedSpeech": {
        if (signal.processingDb !== this.liftDb) {
          this.liftDb = signal.processingDb;
          this.lift = powerOfTen(this.liftDb / 20);
        }
        return processedEnvelope(this.speech.at(signal.talker, sinceNs), this.lift);
      }
      case "data":
        return Math.sqrt(signal.powerShare);
    }
  }
}

/** Whole turns are taken off before the cosine, so that an hour is as exact as a millisecond. */
function twoTone(spacingHz: number, sinceNs: number): number {
  const turns = spacingHz * (sinceNs * 1e-9);
  return Math.abs(cos(Math.PI * (turns - Math.floor(turns))));
}
