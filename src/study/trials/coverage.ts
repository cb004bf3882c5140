/**
 * Fault coverage: every fault under every condition, and for each cell whether the scheme ends it in time. "Not operated"
 * is a result, and no cell stays blank: each has a kind and its reason in words.
 */
import { FAULTS } from "../../project/faults";
import type { FaultName, PartName } from "../../project/scenario";
import type { Project } from "../../project/types";
import { actuatorSteps } from "../../protection/actuators/schedule";
import {
  type CoverageCase,
  type CoverageFault,
  caseLabel,
  caseProject,
  coverageCases,
  type LeftOut,
} from "./coverageCases";
import { type CoverageOptions, coverageOptions } from "./coverageOptions";
import { CoverageStarts } from "./coverageStarts";
import { type CellKind, type Judgement, judgeCell, KINDS } from "./judgeCell";
import { openReason } from "./openReason";
import { type CaseOutcome, NOTHING, runCase } from "./runCase";
import { planOf, type TrialPlan, type TrialRequest } from "./trial";

/** What became of one cell. */
export interface CoverageOutcome {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly band: string;
  readonly driveW: number;
  readonly swr: number;
  readonly phaseRad: number;
  readonly kind: CellKind;
  /** A clause without a full stop. */
  readonly reason: string;
  /** Why the project lets it pass all the same; null where it does not. */
  readonly accepted: string | null;
  readonly outcome: CaseOutcome;
}

/** A cell under the required margin. */
export interface OpenCell {
  readonly index: number;
  readonly label: string;
  readonly fault: FaultName;
  readonly part: PartName;
  readonly band: string;
  readonly kind: CellKind;
  readonly reason: string;
  readonly margin: number | null;
  /** The same by the early edge of the estimates. */
  readonly marginEarly: number | null;
  readonly accepted: string | null;
}

/** A row of the table: one fault at one place, over all its conditions. */
export interface CoverageRow {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly name: string;
  readonly counts: Readonly<Record<CellKind, number>>;
  /** Least margin of the weakest part over the row's cells; null where none has one. */
  readonly worstMargin: number | null;
  readonly worstMarginEarly: number | null;
  /** Index of the case with the least margin, or else of the first that is not covered. */
  readonly worstIndex: number | null;
  /** Names of the monitors that tripped first, most frequent first. */
  readonly firstMonitors: readonly string[];
}

export interface LeftOutReport extends LeftOut {
  /** Reasons given by the project, where it accepts every fault on this band; null otherwise. */
  readonly accepted: string | null;
}

export interface CoverageSummary {
  readonly done: number;
  readonly count: number;
  readonly counts: Readonly<Record<CellKind, number>>;
  /** Covered cells that the early edge of the estimates would make late, or thin. */
  readonly coveredEarly: { readonly late: number; readonly thin: number };
  readonly rows: readonly CoverageRow[];
  /** Cells that are thin, late or not covered, accepted ones among them. */
  readonly open: readonly OpenCell[];
  /** What was not run, and why. */
  readonly leftOut: readonly LeftOutReport[];
  readonly requiredMargin: number;
  readonly requiredMarginHalfMilligram: number;
}

/** Plans a coverage trial. */
export function planCoverage(request: TrialRequest): TrialPlan {
  const read = coverageOptions(request);
  if (!read.ok) return { ...read, at: "options" };
  const { options } = read;
  const { cases, faults, leftOut: missing } = coverageCases(request.project, options);
  const leftOut = missing.map((l) => ({
    ...l,
    accepted: l.band === null ? null : allAccepted(request.project, faults, l.band),
  }));
  if (cases.length === 0) {
    const why = leftOut.map((l) => `${l.what}: ${l.why}`).join("; ");
    return { ok: false, problem: `No case is left to run. ${why}` };
  }
  const caseAt = (index: number): CoverageCase => {
    const wanted = cases[index];
    if (wanted === undefined) throw new Error(`invalid index: ${index} of ${cases.length}`);
    return wanted;
  };
  const quickestS = quickestActuatorS(request.project);
  const starts = new CoverageStarts(request.project, request.seed);
  return planOf<CoverageOutcome, CoverageSummary>({
    kind: "coverage",
    count: cases.length,
    labelOf: (index) => caseLabel(caseAt(index)),
    *steps(index) {
      const wanted = caseAt(index);
      const outcome = FAULTS[wanted.fault.fault].latent ? NOTHING : yield* starts.steps(wanted);
      const cell = judgeCell(wanted.fault.fault, outcome, options, quickestS);
      if (OPEN.includes(cell.kind) && outcome.zero !== null) {
        const project = { ...caseProject(request.project, wanted), seed: request.seed };
        const more = yield* openReason(project, outcome, options.requiredMargin);
        const reason = more === "" ? cell.reason : `${cell.reason}; ${more}`;
        return coverageOutcome(request.project, wanted, outcome, { ...cell, reason });
      }
      return coverageOutcome(request.project, wanted, outcome, cell);
    },
    openOnBench: (index) => {
      const wanted = caseAt(index);
      const project = { ...caseProject(request.project, wanted), seed: request.seed };
      const { zero, operateS } = runCase(project, request.seed);
      const placedS = project.scenario.find((e) => e.do === "placeFault")?.atS ?? 0;
      const atS = zero === null ? placedS : zero.atS + (operateS ?? 0);
      return { project, atNs: Math.round(atS * 1e9) };
    },
    summarise: (outcomes) => summarise(outcomes, cases, leftOut, options),
  });
}

