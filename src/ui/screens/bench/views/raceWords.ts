/** Notes, missing margins and the one-sentence summary of a race. */

import { TEST_WIRE } from "../../../../physics/supply/copperWire";
import type { Project } from "../../../../project/types";
import type { RaceReport } from "../../../../shells/bench/protocol";
import type { SupplyResult } from "../../../../simulation/supplyResult";
import {
  formatDb,
  formatLate,
  formatNumber,
  formatQuantity,
  formatRatio,
  formatTime,
} from "../../../../units/format";
import type { DamageLane, RaceOperator, RaceSpine } from "../../../instruments/race/raceView";
import { spanOf } from "./clockLanes";
import type { Clearing } from "./laneState";
import type { Course, LaneSource } from "./laneTypes";
import { excursionOf, gainDb } from "./laneWhy";
import { scanPhases } from "./scanPhase";
import {
  DAMAGE_WORDS,
  faultWords,
  lowerFirst,
  PLACE_WORDS,
  STEP_WORDS,
  spanWords,
  upperFirst,
} from "./words";

export interface RaceFacts {
  readonly report: RaceReport;
  readonly source: LaneSource;
  readonly courses: readonly Course[];
  readonly leading: Course | null;
  readonly spine: RaceSpine;
  readonly clearing: Clearing | null;
  readonly operator: RaceOperator;
  readonly damage: readonly DamageLane[];
}

/** Longest name that leaves room for the clearing time beside it. */
const LONG_NAME = 24;

/** Said in place of a margin. */
export function noMarginWord(
  report: RaceReport,
  clearing: Clearing | null,
  courses: readonly Course[],
  damage: readonly DamageLane[],
): string {
  const { zero, race } = report;
  if (report.supply !== null) return report.supply.words;
  if (zero.struck !== null && damage.find((lane) => lane.tall)?.onsetS === null)
    return report.aloneDone
      ? `no melting within ${spanOf(report)} if left alone`
      : `left alone for ${spanOf(report)} so far: no melting`;
  if (clearing === null) return notCleared(report, courses);
  const worn = firstWorn(damage);
  if (worn !== null)
    return `${lowerFirst(worn.name)} lasts ${formatTime(worn.onsetS ?? 0)}, ${endWords(clearing)}`;
  if (race.firstTrip === null) return `no arc; ${endWords(clearing)}`;
  const { name, atS } = race.firstTrip;
  return name.length > LONG_NAME
    ? `${name} at ${formatTime(atS)}`
    : `${name} trips at ${formatTime(atS)}, ${endWords(clearing)}`;
}

/** `clear at 3.74 ms`; before that is known `cathode cut-off due at 3.73 ms`. */
function endWords({ atS, due }: Clearing): string {
  return `${due === null ? "clear" : `${STEP_WORDS[due]} due`} at ${formatTime(atS)}`;
}

function notCleared(report: RaceReport, courses: readonly Course[]): string {
  if (report.race.firstTrip !== null) return "tripped, not cleared yet";
  const acts = courses.some((c) => c.role === "acting" && c.operate !== null);
  if (acts) return "not cleared yet";
  return report.aloneDone
    ? "no monitor clears this fault"
    : `no monitor operates in ${spanOf(report)} so far`;
}

/** The part that a fault without an arc wears out first. */
function firstWorn(damage: readonly DamageLane[]): DamageLane | null {
  return (
    damage
      .filter((lane) => lane.onsetS !== null)
      .sort((a, b) => (a.onsetS ?? 0) - (b.onsetS ?? 0))[0] ?? null
  );
}

// ------------------------------------------------------------------ notes beside the title

export function forecastNote(facts: RaceFacts, project: Project): string {
  const { zero } = facts.report;
  const phases = phaseWords(facts, project);
  return `forecast for the chosen fault: ${faultWords(zero.fault, zero.part)}, if it struck now${phases === "" ? "" : `; ${phases}`}`;
}

export function liveNote(facts: RaceFacts, project: Project): string {
  const { zero } = facts.report;
  const phases = phaseWords(facts, project);
  return `${faultWords(zero.fault, zero.part)}${phases === "" ? "" : `; ${phases}`}`;
}

/** Best and worst operate time of the leading monitor over all phases of its scan. */
function phaseWords({ report, source, leading }: RaceFacts, project: Project): string {
  if (leading?.operate == null || leading.confirmFromS === null) return "";
  const phases = scanPhases({
    def: leading.def,
    criterion: leading.criterion,
    pickupS: leading.confirmFromS,
    operateS: leading.operate.atS,
    sensors: project.sensors,
    before: report.before,
    track: report.alone,
    expectedGain: source.expectedGain,
  });
  if (phases === null) return "";
  const span = spanWords(formatTime(phases.bestS), formatTime(phases.worstS));
  return `${lowerFirst(leading.def.name)} operates at ${span} over all scan phases`;
}

