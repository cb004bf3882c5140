/** The detection budget of a monitor's criterion in rows and words. */
import type { Project } from "../../../project/types";
import { formatReading, QUANTITY_WORDS } from "../../../protection/quantityWords";
import { type DetectionBudget, detectionBudget, type Span } from "../../../study/detectionBudget";
import { type Course, stepCourse, steppedTo } from "../../../study/detectionBudgetCourse";
import { bandInUse, expectedIn, fullCarrier, type NormalBand } from "../../../study/normalReadings";
import { formatTime, timeParts, timeUnitOf } from "../../../units/format";
import { conditionWords, STEP_WORDS, upperFirst } from "../bench/views/words";

export interface BudgetRow {
  readonly key: string;
  readonly name: string;
  readonly why: string;
  readonly bestS: number;
  readonly worstS: number;
  /** Where it begins in either case; null for what does not lie on the way to the effect. */
  readonly fromBestS: number | null;
  readonly fromWorstS: number | null;
}

export interface BudgetViewModel {
  readonly rows: readonly BudgetRow[];
  readonly operate: Span | null;
  readonly acted: Span | null;
  readonly summary: string;
}

/** What the quantity is taken to do. */
export type Wanted =
  | { readonly kind: "race"; readonly course: Course | null }
  | { readonly kind: "level"; readonly level: number };

/** Budget and words; null where the monitor has no such criterion. */
export function budgetView(
  project: Project,
  index: number,
  criterion: number,
  bands: readonly NormalBand[],
  wanted: Wanted,
): BudgetViewModel | null {
  const def = project.monitors[index];
  const own = def?.criteria[criterion];
  const band = bandInUse(bands, project.station);
  if (def === undefined || own === undefined || band === null) return null;
  const normal = fullCarrier(band);
  const expected = expectedIn(band);
  const course =
    wanted.kind === "level"
      ? stepCourse(normal, steppedTo(normal, own.quantity, wanted.level, expected))
      : wanted.course;
  if (course === null) return null;
  const budget = detectionBudget({
    def,
    criterion,
    sensors: project.sensors,
    actuators: project.actuators,
    sampleNs: project.sampleNs,
    course,
    expected,
  });
  if (budget === null) return null;
  const rows = rowsOf(project, index, criterion, budget);
  const { operate, acted } = budget;
  return { rows, operate, acted, summary: summaryOf(project, index, criterion, budget) };
}

const STAGE_NAMES = {
  sensor: "Sensor",
  smoothing: "Smoothing",
  scan: "Scan phase",
  confirmation: "Confirmation",
} as const;

function rowsOf(
  project: Project,
  index: number,
  criterion: number,
  budget: DetectionBudget,
): readonly BudgetRow[] {
  const def = project.monitors[index];
  const own = def?.criteria[criterion];
  if (def === undefined || own === undefined || budget.operate === null) return [];
  const why: Readonly<Record<keyof typeof STAGE_NAMES, string>> = {
    sensor: "until the detector's reading passes the pickup",
    smoothing: def.smoothingS > 0 ? `${formatTime(def.smoothingS)} on top` : "none",
    scan:
      def.path === "comparator"
        ? "a comparator does not wait"
        : "the next look may be near or a scan away",
    confirmation: own.timing.kind === "definite" ? "rounded up to whole scans" : "",
  };
  let best = 0;
  let worst = 0;
  const stages = budget.stages.map((stage): BudgetRow => {
    const row = {
      key: stage.kind,
      name: STAGE_NAMES[stage.kind],
      why: why[stage.kind],
      bestS: stage.bestS,
      worstS: stage.worstS,
      fromBestS: best,
      fromWorstS: worst,
    };
    best += stage.bestS;
    worst += stage.worstS;
    return row;
  });
  const { operate } = budget;
  const actuators = budget.actuators.map(
    (a): BudgetRow => ({
      key: a.actuator,
      name: upperFirst(STEP_WORDS[a.actuator]),
      why: a.ends
        ? "from the trip to its effect"
        : `waits for the output to fall, ${formatTime(a.waitAtMostS)} at most, then this; not counted`,
      bestS: a.bestS,
      worstS: a.worstS,
      fromBestS: a.ends ? operate.bestS : null,
      fromWorstS: a.ends ? operate.worstS : null,
    }),
  );
  return [...stages, ...actuators];
}

/** `3.09 to 4.14 ms`; one figure where both ends read the same. */
export function spanWords({ bestS, worstS }: Span): string {
  if (worstS === 0) return "0";
  const unit = timeUnitOf(worstS);
  const best = timeParts(bestS, 3, unit);
  const worst = timeParts(worstS, 3, unit);
  const end = formatTime(worstS);
  return best.number === worst.number ? end : `${best.number} to ${end}`;
}

function summaryOf(
  project: Project,
  index: number,
  criterion: number,
  budget: DetectionBudget,
): string {
  const def = project.monitors[index];
  const own = def?.criteria[criterion];
  if (def === undefined || own === undefined) return "";
  const reads = `${upperFirst(QUANTITY_WORDS[own.quantity].words)} goes from ${formatReading(own.quantity, budget.before)} to ${formatReading(own.quantity, budget.settled)}`;
  const pickup = `the pickup ${own.side} ${formatReading(own.quantity, own.pickup)}`;
  const unless =
    budget.unfulfilled.length === 0
      ? ""
      : ` But it watches only with ${budget.unfulfilled.map(conditionWords).join(" and ")}, which is not so then.`;
  if (budget.outcome === "never") return `${reads} and does not pass ${pickup}.${unless}`;
  if (budget.outcome === "letsGo") {
    return `${reads}: it passes ${pickup} and comes back before the confirmation is complete.${unless}`;
  }
  if (budget.operate === null) return "";
  const chance =
    budget.outcome === "byChance" ? " It lets go first unless the scan falls well." : "";
  const acts =
    budget.acted === null
      ? " Nothing that it asks for ends the fault."
      : ` The first actuator has acted after ${spanWords(budget.acted)}.`;
  return `${reads}; ${def.name.charAt(0).toLowerCase()}${def.name.slice(1)} operates ${spanWords(budget.operate)} later.${acts}${chance}${unless}`;
}