/** Delay of the quickest actuator that some monitor commands. */
export function quickestActuatorS({ monitors, actuators }: Project): number {
  const delays = monitors.flatMap(({ actions }) =>
    actuatorSteps(actions, actuators).map(({ delayNs }) => delayNs / 1e9),
  );
  return Math.min(...delays, Infinity);
}

/** Why the project lets a fault pass on a band; null where it does not. */
function acceptedFor(
  { accepted }: Project,
  { fault, part }: Pick<CoverageFault, "fault" | "part">,
  band: string,
): string | null {
  const pass = accepted.find(
    (a) => a.fault === fault && a.part === part && (a.band === undefined || a.band === band),
  );
  return pass?.reason ?? null;
}

/** Why it lets all of them pass there; one that is not named leaves the band open. */
function allAccepted(
  project: Project,
  faults: readonly CoverageFault[],
  band: string,
): string | null {
  const reasons = faults
    .filter(({ fault }) => !FAULTS[fault].latent)
    .map((fault) => acceptedFor(project, fault, band));
  return reasons.includes(null) || reasons.length === 0 ? null : [...new Set(reasons)].join("; ");
}

function coverageOutcome(
  project: Project,
  { fault: { fault, part }, condition: { band, driveW, swr, phaseRad } }: CoverageCase,
  outcome: CaseOutcome,
  cell: Judgement,
): CoverageOutcome {
  const { kind, reason } = cell;
  return {
    fault,
    part,
    band,
    driveW,
    swr,
    phaseRad,
    kind,
    reason,
    accepted: acceptedFor(project, { fault, part }, band),
    outcome,
  };
}

const OPEN: readonly CellKind[] = ["thin", "late", "notCovered"];

/** Covered cells by the early edge of the estimates. */
function earlyCounts(
  cells: readonly CoverageOutcome[],
  requiredMargin: number,
): CoverageSummary["coveredEarly"] {
  const margins = cells.flatMap(({ kind, outcome }) =>
    kind === "covered" && outcome.weakestMarginEarly !== null ? [outcome.weakestMarginEarly] : [],
  );
  return {
    late: margins.filter((m) => m < 1).length,
    thin: margins.filter((m) => m >= 1 && m < requiredMargin).length,
  };
}

function summarise(
  outcomes: readonly (CoverageOutcome | null)[],
  cases: readonly CoverageCase[],
  leftOut: readonly LeftOutReport[],
  options: CoverageOptions,
): CoverageSummary {
  const rows = new Map<string, { index: number; cell: CoverageOutcome }[]>();
  outcomes.forEach((cell, index) => {
    if (cell === null) return;
    const key = `${cell.fault} ${cell.part}`;
    rows.set(key, [...(rows.get(key) ?? []), { index, cell }]);
  });
  const cells = outcomes.filter((cell) => cell !== null);
  return {
    done: cells.length,
    count: cases.length,
    counts: countKinds(cells),
    coveredEarly: earlyCounts(cells, options.requiredMargin),
    rows: [...rows.values()].map(rowOf),
    open: outcomes.flatMap((cell, index) => {
      if (cell === null || !OPEN.includes(cell.kind)) return [];
      const { fault, part, band, kind, reason, accepted } = cell;
      const label = caseLabel(cases[index] as CoverageCase);
      const { weakestMargin: margin, weakestMarginEarly: marginEarly } = cell.outcome;
      return [{ index, label, fault, part, band, kind, reason, margin, marginEarly, accepted }];
    }),
    leftOut,
    requiredMargin: options.requiredMargin,
    requiredMarginHalfMilligram: options.requiredMarginHalfMilligram,
  };
}

function rowOf(cells: readonly { index: number; cell: CoverageOutcome }[]): CoverageRow {
  const { fault, part } = (cells[0] as { cell: CoverageOutcome }).cell;
  const first = new Map<string, number>();
  let worst: { index: number; cell: CoverageOutcome } | null = null;
  let open: number | null = null;
  let early: number | null = null;
  for (const c of cells) {
    const { firstTrip, weakestMargin, weakestMarginEarly } = c.cell.outcome;
    if (firstTrip !== null) first.set(firstTrip.name, (first.get(firstTrip.name) ?? 0) + 1);
    if (c.cell.kind === "notCovered") open ??= c.index;
    if (weakestMargin !== null && weakestMargin < (worst?.cell.outcome.weakestMargin ?? Infinity)) {
      worst = c;
    }
    if (weakestMarginEarly !== null) early = Math.min(early ?? Infinity, weakestMarginEarly);
  }
  return {
    fault,
    part,
    name: FAULTS[fault].name,
    counts: countKinds(cells.map((c) => c.cell)),
    worstMargin: worst?.cell.outcome.weakestMargin ?? null,
    worstMarginEarly: early,
    worstIndex: open ?? worst?.index ?? null,
    firstMonitors: [...first].sort((a, b) => b[1] - a[1]).map(([name]) => name),
  };
}

function countKinds(cells: readonly CoverageOutcome[]): Readonly<Record<CellKind, number>> {
  return Object.fromEntries(
    KINDS.map((kind) => [kind, cells.filter((c) => c.kind === kind).length]),
  ) as Record<CellKind, number>;
}