// ------------------------------------------------------------------ summary

/** The whole picture in one sentence. */
export function summaryOf(facts: RaceFacts): string {
  const { source } = facts;
  const parts = [protectionWords(facts), clearingWords(facts), damageWords(facts)];
  const gain = silentGainWords(facts);
  if (gain !== "") parts.push(gain);
  const text = parts.filter((part) => part !== "").join("; ");
  return source.nowS === null ? `Forecast: ${lowerFirst(text)}.` : `${upperFirst(text)}.`;
}

function protectionWords({ leading, report }: RaceFacts): string {
  const { zero } = report;
  const from = zero.struck === null ? "the fault" : "the strike";
  if (leading?.operate == null) return "no monitor operates";
  const { name } = leading.def;
  const at = `${formatTime(leading.operate.atS)} after ${from}`;
  if (leading.role === "shadow")
    return `${name} would have operated ${at}, but is in shadow and never acts`;
  return leading.operate.happened ? `${name} operated ${at}` : `${name} would operate ${at}`;
}

function clearingWords({ report, spine, clearing }: RaceFacts): string {
  const { clearingS, clearingHappened } = spine;
  if (clearingS === null) return "";
  if (clearing !== null && clearing.due !== null) return endWords(clearing);
  if (clearingHappened && report.race.firstTrip === null)
    return `cleared by hand at ${formatTime(clearingS)}`;
  return clearingHappened
    ? `the fault was cleared at ${formatTime(clearingS)}`
    : `the fault would be cleared at ${formatTime(clearingS)}`;
}

function damageWords({ report, spine, operator, damage }: RaceFacts): string {
  const { struck } = report.zero;
  if (report.supply !== null) return supplyWords(report.supply);
  if (struck === null) {
    const worn = firstWorn(damage);
    return worn === null
      ? `nothing is damaged within ${spanOf(report)} if left alone`
      : `left alone the ${lowerFirst(worn.name)} is damaged at ${formatTime(worn.onsetS ?? 0)}`;
  }
  if (spine.onsetS === null) return `${PLACE_WORDS[struck]}: ${spine.noMarginWord}`;
  const melts = `left alone the ${DAMAGE_WORDS[struck]} begins to melt at ${formatTime(spine.onsetS)}`;
  const person =
    operator.margin === null || (report.race.firstTrip === null && spine.clearingHappened)
      ? ""
      : `, an operator alone is ${operator.margin < 1 ? formatLate(operator.margin) : `in time by ${formatRatio(operator.margin)}`}`;
  return `${melts}${marginWords(spine)}${person}`;
}

/** What came through a fault of the plate supply, what limited it, and the copper-wire test. */
function supplyWords(supply: SupplyResult): string {
  const { words, letThroughA2s, peakA, faultJ, arcJ, wireSurvives } = supply;
  const into =
    arcJ > 0
      ? `${formatQuantity(arcJ, "J")} in the arc`
      : `${formatQuantity(faultJ, "J")} in the short`;
  const wire = `${TEST_WIRE.name} of copper ${wireSurvives ? "would survive" : "would melt"}`;
  return `${words}: ${formatQuantity(peakA, "A")} at most, ${formatNumber(letThroughA2s, 3)} A²s, ${into}; ${wire}`;
}

/** The margin and its standing against what is asked for, in words. */
function marginWords({ margin, marginEarly, marginRequired }: RaceSpine): string {
  if (margin === null) return "";
  const early =
    marginEarly === null
      ? ""
      : ` (early edge ${marginEarly < 1 ? formatLate(marginEarly) : formatRatio(marginEarly)})`;
  if (margin < 1) return `, ${formatLate(margin)}${early}`;
  const thin = marginRequired !== null && margin < marginRequired;
  return thin
    ? `, a thin margin of ${formatRatio(margin)} where ${formatRatio(marginRequired)} is asked for${early}`
    : `, margin ${formatRatio(margin)}${early}`;
}

/** Why the gain says nothing: without an arc in the way forward gain hardly falls. */
function silentGainWords({ report, source, courses }: RaceFacts): string {
  const silent = courses.find(
    (c) =>
      c.pickup === null &&
      c.role === "acting" &&
      c.armed &&
      c.def.criteria[0]?.quantity === "gainDeviationDb",
  );
  if (silent === undefined || report.zero.fault !== "openLoad" || source.before === null) return "";
  const lowest = excursionOf(source.before, source.shown, source.shownToNs, gainDb)?.lowest;
  if (lowest === undefined) return "";
  return `${lowerFirst(silent.def.name)} stays silent, forward gain still reads ${formatDb(lowest)}`;
}
