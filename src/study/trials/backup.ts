/**
 * Back-up: what still ends a fault, and with what margin, when a monitor, an actuator, a sensor or what monitors share has
 * failed beforehand, alone and in pairs. At the station's own frequency and full drive into a matched load.
 *
 * What is damaged, and when, if nothing acts does not depend on the protection: the run left alone is made once a
 * fault. A failure that trips something before the fault has come has shown itself, which is safe.
 */
import { FAULTS, faultFits, usualSeverity } from "../../project/faults";
import type { FaultName, PartName, ScenarioEntry } from "../../project/scenario";
import type { Project } from "../../project/types";
import { type Bench, createBench, type Snapshot } from "../../simulation/bench";
import { formatTime } from "../../units/format";
import { type BackupItem, backupItems, backupSets, unwiredProject } from "./backupItems";
import { type BackupOutcome, type BackupSummary, summariseBackup } from "./backupSummary";
import { quickestActuatorS } from "./coverage";
import {
  type CoverageCondition,
  type CoverageFault,
  FAULT_NS,
  healthyProject,
  placing,
} from "./coverageCases";
import { OptionReader, type OptionsRead, type RequiredMargins } from "./coverageOptions";
import { judgeCell } from "./judgeCell";
import { finishFault, NOTHING, runToFault, runUnprotected } from "./runCase";
import { advanceInSteps, drained, type Steps } from "./steps";
import { type Plain, planOf, type TrialPlan, type TrialRequest } from "./trial";

interface BackupOptions extends RequiredMargins {
  readonly faults: readonly string[];
  readonly pairs: boolean;
}

/** One fault for each way a part is lost: every arc place, loads, tank, tube, supply and air. */
const USUAL_FAULTS: readonly (readonly [FaultName, PartName])[] = [
  ["insect", "tuningCapacitor"],
  ["arc", "bandSwitch"],
  ["arc", "loadingCapacitor"],
  ["arc", "outputContact"],
  ["relayOpens", "outputContact"],
  ["openLoad", "load"],
  ["shortLoad", "load"],
  ["wrongBand", "bandSwitch"],
  ["shortedTurn", "tank"],
  ["selfOscillation", "tube"],
  ["airflowLost", "tube"],
  ["tubeFlashover", "tube"],
];

/** Parts fail this long before the fault: time enough for most failures to show themselves. */
const FAILED_NS = FAULT_NS - 25_370_000;

function backupOptions(request: TrialRequest): OptionsRead<BackupOptions> {
  const reader = new OptionReader(request);
  const isFault = (value: Plain): boolean => {
    const [fault, part] = String(value).split(" ");
    const isKnown =
      typeof value === "string" && fault !== undefined && Object.hasOwn(FAULTS, fault);
    return isKnown && faultFits(fault as FaultName, part as PartName);
  };
  const words = 'faults with their parts, such as "insect tuningCapacitor"';
  return reader.read({
    faults:
      reader.list<string>("faults", words, isFault) ?? USUAL_FAULTS.map((pair) => pair.join(" ")),
    pairs: reader.flag("pairs", true),
    ...reader.margins(),
  });
}

interface BackupCase {
  readonly fault: CoverageFault;
  readonly failed: readonly BackupItem[];
}

/** Plans a back-up trial. */
export function planBackup(request: TrialRequest): TrialPlan {
  const read = backupOptions(request);
  if (!read.ok) return { ...read, at: "options" };
  const { options } = read;
  const items = backupItems(request.project);
  const sets = backupSets(items, options.pairs);
  const cases = options.faults.flatMap((name) => {
    const [fault, part] = name.split(" ") as [FaultName, PartName];
    const severity = usualSeverity(fault, part);
    return sets.map((failed): BackupCase => ({ fault: { fault, part, severity }, failed }));
  });
  const caseAt = (index: number): BackupCase => {
    const wanted = cases[index];
    if (wanted === undefined) throw new Error(`invalid index: ${index} of ${cases.length}`);
    return wanted;
  };
  const runs = new BackupRuns(request.project, request.seed, options);
  return planOf<BackupOutcome, BackupSummary>({
    kind: "backup",
    count: cases.length,
    labelOf: (index) => labelOf(caseAt(index)),
    steps: (index) => runs.steps(caseAt(index)),
    openOnBench: (index) => {
      const wanted = caseAt(index);
      const { firstTrip } = drained(runs.steps(wanted));
      const project = backupProject(request.project, request.seed, wanted);
      return { project, atNs: FAULT_NS + Math.round((firstTrip?.atS ?? 0) * 1e9) };
    },
    summarise: (outcomes) => summariseBackup(outcomes, items, options),
  });
}

