/** Words of the coordination sheets: stresses, verdicts, what a point says, and what the sheets leave out. */
import type { MonitorDef } from "../../../project/protection";
import type { StressPoint } from "../../../study/coordination/coordinate";
import type { DamageTime, HurtPart } from "../../../study/coordination/damageTime";
import type {
  Margin,
  Requirement,
  SchemeMargin,
  Verdict,
} from "../../../study/coordination/margins";
import { STRESS, type StressName } from "../../../study/coordination/stress";
import {
  formatLate,
  formatNumber,
  formatQuantity,
  formatRatio,
  formatTime,
  NO_BREAK_SPACE,
} from "../../../units/format";
import { DAMAGE_WORDS } from "../bench/views/words";

interface StressWords {
  readonly name: string;
  /** Along the axis, with the unit. */
  readonly axis: string;
  /** What is held constant, and how it comes about. */
  readonly what: string;
}

const ARC_AXIS = "Maintaining voltage of the arc, V peak";
const ARC_WHAT = "Burns steadily there, on the full carrier.";

export const STRESS_WORDS: Readonly<Record<StressName, StressWords>> = {
  arcAtTuningCapacitor: {
    name: "Arc at the tuning capacitor",
    axis: ARC_AXIS,
    what: ARC_WHAT,
  },
  arcAtCoilTap: { name: "Arc at the coil tap", axis: ARC_AXIS, what: ARC_WHAT },
  arcAtLoadingCapacitor: {
    name: "Arc at the loading capacitor",
    axis: ARC_AXIS,
    what: ARC_WHAT,
  },
  arcBeyondCoupler: {
    name: "Arc beyond the coupler",
    axis: ARC_AXIS,
    what: `${ARC_WHAT} Relay, connector and balun count as one part.`,
  },
  plateCurrent: {
    name: "Plate current",
    axis: "Plate current, A",
    what: "Put into the shunt as a test set would: the supply sags by its own resistance, what is not delivered heats the plate.",
  },
  gridCurrent: {
    name: "Grid current",
    axis: "Grid current, A",
    what: "As more drive brings it, tuned and matched.",
  },
  mismatch: {
    name: "Mismatch, worst phase",
    axis: "Standing-wave ratio",
    what: "At the phase that does most harm, tuned for the matched load. Gaps that would strike are not looked at here.",
  },
  dissipation: {
    name: "Plate dissipation",
    axis: "Plate dissipation, W",
    what: "As less drive and then detuning bring it, full drive from the carrier's own dissipation on.",
  },
  supplyShort: {
    name: "Plate supply shorted",
    axis: "Resistance of the short, Ω",
    what: "Behind the surge resistor, which the filter empties through in about a millisecond: that resistor limits it, no monitor does. What a monitor ends is what the mains feed afterwards.",
  },
};

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  covered: "covered",
  thin: "thin",
  late: "late",
  notCovered: "not covered",
  noDamage: "no damage",
  noStress: "cannot occur here",
};

/** What every sheet leaves out or takes for granted; beside the result. */
export const MODEL_LIMITS: readonly string[] = [
  "Each point is a constant stress after a long, healthy full carrier into the station's own load. The first microseconds and speech, keying and growing faults are the bench's and the trials' business.",
  "Operate times are those of the monitors' own programs, at the worst phase of their scan. Sensors have the errors that are set, and no noise.",
  "Cleared means: the first actuator that ends the stress has acted. The circuits' ring-down is left out; after a contactor the filter is counted with one time constant; a T/R relay ends nothing.",
  "Onset of melting is a band: current density in the arc's root of 2 to 10 A/mm² and an electrode's share of 0.25 to 0.45 are estimates. An edge is followed for 5 s.",
  "Clocks of the other parts have one time constant each: honest about which part goes first, not about the last 50 %.",
  "Damage by overvoltage, contact wear, and what an arc does besides melting are left out. Stresses are followed for 100 s.",
];

export function partWords(part: HurtPart): string {
  return part === "testWire" ? "test wire" : DAMAGE_WORDS[part];
}

/** What a damage time is about: `tuning capacitor begins to melt`. */
export function damageWords({ part, milestone }: DamageTime): string {
  switch (milestone) {
    case "onset":
      return `${partWords(part)} begins to melt`;
    case "halfMilligram":
      return `${partWords(part)}: 0.5${NO_BREAK_SPACE}mg molten`;
    case "damage":
      return part === "testWire" ? "test wire melts" : `${partWords(part)} is damaged`;
  }
}

