/**
 * Morse code as key-down and key-up intervals.
 *
 *   dot 1, dash 3, gap inside a letter 1, between letters 3, between words 7 units;  unit = 1.2 s/words per minute
 *
 * The word PARIS with its word gap is 50 units, 22 of them key-down. Every element carries the gap that follows it, the last
 * one a word gap, so texts can be repeated. Letters, figures and punctuation of Recommendation ITU-R M.1677-1 (timing and
 * signs from memory).
 */

export interface KeyedElement {
  readonly downS: number;
  readonly upS: number;
}

export type KeyedText =
  | { readonly ok: true; readonly elements: readonly KeyedElement[] }
  | { readonly ok: false; readonly problems: readonly string[] };

const SIGNS: Readonly<Record<string, string>> = {
  A: ".-",
  B: "-...",
  C: "-.-.",
  D: "-..",
  E: ".",
  F: "..-.",
  G: "--.",
  H: "....",
  I: "..",
  J: ".---",
  K: "-.-",
  L: ".-..",
  M: "--",
  N: "-.",
  O: "---",
  P: ".--.",
  Q: "--.-",
  R: ".-.",
  S: "...",
  T: "-",
  U: "..-",
  V: "...-",
  W: ".--",
  X: "-..-",
  Y: "-.--",
  Z: "--..",
  "0": "-----",
  "1": ".----",
  "2": "..---",
  "3": "...--",
  "4": "....-",
  "5": ".....",
  "6": "-....",
  "7": "--...",
  "8": "---..",
  "9": "----.",
  ".": ".-.-.-",
  ",": "--..--",
  ":": "---...",
  "?": "..--..",
  "'": ".----.",
  "-": "-....-",
  "/": "-..-.",
  "(": "-.--.",
  ")": "-.--.-",
  '"': ".-..-.",
  "=": "-...-",
  "+": ".-.-.",
  "@": ".--.-.",
};

const UNIT_S_AT_1_WPM = 1.2;

/** Intervals of a text; lower case counts as upper, runs of blanks as one word gap. Unknown characters are problems. */
export function keyText(text: string, wordsPerMinute: number): KeyedText {
  const problems: string[] = [];
  if (!(wordsPerMinute > 0))
    problems.push(`speed must be above zero words per minute, not ${wordsPerMinute}`);
  const words = text
    .toUpperCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  if (words.length === 0) problems.push("there is no text to key");
  const unknown = [...new Set(words.join(""))].filter((sign) => !Object.hasOwn(SIGNS, sign));
  for (const sign of unknown) problems.push(`"${sign}" has no Morse sign`);
  if (problems.length > 0) return { ok: false, problems };

  const unitS = UNIT_S_AT_1_WPM / wordsPerMinute;
  const elements: KeyedElement[] = [];
  for (const word of words) {
    const letters = [...word];
    letters.forEach((letter, atLetter) => {
      const marks = [...(SIGNS[letter] as string)];
      marks.forEach((mark, atMark) => {
        const units = atMark < marks.length - 1 ? 1 : atLetter < letters.length - 1 ? 3 : 7;
        elements.push({ downS: (mark === "-" ? 3 : 1) * unitS, upS: units * unitS });
      });
    });
  }
  return { ok: true, elements };
}
