/** What a cell of the coverage table is called, from its outcome, and why in words. */
import { FAULTS } from "../../project/faults";
import type { FaultName } from "../../project/scenario";
import type { DamagePart } from "../../simulation/benchEvent";
import { formatRatio, formatTime } from "../../units/format";
import type { RequiredMargins } from "./coverageOptions";
import type { CaseOutcome } from "./runCase";

/**
 * `thin`: ended in time but under a required margin; `late`: ended after the damage, though something could have been in time;
 * `notCovered`: damage comes and nothing ends it; `limitedByDesign`: damage comes before anything that is fitted could act;
 * `noStrike`: no arc under this condition; `noDamage`: nothing is damaged even if nothing acts; `latent`: waits for its call.
 */
export const KINDS = [
  "covered",
  "thin",
  "late",
  "notCovered",
  "limitedByDesign",
  "noStrike",
  "noDamage",
  "latent",
] as const;
export type CellKind = (typeof KINDS)[number];

export interface Judgement {
  readonly kind: CellKind;
  /** A clause without a full stop. */
  readonly reason: string;
}

const PARTS: Readonly<Record<DamagePart, string>> = {
  tuningCapacitor: "the tuning capacitor",
  loadingCapacitor: "the loading capacitor",
  coilTap: "the coil tap",
  beyondCoupler: "the contact beyond the coupler",
  grid: "the grid",
  anode: "the plate",
  cathode: "the cathode",
  exciter: "the exciter",
  seal: "the seal",
  switchContact: "the band switch's contact",
  tuningWiper: "the tuning capacitor's wiper",
  loadingWiper: "the loading capacitor's wiper",
  plateChoke: "the plate choke",
  surgeResistor: "the surge resistor",
  relayContact: "the relay's contact",
};

/** Kind and reason of one cell; `quickestS`: what the fastest actuator needs by itself. */
export function judgeCell(
  fault: FaultName,
  outcome: CaseOutcome,
  required: RequiredMargins,
  quickestS: number,
): Judgement {
  const { problem, zero, supply } = outcome;
  if (FAULTS[fault].latent)
    return is("latent", "does nothing until it is called upon: the back-up trial fails it in turn");
  if (problem !== null) return is("notCovered", problem);
  if (zero === null) return is("noStrike", "the gap withstands the RF voltage it sees here");
  const rest = judgeDamage(outcome, required, quickestS);
  if (supply?.limitedBy !== "surgeResistor") return rest;
  // what the mains feed on after that can still be ended in time, or not
  const first = `the filter's energy is gone before anything acts, ${supply.words}`;
  const kind = rest.kind === "covered" || rest.kind === "noDamage" ? "limitedByDesign" : rest.kind;
  return is(kind, `${first}; then ${rest.reason}`);
}

function judgeDamage(
  outcome: CaseOutcome,
  required: RequiredMargins,
  quickestS: number,
): Judgement {
  const { weakest, unharmedS, firstTrip, endedS, heatsOn, marginHalfMilligram } = outcome;
  const trip = firstTrip === null ? "no monitor trips" : tripWords(firstTrip);
  if (weakest === null) {
    const long = unharmedS === null ? "" : ` within ${formatTime(unharmedS)}`;
    return is("noDamage", `nothing is damaged${long} even if nothing acts; ${trip}`);
  }
  const harm = `${PARTS[weakest.part]} is damaged after ${formatTime(weakest.damageS)}`;
  if (weakest.damageS <= quickestS) {
    const least = formatTime(quickestS);
    return is(
      "limitedByDesign",
      `${harm}, and the quickest actuator alone takes ${least}; ${trip}`,
    );
  }
  const margin = outcome.weakestMargin;
  if (endedS === null || margin === null) {
    return is(
      "notCovered",
      `${harm}: ${firstTrip === null ? trip : `${trip}, and that ends nothing`}`,
    );
  }
  const ended = `${trip}, ended after ${formatTime(endedS)}`;
  if (margin < 1) return is("late", `${harm}: ${ended}`);
  if (heatsOn !== null) {
    const part = PARTS[heatsOn.part];
    return is(
      "notCovered",
      `${ended}, but ${part} goes on heating to its damage after ${formatTime(heatsOn.damageS)}`,
    );
  }
  const early = outcome.weakestMarginEarly ?? margin;
  const earlyWords =
    early >= required.requiredMargin
      ? ""
      : `; by the early edge of the estimates ${early < 1 ? "too late" : "thin"} (${formatRatio(early)})`;
  if (margin < required.requiredMargin) {
    return is(
      "thin",
      `margin ${formatRatio(margin)} is under ${required.requiredMargin}: ${ended}${earlyWords}`,
    );
  }
  if (marginHalfMilligram !== null && marginHalfMilligram < required.requiredMarginHalfMilligram) {
    const least = required.requiredMarginHalfMilligram;
    return is(
      "thin",
      `margin ${formatRatio(marginHalfMilligram)} to 0.5 mg molten is under ${least}: ${ended}${earlyWords}`,
    );
  }
  return is("covered", `${ended}${earlyWords}`);
}

function is(kind: CellKind, reason: string): Judgement {
  return { kind, reason };
}

function tripWords({ name, atS }: { readonly name: string; readonly atS: number }): string {
  return `${name} trips first after ${formatTime(atS)}`;
}