/** A size of a stress with its unit; a standing-wave ratio is a plain number. */
export function sizeWords(stress: StressName, x: number): string {
  const { unit } = STRESS[stress];
  return unit === "" ? `VSWR ${formatNumber(x)}` : formatQuantity(x, unit);
}

/** A time, or that there is none. */
export function timeOr(seconds: number | null | undefined, none: string): string {
  if (seconds === null || seconds === undefined) return none;
  return seconds === 0 ? "at once" : formatTime(seconds);
}

/** Earliest to latest operate time, in one unit where they share it. */
export function operateWords(earliestS: number | null, latestS: number | null): string {
  if (latestS === null || earliestS === null) return "does not operate";
  if (latestS === 0) return "on the carrier already";
  const [from, to] = [formatTime(earliestS), formatTime(latestS)];
  if (from === to) return to;
  const unit = to.slice(to.indexOf(NO_BREAK_SPACE));
  return `${from.endsWith(unit) ? from.slice(0, -unit.length) : from} to ${to}`;
}

/** A margin as it is spoken of: figure, or why there is none. */
export function marginWords({ verdict, margin }: Margin): string {
  if (margin === null) return VERDICT_WORDS[verdict];
  return margin < 1 ? formatLate(margin) : formatRatio(margin);
}

/** One sentence on what the chosen monitors are worth at a point. */
export function pointSentence(
  stress: StressName,
  point: StressPoint,
  margin: SchemeMargin,
  monitors: readonly MonitorDef[],
  required: Requirement,
): string {
  const size = sizeWords(stress, point.x);
  if (point.facts === null)
    return `${size}: this station cannot have it: ${stress.startsWith("arc") ? "the arc goes out" : "no setting brings it"}.`;
  const name = monitors[margin.first]?.name;
  const clears =
    name === undefined || margin.clearS === null
      ? "no chosen monitor ends it"
      : `${name} clears in ${formatTime(margin.clearS.nominal)}`;
  if (margin.hurt === null) {
    const earlyS = point.damage.find((d) => d.milestone === "onset")?.earlyS ?? null;
    const early =
      earlyS === null ? "" : `; by the early estimate melting begins after ${formatTime(earlyS)}`;
    return `${size}: ${clears}; nothing is damaged by the nominal estimates in the time looked at${early}.`;
  }
  const hurt = `${damageWords(margin.hurt)} after ${timeOr(margin.hurt.nominalS, "")}`;
  if (margin.margin === null) return `${size}: ${hurt}, and ${clears}: not covered.`;
  const mass =
    margin.marginHalfMilligram === null
      ? ""
      : `, ${formatRatio(margin.marginHalfMilligram)} to 0.5${NO_BREAK_SPACE}mg molten`;
  const early =
    margin.marginEarly === null || margin.hurt.milestone !== "onset"
      ? ""
      : `; early estimate ${formatRatio(margin.marginEarly)}`;
  return (
    `${size}: ${clears}, ${hurt}: margin ${marginWords(margin)}${mass}${early}. ` +
    `Required: ${formatRatio(required.onset)} and ${formatRatio(required.halfMilligram)}, so it is ${VERDICT_WORDS[margin.verdict]}.`
  );
}

/** What else is true at a point. */
export function factsSentence(stress: StressName, { facts }: StressPoint): string {
  if (facts === null) return "";
  const arc =
    facts.arcW > 0
      ? `${formatQuantity(facts.arcW, "W")} in the arc, ${formatQuantity(facts.arcPeakA, "A")} peak; `
      : "";
  const phase =
    facts.phaseRad === null ? "" : `phase ${formatNumber((180 * facts.phaseRad) / Math.PI, 3)}°; `;
  const current = `${stress === "supplyShort" ? "at the first instant " : ""}${formatQuantity(facts.plateCurrentA, "A")} of plate current`;
  return `${arc}${phase}${formatQuantity(facts.driveW, "W")} of drive, ${formatQuantity(facts.forwardW, "W")} forward, ${current}, ${formatQuantity(facts.gridCurrentA, "A")} of grid current, ${formatQuantity(facts.plateDissipationW, "W")} of dissipation.`;
}
