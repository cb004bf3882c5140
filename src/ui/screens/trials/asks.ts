/** What may be asked of each kind of trial on the screen, as data: the form draws it, the kind's own planner checks it. */
import type { TrialWish } from "../../../state/trials";
import type { Plain, TrialKind } from "../../../study/trials/trial";
import { WINDOW_PRESETS } from "../../../study/trials/windowPresets";

interface Common {
  readonly label: string;
  /** Of the request itself, or among its options. */
  readonly at: "seed" | "runs" | { readonly option: string };
}

export interface AskNumber extends Common {
  readonly kind: "number";
  readonly usual: number;
  readonly least: number;
  readonly most: number;
  /** Only whole numbers. */
  readonly whole?: boolean;
}

export interface AskChoice extends Common {
  readonly kind: "choice";
  /** The first one is the usual one, and is left out of the request. */
  readonly choices: readonly { readonly value: Plain; readonly word: string }[];
}

export type Ask = AskNumber | AskChoice;

export interface KindOfTrial {
  readonly kind: TrialKind;
  readonly word: string;
  /** The question it answers, as a sentence. */
  readonly question: string;
  readonly asks: readonly Ask[];
}

const SEED: Ask = {
  kind: "number",
  label: "Seed",
  at: "seed",
  usual: 1,
  least: 0,
  most: 4_294_967_295,
  whole: true,
};
export const REQUIRED_MARGIN: AskNumber = {
  kind: "number",
  label: "Required margin to onset",
  at: { option: "requiredMargin" },
  usual: 3,
  least: 0,
  most: 1000,
};

/** The ready-made sweeps in a few words. */
const PRESET_WORDS: Readonly<Record<string, string>> = {
  whyNotShorter: "why not confirm for less?",
  deepStage: "a second, deep and fast stage",
  shorterConfirmation: "how short, how near?",
};

/** The value that stands for a field now. */
export function askedValue(ask: Ask, wish: TrialWish): Plain {
  const { at } = ask;
  const given = at === "seed" ? wish.seed : at === "runs" ? wish.runs : wish.options?.[at.option];
  if (given !== undefined) return given;
  return ask.kind === "number" ? ask.usual : (ask.choices[0]?.value ?? null);
}

/** The wish with a field changed. */
export function withAsked(ask: Ask, value: Plain, wish: TrialWish): Partial<TrialWish> {
  const { at } = ask;
  if (at === "seed") return { seed: value as number };
  if (at === "runs") return { runs: value as number };
  const { [at.option]: _, ...others } = wish.options ?? {};
  const usual = ask.kind === "number" ? ask.usual : (ask.choices[0]?.value ?? null);
  return { options: value === usual ? others : { ...others, [at.option]: value } };
}

export function kindsOfTrial(bands: readonly string[]): readonly KindOfTrial[] {
  return [
    {
      kind: "coverage",
      word: "Coverage",
      question: "Does the scheme end every fault in time, at every band, drive and load?",
      asks: [
        {
          kind: "choice",
          label: "Bands",
          at: { option: "bands" },
          choices: [
            { value: null, word: "all" },
            ...bands.map((band) => ({ value: [band], word: band })),
          ],
        },
        {
          kind: "number",
          label: "VSWR of the mismatched loads",
          at: { option: "swr" },
          usual: 1.5,
          least: 1,
          most: 10,
        },
        {
          kind: "number",
          label: "Phases of it",
          at: { option: "phases" },
          usual: 4,
          least: 1,
          most: 16,
          whole: true,
        },
        REQUIRED_MARGIN,
        {
          kind: "number",
          label: "Required margin to 0.5 mg molten",
          at: { option: "requiredMarginHalfMilligram" },
          usual: 5,
          least: 0,
          most: 1000,
        },
        SEED,
      ],
    },
    {
      kind: "backup",
      word: "Back-up",
      question: "What still ends a fault when a monitor, an actuator or a detector has failed?",
      asks: [
        {
          kind: "choice",
          label: "Failures",
          at: { option: "pairs" },
          choices: [
            { value: true, word: "alone and in pairs" },
            { value: false, word: "each alone" },
          ],
        },
        REQUIRED_MARGIN,
        SEED,
      ],
    },
    {
      kind: "tolerance",
      word: "Tolerance",
      question: "How do margin and operate time spread over units, tubes, mains and estimates?",
      asks: [
        {
          kind: "number",
          label: "Units drawn",
          at: "runs",
          usual: 1000,
          least: 1,
          most: 1_000_000,
          whole: true,
        },
        REQUIRED_MARGIN,
        SEED,
      ],
    },
    {
      kind: "nuisance",
      word: "Nuisance",
      question: "What trips on ordinary use, and how often?",
      asks: [
        {
          kind: "number",
          label: "Hours of use",
          at: { option: "hours" },
          usual: 10,
          least: 0.01,
          most: 10_000,
        },
        {
          kind: "choice",
          label: "Detectors of drive and output",
          at: { option: "detectors" },
          choices: [
            { value: "matched", word: "matched" },
            { value: "unmatched", word: "unmatched" },
          ],
        },
        {
          kind: "choice",
          label: "Smoothing of low gain",
          at: { option: "smoothing" },
          choices: [
            { value: "common", word: "as set" },
            { value: "none", word: "none" },
          ],
        },
        SEED,
      ],
    },
    {
      kind: "window",
      word: "Window sweep",
      question: "Which settings end the arc soonest for how many false trips an hour?",
      asks: [
        {
          kind: "choice",
          label: "Question",
          at: { option: "preset" },
          choices: [
            { value: null, word: "pickup and confirmation of low gain" },
            ...WINDOW_PRESETS.map((p) => ({ value: p.id, word: PRESET_WORDS[p.id] ?? p.id })),
          ],
        },
        {
          kind: "number",
          label: "Hours of use",
          at: { option: "hours" },
          usual: 1,
          least: 0.01,
          most: 1000,
        },
        SEED,
      ],
    },
  ];
}
