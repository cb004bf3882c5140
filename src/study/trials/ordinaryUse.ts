/**
 * Ordinary use of a station, as scenarios: half a minute of each kind, told apart by a seed. Nothing here is a fault, and no
 * monitor has a reason to act.
 *
 * Kinds and their shares of the time are estimates of ours [E]: what an operator does on an evening, with more of what is
 * hard on a monitor. Morse has the station's shaped edges and the timing of ITU-R M.1677-1 (`project/morse`); speech the statistics of
 * `physics/exciter/speech`, another talker in every case; a data signal overs of 13 s with a steady envelope at half power.
 */
import { RandomStream } from "../../math/random";
import { keyText } from "../../project/morse";
import type { ScenarioEntry } from "../../project/scenario";

export const USE_S = 30;

export const USES = [
  "speech",
  "processedSpeech",
  "morse",
  "twoTone",
  "data",
  "tuneUp",
  "antennaChange",
  "sway",
  "mainsDips",
] as const;
export type Use = (typeof USES)[number];

export const USE_WORDS: Readonly<Record<Use, string>> = {
  speech: "speech",
  processedSpeech: "speech, processed by 10 dB",
  morse: "Morse at 12 to 40 words a minute",
  twoTone: "two tones",
  data: "data carrier at half power",
  tuneUp: "tuning up by hand in tune mode, then corrections at full drive",
  antennaChange: "antenna changed between two overs",
  sway: "speech into an antenna that sways, or in gusts",
  mainsDips: "speech or carrier through mains dips",
};

/** Shares of the time. */
export const USE_SHARES: Readonly<Record<Use, number>> = {
  speech: 0.32,
  processedSpeech: 0.2,
  morse: 0.26,
  twoTone: 0.06,
  data: 0.1,
  tuneUp: 0.015,
  antennaChange: 0.015,
  sway: 0.01,
  mainsDips: 0.02,
};

const LARGEST_TALKER = 0xffff_ffff;
const SPEEDS_WPM = [12, 20, 30, 40];
const SPACINGS_HZ = [400, 700, 1200, 1900];
const SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";

const key = (atS: number, down: boolean): ScenarioEntry => ({ atS, do: "key", down });

/** Half a minute of one use. */
export function useScenario(use: Use, seed: number): readonly ScenarioEntry[] {
  const random = new RandomStream(seed, USES.indexOf(use));
  const talker = Math.floor(random.uniform() * LARGEST_TALKER);
  const speech: ScenarioEntry = { atS: 0, do: "signal", signal: "speech", talker };
  const over = [key(0, true), key(USE_S - 3, false)];
  switch (use) {
    case "speech":
      return [speech, ...over];
    case "processedSpeech":
      return [{ ...speech, signal: "processedSpeech", processingDb: 10 }, ...over];
    case "morse":
      return morse(random);
    case "twoTone":
      return [
        { atS: 0, do: "signal", signal: "twoTone", spacingHz: oneOf(SPACINGS_HZ, random) },
        ...over,
      ];
    case "data":
      return [
        { atS: 0, do: "signal", signal: "data", powerShare: 0.5 },
        key(0, true),
        key(13, false),
        key(15, true),
        key(28, false),
      ];
    case "tuneUp":
      return tuneUp(random, true);
    case "antennaChange":
      return [
        key(0, true),
        key(12, false),
        { atS: 13, do: "set", control: "loadSwr", value: random.between(1, 1.5) },
        {
          atS: 13,
          do: "set",
          control: "loadPhaseRad",
          value: random.between(-Math.PI, Math.PI),
        },
        { ...speech, atS: 14 },
        key(15, true),
        key(USE_S - 2, false),
      ];
    case "sway":
      return [
        {
          atS: 0,
          do: "placeFault",
          fault: random.uniform() < 0.5 ? "sway" : "gust",
          part: "load",
          severity: random.between(0.003, 0.01),
        },
        speech,
        ...over,
      ];
    case "mainsDips":
      return mainsDips(random, speech);
  }
}

/** The same knobs turned at full drive and in operate mode: what the tune mode is there to prevent. */
export function tuneUpInOperateMode(seed: number): readonly ScenarioEntry[] {
  return tuneUp(new RandomStream(seed, USES.length), false);
}

function morse(random: RandomStream): readonly ScenarioEntry[] {
  const wordsPerMinute = oneOf(SPEEDS_WPM, random);
  let text = "";
  for (;;) {
    const letters = 2 + Math.floor(random.uniform() * 6);
    let word = "";
    for (let i = 0; i < letters; i++)
      word += SIGNS[Math.floor(random.uniform() * SIGNS.length)] as string;
    const longer = text === "" ? word : `${text} ${word}`;
    const keyed = keyText(longer, wordsPerMinute);
    if (!keyed.ok) throw new Error(keyed.problems.join("; "));
    const lastsS = keyed.elements.reduce((sum, e) => sum + e.downS + e.upS, 0);
    if (lastsS > USE_S - 1 && text !== "") break;
    text = longer;
  }
  return [{ atS: 0, do: "key", text, wordsPerMinute }];
}

/** From up to 30 % off towards the peak and a little past it and back, 0.6 s a step, then corrections at full drive. */
function tuneUp(random: RandomStream, isTuneMode: boolean): readonly ScenarioEntry[] {
  const entries: ScenarioEntry[] = [];
  const set = (atS: number, control: "tuningRatio" | "loadingRatio", value: number): void => {
    entries.push({ atS, do: "set", control, value });
  };
  const off = random.between(0.1, 0.3) * (random.uniform() < 0.5 ? -1 : 1);
  const loading = random.between(0.8, 1.2);
  set(0, "tuningRatio", 1 + off);
  set(0, "loadingRatio", loading);
  if (isTuneMode) entries.push({ atS: 0.1, do: "mode", mode: "tune" });
  entries.push(key(0.2, true));
  const steps = 18;
  for (let k = 1; k <= steps; k++) {
    const left = k < 12 ? 1 - k / 12 : k < 15 ? -0.1 : 0;
    set(0.6 * k, "tuningRatio", 1 + off * left);
    if (k % 4 === 0) set(0.6 * k + 0.3, "loadingRatio", loading + (1 - loading) * (k / 16));
  }
  set(0.6 * steps + 0.6, "loadingRatio", 1);
  entries.push(key(13, false));
  if (isTuneMode) entries.push({ atS: 13.5, do: "mode", mode: "operate" });
  entries.push(key(15, true));
  for (let k = 0; k < 8; k++) {
    const control = k % 2 === 0 ? "tuningRatio" : "loadingRatio";
    set(16 + 1.2 * k, control, 1 + random.between(-0.03, 0.03));
  }
  entries.push(key(USE_S - 3, false));
  return entries;
}

function mainsDips(random: RandomStream, speech: ScenarioEntry): readonly ScenarioEntry[] {
  const entries: ScenarioEntry[] = random.uniform() < 0.5 ? [speech] : [];
  entries.push(key(0, true));
  for (let k = 0; k < 5; k++) {
    entries.push({
      atS: 2 + 5 * k + random.between(0, 3),
      do: "placeFault",
      fault: "mainsDip",
      part: "supply",
      severity: random.between(0.1, 0.3),
      onset: { kind: "passing", forS: random.between(0.01, 0.06) },
    });
  }
  entries.push(key(USE_S - 2, false));
  return entries;
}

function oneOf(values: readonly number[], random: RandomStream): number {
  return values[Math.floor(random.uniform() * values.length)] as number;
}
