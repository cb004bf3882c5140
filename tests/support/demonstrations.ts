/**
 * The sample projects of public/projects, as data. tests/formats/demonstrations.test.ts keeps the files equal to what is
 * written here; QUIETARC_WRITE_SAMPLES=1 set for that test writes them anew.
 */
import type { WrittenProject } from "../../src/formats/writeProject";
import { defaultProject } from "../../src/project/defaults";
import { keyText } from "../../src/project/morse";
import type { ScenarioEntry } from "../../src/project/scenario";

/** Off the edge of every scan: 0.37 ms past a whole millisecond. */
const STRIKE_S = 1.00037;

const keyDown = (atS: number): ScenarioEntry => ({ atS, do: "key", down: true });
const keyUp = (atS: number): ScenarioEntry => ({ atS, do: "key", down: false });
const insect: ScenarioEntry = {
  atS: STRIKE_S,
  do: "placeFault",
  fault: "insect",
  part: "tuningCapacitor",
  severity: 1,
};

function sample(
  title: string,
  notes: string,
  endS: number,
  scenario: ScenarioEntry[],
): WrittenProject {
  return { format: "quietarc-project", schemaVersion: 1, title, seed: 1, endS, scenario, notes };
}

/** Up, down past the start to the other side, and back: whole steps of `step` between -most and +most. */
function sweep(most: number, step: number): number[] {
  const steps = Math.round(most / step);
  const counts = [
    ...Array.from({ length: steps }, (_, k) => k + 1),
    ...Array.from({ length: 2 * steps }, (_, k) => steps - 1 - k),
    ...Array.from({ length: steps }, (_, k) => k + 1 - steps),
  ];
  return counts.map((count) => rounded(1 + count * step, 6));
}

