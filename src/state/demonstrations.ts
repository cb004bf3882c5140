/**
 * The demonstrations of the bench: what is opened, and a sentence before and after. A link such as
 * `?show=quiet-arc` opens one by name.
 */

export interface Demonstration {
  /** Name in a link. */
  readonly name: string;
  readonly title: string;
  /** File under `projects/`. */
  readonly file: string;
  readonly before: string;
  readonly after: string;
  /** Where the picture begins to be worth watching, s. */
  readonly watchFromS: number;
  /** The same with one thing changed, to be run next; empty for none. */
  readonly nextName: string;
  /** A chart that answers the same question for many runs, and the address of its screen; null for none. */
  readonly chart: { readonly word: string; readonly address: string } | null;
}

export const DEMONSTRATIONS: readonly Demonstration[] = [
  {
    name: "quiet-arc",
    title: "Quiet arc",
    file: "skerry-light-insect.json",
    before:
      "Full drive into a good antenna; at 1.00037 s an insect bridges the tuning capacitor. Which needle would you watch?",
    after:
      "No current rose: the grid needle fell. Low gain saw the arc and opened the drive within milliseconds; a person would have needed seconds.",
    watchFromS: 0.95,
    nextName: "low-gain-in-shadow",
    chart: null,
  },
  {
    name: "low-gain-in-shadow",
    title: "Low gain only watching",
    file: "low-gain-in-shadow.json",
    before: "The same arc and the same seed, but low gain may only watch. Who acts instead?",
    after:
      "Nobody did before the operator opened the key: the edge melted, and plate dissipation was still timing. That is what a scheme of currents alone costs.",
    watchFromS: 0.95,
    nextName: "contactor-alone",
    chart: null,
  },
  {
    name: "contactor-alone",
    title: "The wrong actuator",
    file: "contactor-alone.json",
    before: "The same trip, but it opens the high-voltage contactor and nothing else.",
    after:
      "Drive stayed on while the filter capacitor fed the arc, and the grid took the current the plate no longer drew. Drive first, plate supply last.",
    watchFromS: 0.95,
    nextName: "antenna-lost",
    chart: null,
  },
  {
    name: "antenna-lost",
    title: "Antenna lost while transmitting",
    file: "antenna-lost.json",
    before: "Full drive, and the antenna comes off at 1.00037 s. Will low gain see it?",
    after:
      "Low gain stayed silent: forward gain hardly moved. Plate RF overshot, grid current and reflected power rose, and those monitors acted.",
    watchFromS: 0.95,
    nextName: "tune-up-in-operate-mode",
    chart: null,
  },
  {
    name: "tune-up-in-operate-mode",
    title: "Why not shorter?",
    file: "tune-up-in-operate-mode.json",
    before:
      "Tuning up from 30 % off with everything acting: a gain monitor cannot tell a mistuned tank from an arc.",
    after:
      "It tripped on ordinary use. Speech does it too to a plain floor of gain, the more the less it confirms and smooths, as the chart shows. In tune mode, at 20 W of drive, low gain only watches and the tune-up goes through.",
    watchFromS: 0,
    nextName: "tune-up-in-tune-mode",
    chart: { word: "Speech: 0 to 5 ms", address: "#trials/whyNotShorter" },
  },
  {
    name: "tune-up-in-tune-mode",
    title: "Tuning up in tune mode",
    file: "tune-up-in-tune-mode.json",
    before: "The same tune-up in tune mode, where low gain only watches.",
    after: "Nothing tripped, and plate dissipation kept watch over every key-down.",
    watchFromS: 0,
    nextName: "",
    chart: null,
  },
];

/** The demonstration a page's address asks for, from its search part; null for none or an unknown one. */
export function demonstrationOf(search: string): Demonstration | null {
  const name = new URLSearchParams(search).get("show");
  return DEMONSTRATIONS.find((d) => d.name === name) ?? null;
}

/** Words for a link that asks for a demonstration nobody knows; empty for a good link or none. */
export function unknownDemonstration(search: string): string {
  const name = new URLSearchParams(search).get("show");
  if (name === null || DEMONSTRATIONS.some((d) => d.name === name)) return "";
  const names = DEMONSTRATIONS.map((d) => d.name).join(", ");
  return `The link asks for a demonstration named “${name}”, and there is none. Names a link may ask for: ${names}.`;
}

/** Address of its file, from where the page stands. */
export function fileOf(demonstration: Demonstration): string {
  return `projects/${demonstration.file}`;
}

export type Fetched =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly reason: string };

/** Fetches its file; a missing one is a reason in words. */
export async function fetchDemonstration(
  demonstration: Demonstration,
  base: string,
): Promise<Fetched> {
  try {
    const answer = await fetch(new URL(fileOf(demonstration), base));
    if (!answer.ok) return { ok: false, reason: `${fileOf(demonstration)} is not there` };
    return { ok: true, text: await answer.text() };
  } catch {
    return { ok: false, reason: `${fileOf(demonstration)} could not be read` };
  }
}
