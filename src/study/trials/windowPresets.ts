/** Sweeps that answer a question of their own, as options of a window trial. */
import type { Plain } from "./trial";

export interface WindowPreset {
  readonly id: string;
  readonly question: string;
  readonly options: { readonly [name: string]: Plain };
}

const SPEECH = { uses: ["speech", "processedSpeech"], conditions: ["asDesigned"] };

export const WINDOW_PRESETS: readonly WindowPreset[] = [
  {
    id: "whyNotShorter",
    question:
      "Why not confirm for less? Speech, a floor of 12 dB and detectors of 0.2 and 0.5 ms, without and with a common smoothing.",
    options: {
      x: { path: "gainFloor.confirmation", values: [0, 1e-3, 2e-3, 5e-3] },
      y: { path: "gainFloor.smoothing", values: [0, 2e-3] },
      faults: ["insect@tuningCapacitor"],
      detectors: "unmatched",
      ...SPEECH,
    },
  },
  {
    id: "deepStage",
    question: "Does a second, deep and fast low-gain stage save what 2 ms of confirmation cannot?",
    options: {
      x: { path: "deepGain.pickup", values: [-2, -3, -4, -6, -8] },
      y: { path: "deepGain.confirmation", values: [0, 0.1e-3, 0.3e-3, 0.5e-3, 1e-3] },
    },
  },
  {
    id: "shorterConfirmation",
    question: "How short may the shipped low gain confirm, and how near may it pick up?",
    options: {
      x: { path: "lowGain.pickup", values: [-0.75, -1, -1.25, -1.5, -2, -2.5, -3] },
      y: { path: "lowGain.confirmation", values: [0, 1e-3, 2e-3, 3e-3, 5e-3] },
    },
  },
];