/** Out to one side and back. */
function excursion(most: number, step: number): number[] {
  const steps = Math.round(Math.abs(most) / step);
  const side = Math.sign(most);
  const out = Array.from({ length: steps }, (_, k) => k + 1);
  return [...out, ...out.map((k) => steps - k)].map((k) => rounded(1 + side * k * step, 6));
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

/** A text of whole words that takes no longer than asked, and how long it takes. */
function textFor(lastsS: number, wordsPerMinute: number): { text: string; takesS: number } {
  const words = "THE LIGHT IS ON AT SKERRY AND THE WIND IS 7 FROM NW. ALL WELL HERE = "
    .trim()
    .split(" ");
  let text = "";
  let takesS = 0;
  for (let count = 0; ; count += 1) {
    const next = `${text} ${words[count % words.length]}`.trim();
    const keyed = keyText(next, wordsPerMinute);
    if (!keyed.ok) throw new Error(`text cannot be keyed: ${keyed.problems.join("; ")}`);
    const nextS = keyed.elements.reduce((sum, element) => sum + element.downS + element.upS, 0);
    if (nextS > lastsS) return { text, takesS };
    text = next;
    takesS = nextS;
  }
}

function ordinaryUse(): ScenarioEntry[] {
  const entries: ScenarioEntry[] = [];
  let atS = 0;
  const set = (
    whenS: number,
    control: "driveW" | "tuningRatio" | "loadingRatio" | "loadSwr" | "loadPhaseRad",
    value: number,
  ) => {
    entries.push({ atS: rounded(whenS, 6), do: "set", control, value });
  };

  // Two minutes of carrier at full drive.
  entries.push(keyDown(0), keyUp(120));
  atS = 122;

  // Four minutes of Morse: 80 s each at 12, 20 and 30 words a minute.
  for (const wordsPerMinute of [12, 20, 30]) {
    entries.push({ atS, do: "key", text: textFor(79, wordsPerMinute).text, wordsPerMinute });
    atS += 80;
  }

  // Two minutes of drive steps, 10 s each, from 5 W to full drive.
  const steps = [10, 15, 20, 25, 30, 35, 40, 45, 50, 56, 62];
  set(atS, "driveW", 5);
  entries.push(keyDown(atS + 1));
  for (const [k, driveW] of steps.entries()) set(atS + 11 + 10 * k, "driveW", driveW);
  entries.push(keyUp(atS + 121));
  atS += 123;

  // Two minutes of small corrections at full drive: tuning, then loading, 4 % to either side.
  entries.push(keyDown(atS));
  for (const control of ["tuningRatio", "loadingRatio"] as const) {
    const values = sweep(0.04, 0.0025);
    for (const [k, value] of values.entries()) {
      set(atS + (60 * (k + 0.5)) / values.length, control, value);
    }
    atS += 60;
  }
  entries.push(keyUp(atS));
  atS += 2;

  // Tuning up in tune mode at 20 W: eight key-downs of 14 s, 30 % to every side.
  entries.push({ atS, do: "mode", mode: "tune" });
  set(atS, "driveW", 20);
  const tries: readonly (readonly [tuning: number, loading: number])[] = [
    [0.3, 0],
    [-0.3, 0],
    [0, 0.3],
    [0, -0.3],
    [0.3, 0.3],
    [-0.3, -0.3],
    [0.3, -0.3],
    [-0.3, 0.3],
  ];
  atS += 2;
  for (const [tuning, loading] of tries) {
    entries.push(keyDown(atS));
    for (const [control, most] of [
      ["tuningRatio", tuning],
      ["loadingRatio", loading],
    ] as const) {
      if (most === 0) continue;
      for (const [k, value] of excursion(most, 0.025).entries()) {
        set(atS + 1 + 0.5 * k, control, value);
      }
    }
    entries.push(keyUp(atS + 14));
    atS += 16;
  }
  entries.push({ atS, do: "mode", mode: "operate" });
  set(atS, "driveW", 62);
  atS += 2;

  // VSWR 1.5 at eight phases, 15 s each, at full drive.
  set(atS, "loadSwr", 1.5);
  atS += 1;
  entries.push(keyDown(atS));
  for (let k = 0; k < 8; k += 1) set(atS + 15 * k, "loadPhaseRad", rounded((k * Math.PI) / 4, 6));
  entries.push(keyUp(atS + 120));
  return entries.sort((a, b) => a.atS - b.atS);
}

/** Tuning up from 30 % off, at 20 W. */
function tuneUp(mode: "operate" | "tune"): ScenarioEntry[] {
  const values = [0.7, ...excursion(-0.3, 0.02).slice(15)];
  return [
    { atS: 0, do: "mode", mode },
    { atS: 0, do: "set", control: "driveW", value: 20 },
    { atS: 0, do: "set", control: "tuningRatio", value: 0.7 },
    keyDown(0.5),
    ...values.slice(1).map(
      (value, k): ScenarioEntry => ({
        atS: rounded(1.5 + 0.5 * k, 6),
        do: "set",
        control: "tuningRatio",
        value,
      }),
    ),
    keyUp(11),
  ];
}

const ordinary = ordinaryUse();

/** File name without ending, and what it holds. */
export const DEMONSTRATIONS: Readonly<Record<string, WrittenProject>> = {
  "skerry-light": {
    ...defaultProject([keyDown(0)]),
    notes:
      "A lighthouse-island radio club with a home-built 1.5 kW amplifier round a pair of generic high-mu triodes. Every value is written out; whatever a file leaves out is taken from here.",
  },
  "skerry-light-insect": sample(
    "Quiet arc",
    "An insect bridges the tuning capacitor at full drive. The arc pins the RF voltage while every current stays near normal; the grid current even falls.",
    3,
    [keyDown(0), insect],
  ),
  "low-gain-in-shadow": sample(
    "Low gain only watching",
    "The same arc with the low-gain monitor in shadow: nothing else acts before a person opens the key after 2.5 s.",
    4,
    [
      { atS: 0, do: "configureMonitor", monitor: "lowGain", change: { role: "shadow" } },
      keyDown(0),
      insect,
      keyUp(3.50037),
    ],
  ),
  "contactor-alone": sample(
    "Contactor as the only actuator",
    "The same arc, but trips open the high-voltage contactor and nothing else: drive stays on, the arc burns on from the filter capacitor, and grid current climbs.",
    3,
    [
      { atS: 0, do: "placeFault", fault: "contactorOnly", part: "protection", severity: 1 },
      keyDown(0),
      insect,
    ],
  ),
  "antenna-lost": sample(
    "Antenna lost while transmitting",
    "The load opens at full drive. Plate RF voltage overshoots, grid current and reflected power rise, forward gain stays near normal: low gain is silent and others act.",
    3,
    [keyDown(0), { atS: STRIKE_S, do: "placeFault", fault: "openLoad", part: "load", severity: 1 }],
  ),
  "tune-up-in-operate-mode": sample(
    "Tuning up in operate mode",
    "From 30 % off tune at 20 W with everything acting: the low-gain monitor cannot tell a mistuned tank from an arc.",
    12,
    tuneUp("operate"),
  ),
  "tune-up-in-tune-mode": sample(
    "Tuning up in tune mode",
    "The same tune-up in tune mode, where low gain only watches.",
    12,
    tuneUp("tune"),
  ),
  "ordinary-use": sample(
    "Ordinary use",
    "Nothing may trip here: carrier, Morse at three speeds, drive steps, small corrections at full drive, tuning up in tune mode, and VSWR 1.5 at eight phases. The T/R relay is held 300 ms between Morse elements.",
    Math.ceil((ordinary.at(-1)?.atS ?? 0) + 2),
    ordinary,
  ),
};
