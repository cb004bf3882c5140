/**
 * Speech-like envelope of a single-sideband exciter, 0 to 1 in voltage of its peak.
 *
 *   v(t) = noise floor + syllable level x syllable shape(t) x pitch shape(t)
 *
 * Time is cut into blocks of 200 ms, one syllable each; everything random in a block comes from a stream of its own
 * (talker, block number), so the value at an instant depends on nothing but talker and instant. Two to four blocks of
 * every twelve are a pause. A quarter of the syllables is stressed and reaches the peak, the others lie up to 18 dB under
 * it. A syllable rises and falls by cubics; the pitch, 95 to 175 Hz, rises in an eighth of its period and falls by
 * b + (1 - b)(1 - u)^2, whose mean square b^2 + 2 b (1 - b)/3 + (1 - b)^2/5 is 0.392 for b = 0.4.
 *
 * Figures aimed at, peak envelope over mean power:
 *   - inside the even part of a stressed syllable 4 dB: 2.5 to 1, United States amateur extra-class question pool 2024
 *     to 2028, question E8A06;
 *   - whole utterances with their pauses 12 dB unprocessed (10 to 14 are reported) and 7 dB processed (6 to 8): from memory.
 * About four syllables a second: the modulation of speech is strongest near 4 Hz (Houtgast and Steeneken, 1985, from
 * memory). Shapes, shares and spreads are estimates of ours that give these figures.
 *
 * Processing lifts what is quiet by `processingDb` and leaves the peak: g v/sqrt(1 + (g^2 - 1) v^2), a soft clipper
 * of the envelope (clipping at radio frequency and filtering comes close to it).
 *
 * Left out: consonants of their own, intonation, the band's edges. It has the statistics of speech, not its sound.
 */
import { powerOfTen } from "../../math/elementary";
import { RandomStream } from "../../math/random";

const BLOCK_NS = 200_000_000;
/** Blocks from pause to pause; the last two to four of them are silent. */
const PHRASE_BLOCKS = 12;
const STRESSED_SHARE = 0.25;
const WEAKEST_DB = 18;
/** Room and breath under everything, 40 dB below the peak. */
const FLOOR = 0.01;
const PITCH_FLOOR = 0.4;
const PITCH_RISE = 0.125;

/** One syllable, or a pause where its level is 0. Times from the block's start. */
interface Syllable {
  readonly level: number;
  readonly startS: number;
  readonly riseS: number;
  readonly fallFromS: number;
  readonly endS: number;
  readonly pitchHz: number;
  /** Pitch changes by this in a second. */
  readonly glideHzPerS: number;
}

/** Streams of blocks and of phrases must not meet: phrases count down from -1. */
function syllableOf(talker: number, block: number): Syllable {
  const phrase = Math.floor(block / PHRASE_BLOCKS);
  const spoken =
    PHRASE_BLOCKS - 2 - Math.floor(3 * new RandomStream(talker, -1 - phrase).uniform());
  const r = new RandomStream(talker, block);
  const startS = r.between(0, 0.02);
  const riseS = r.between(0.01, 0.03);
  const evenS = r.between(0.05, 0.09);
  const fallS = r.between(0.03, 0.06);
  const stressed = r.uniform() < STRESSED_SHARE;
  const level = stressed ? 1 : powerOfTen(-r.between(0, WEAKEST_DB) / 20);
  const fallFromS = startS + riseS + evenS;
  return {
    level: block - phrase * PHRASE_BLOCKS < spoken ? level * (1 - FLOOR) : 0,
    startS,
    riseS,
    fallFromS,
    endS: fallFromS + fallS,
    pitchHz: r.between(95, 175),
    glideHzPerS: r.between(-150, 50),
  };
}

/** Reads the envelope of talkers; keeps the syllable it read last, which no value depends on. */
export class SpeechEnvelope {
  private talker = 0;
  private block = -1;
  private syllable: Syllable | null = null;

  /** Envelope `sinceNs` after the talker began, above 0 and at most 1; before that the noise floor. */
  at(talker: number, sinceNs: number): number {
    if (sinceNs < 0) return FLOOR;
    const block = Math.floor(sinceNs / BLOCK_NS);
    let s = this.syllable;
    if (s === null || block !== this.block || talker !== this.talker) {
      s = syllableOf(talker, block);
      this.syllable = s;
      this.block = block;
      this.talker = talker;
    }
    if (s.level === 0) return FLOOR;
    const t = (sinceNs - block * BLOCK_NS) * 1e-9;
    if (t <= s.startS || t >= s.endS) return FLOOR;
    let shape = 1;
    if (t < s.startS + s.riseS) shape = smooth((t - s.startS) / s.riseS);
    else if (t > s.fallFromS) shape = smooth((s.endS - t) / (s.endS - s.fallFromS));
    const into = t - s.startS;
    const cycles = into * (s.pitchHz + 0.5 * s.glideHzPerS * into);
    return FLOOR + s.level * shape * pitchShape(cycles - Math.floor(cycles));
  }
}

/** Envelope after a processor that lifts what is quiet by the voltage factor `lift`, 1 or more; the peak stays 1. */
export function processedEnvelope(envelope: number, lift: number): number {
  return (lift * envelope) / Math.sqrt(1 + (lift * lift - 1) * envelope * envelope);
}

function pitchShape(phase: number): number {
  if (phase < PITCH_RISE) return PITCH_FLOOR + (1 - PITCH_FLOOR) * smooth(phase / PITCH_RISE);
  const left = (1 - phase) / (1 - PITCH_RISE);
  return PITCH_FLOOR + (1 - PITCH_FLOOR) * left * left;
}

/** 0 to 1 by 3 x^2 - 2 x^3. */
function smooth(x: number): number {
  return x * x * (3 - 2 * x);
}