function labelOf({ fault: { fault, part }, failed }: BackupCase): string {
  const what = failed.map((item) => item.name).join(" and ");
  return `${FAULTS[fault].name} (${part}), ${what === "" ? "nothing failed" : `without ${what}`}`;
}

function conditionOf({ station }: Project): CoverageCondition {
  const { freqHz, exciter } = station;
  return { band: "", freqHz, driveW: exciter.availableW, swr: 1, phaseRad: 0 };
}

/** The case as a project of its own. */
function backupProject(project: Project, seed: number, { fault, failed }: BackupCase): Project {
  const healthy = healthyProject(unwiredProject(project, failed), conditionOf(project));
  const failing = failed.flatMap(({ command }): readonly ScenarioEntry[] =>
    command === null ? [] : [{ atS: FAILED_NS / 1e9, ...command }],
  );
  const scenario = [...healthy.scenario, ...failing, { atS: FAULT_NS / 1e9, ...placing(fault) }];
  return { ...healthy, seed, title: `${project.title}: ${labelOf({ fault, failed })}`, scenario };
}

interface Start {
  readonly bench: Bench;
  readonly snapshot: Snapshot;
}

/** Runs cases; keeps what they share, which is the same whatever was run before. */
class BackupRuns {
  /** By what has been unwired. */
  private readonly starts = new Map<string, Start | string>();
  /** The run left alone, by fault. */
  private readonly twins = new Map<string, Bench | null>();
  private readonly quickestS: number;

  constructor(
    private readonly project: Project,
    private readonly seed: number,
    private readonly options: BackupOptions,
  ) {
    this.quickestS = quickestActuatorS(project);
  }

  *steps({ fault, failed }: BackupCase): Steps<BackupOutcome> {
    const start = yield* this.startOf(failed);
    const blank = {
      fault: fault.fault,
      part: fault.part,
      failed: failed.map(({ id }) => id),
      firstTrip: null,
      endedS: null,
      margin: null,
      marginEarly: null,
    };
    if (typeof start === "string") return { ...blank, kind: "notCovered", reason: start };
    const twin = yield* this.twinOf(fault);
    const bench = begin(start, failed, fault);
    const zero = yield* runToFault(bench);
    const shown = bench.events.find(
      (e) =>
        e.kind === "protection" &&
        e.event.kind === "trip" &&
        e.atNs < (zero?.zero.atNs ?? Infinity),
    );
    if (shown?.kind === "protection") {
      const { monitorId } = shown.event;
      const name = this.project.monitors.find((m) => m.id === monitorId)?.name ?? monitorId;
      const after = formatTime((shown.atNs - FAILED_NS) / 1e9);
      const reason = `the failure shows itself: ${name} trips ${after} after it`;
      return { ...blank, kind: "showsItself", reason };
    }
    const outcome =
      zero === null || twin === null ? NOTHING : yield* finishFault(bench, zero, twin);
    const { firstTrip, endedS, weakestMargin, weakestMarginEarly } = outcome;
    return {
      ...blank,
      ...judgeCell(fault.fault, outcome, this.options, this.quickestS),
      firstTrip,
      endedS,
      margin: weakestMargin,
      marginEarly: weakestMarginEarly,
    };
  }

  private *twinOf(fault: CoverageFault): Steps<Bench | null> {
    const key = `${fault.fault} ${fault.part}`;
    const known = this.twins.get(key);
    if (known !== undefined) return known;
    const start = yield* this.startOf([]);
    if (typeof start === "string") return null;
    const bench = begin(start, [], fault);
    const zero = yield* runToFault(bench);
    const twin = zero === null ? null : yield* runUnprotected(bench, zero);
    this.twins.set(key, twin);
    return twin;
  }

  private *startOf(failed: readonly BackupItem[]): Steps<Start | string> {
    const key = failed.map(({ unwired }) => unwired ?? "").join("");
    const known = this.starts.get(key);
    if (known !== undefined) return known;
    const healthy = healthyProject(unwiredProject(this.project, failed), conditionOf(this.project));
    const created = createBench({ ...healthy, seed: this.seed });
    let start: Start | string;
    if (created.ok) {
      yield* advanceInSteps(created.bench, FAILED_NS);
      start = { bench: created.bench, snapshot: created.bench.snapshot() };
    } else start = created.problem;
    this.starts.set(key, start);
    return start;
  }
}

/** A bench with the failures and the fault ahead. */
function begin(
  { bench, snapshot }: Start,
  failed: readonly BackupItem[],
  fault: CoverageFault,
): Bench {
  bench.cutScript(snapshot.timeNs);
  bench.visit(snapshot);
  for (const { command } of failed) if (command !== null) bench.schedule(FAILED_NS, command);
  bench.schedule(FAULT_NS, placing(fault));
  return bench;
}
