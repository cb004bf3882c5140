/**
 * A window sweep: two settings on a grid, what each point does to a fault and how often it trips on ordinary use.
 *
 * Every point is a variant of a monitor in shadow, so that one run shows them all on one record without feedback: a fault is run
 * once for each instant (`runCase`; operate times are read in the unprotected run), half a minute of use once. What a
 * variant costs a fault is its operate time and its own actuators, as if it alone were there.
 */
import type { MonitorDef } from "../../project/protection";
import type { ScenarioEntry } from "../../project/scenario";
import type { Project } from "../../project/types";
import { actuatorSteps } from "../../protection/actuators/schedule";
import { createBench } from "../../simulation/bench";
import { benchOperations } from "./nuisance";
import { type NuisanceCase, nuisanceCases, withDetectors } from "./nuisanceCases";
import { quickSteps } from "./quickMapRun";
import type { MapStore } from "./quickMapStage";
import { caseSteps } from "./runCase";
import { Pauses, type Steps } from "./steps";
import { planOf, type TrialPlan, type TrialRequest } from "./trial";
import { type Grid, gridOf } from "./windowGrid";
import { type SweptFault, type WindowOptions, windowOptions } from "./windowOptions";
import { summariseWindow, type WindowOutcome, type WindowSummary } from "./windowSummary";

/** Everything has settled, and monitors are armed. */
const CARRIER_FAULT_S = 0.12;
const SPEECH_FAULT_S = 0.3;
const SCAN_S = 1e-3;
/** In a pause nothing strikes: the scenario goes on this long. */
const WAIT_S = 3;
/** How often a run is asked whether it may end. */
const LOOK_NS = 10_000_000;

export interface FaultCase {
  readonly fault: SweptFault;
  readonly signal: "carrier" | "speech";
  readonly project: Project;
}

export function planWindow(request: TrialRequest): TrialPlan {
  const read = windowOptions(request);
  if (!read.ok) return { ...read, at: "options" };
  const created = createBench({ ...request.project, scenario: [] });
  if (!created.ok) return created;
  const { options } = read;
  const grid = gridOf(options);
  const faults = faultCases(request, options);
  const uses = nuisanceCases(request.project, request.seed, options.use);
  const maps: MapStore = new Map();
  const ordinaryAt = (index: number): NuisanceCase => {
    const found = uses[index - faults.length];
    if (found === undefined) throw new Error(`invalid index: ${index}`);
    return found;
  };
  return planOf<WindowOutcome, WindowSummary>({
    kind: "window",
    count: faults.length + uses.length,
    labelOf: (index) => {
      const f = faults[index];
      return f === undefined
        ? ordinaryAt(index).label
        : `${f.fault.name} on ${f.signal}; seed ${f.project.seed}`;
    },
    steps: (index) => {
      const f = faults[index];
      return f === undefined ? runUse(ordinaryAt(index).project(), grid, maps) : runFault(f, grid);
    },
    openOnBench: (index) => {
      const f = faults[index];
      if (f === undefined) return { project: ordinaryAt(index).project(), atNs: 0 };
      const atS = f.signal === "carrier" ? CARRIER_FAULT_S : SPEECH_FAULT_S;
      return { project: f.project, atNs: Math.round(atS * 1e9) };
    },
    summarise: (outcomes) => summariseWindow(options, grid, outcomes),
  });
}

function faultCases(request: TrialRequest, options: WindowOptions): readonly FaultCase[] {
  const { project, seed } = request;
  const station = withDetectors(project, options.use);
  return options.faults.flatMap((fault, f) => {
    const at = (atS: number): ScenarioEntry => ({
      atS,
      do: "placeFault",
      fault: fault.fault,
      part: fault.part,
      severity: fault.severity,
    });
    const key: ScenarioEntry = { atS: 0, do: "key", down: true };
    const carrier = Array.from({ length: options.carrierInstants }, (_, k): FaultCase => {
      const phaseS = (SCAN_S * (k + 0.37)) / options.carrierInstants;
      const scenario = [key, at(roundedS(CARRIER_FAULT_S + phaseS))];
      const endS = CARRIER_FAULT_S + 1;
      return { fault, signal: "carrier", project: { ...station, seed: seed + k, endS, scenario } };
    });
    const speech = Array.from({ length: options.speechInstants }, (_, k): FaultCase => {
      const talker = ((seed + 1000 * f + k) >>> 0) % 0xffff_ffff;
      const signal: ScenarioEntry = { atS: 0, do: "signal", signal: "speech", talker };
      const scenario = [signal, key, at(roundedS(SPEECH_FAULT_S + 0.0137 * k))];
      const endS = SPEECH_FAULT_S + WAIT_S;
      return { fault, signal: "speech", project: { ...station, seed: seed + k, endS, scenario } };
    });
    return [...carrier, ...speech];
  });
}

/** A whole number of nanoseconds. */
function roundedS(s: number): number {
  return Math.round(s * 1e9) / 1e9;
}

function runFault(f: FaultCase, { variants }: Grid): Steps<WindowOutcome> {
  const monitors = [...f.project.monitors, ...variants];
  const project = { ...f.project, monitors };
  return f.signal === "carrier" ? onCarrier(f, project, variants) : inSpeech(f, project, variants);
}

/** Followed until the struck part is damaged: operate times and margins. */
function* onCarrier(
  f: FaultCase,
  project: Project,
  variants: Grid["variants"],
): Steps<WindowOutcome> {
  const outcome = yield* caseSteps(project, project.seed);
  if (outcome.problem !== null) return { kind: "notRun", problem: outcome.problem };
  const ofVariant = (id: string) => outcome.monitors.find((m) => m.id === id);
  return {
    kind: "fault",
    fault: f.fault.name,
    signal: f.signal,
    struck: outcome.zero !== null,
    onsetS: outcome.onsetS,
    onsetEarlyS: outcome.onsetEarlyS,
    operateS: variants.map((v) => ofVariant(v.id)?.operateS ?? null),
    clearingS: variants.map((v) => ofVariant(v.id)?.clearingS ?? null),
  };
}

/** Followed until every variant has operated, or for a time: operate times alone, for in speech an arc comes and goes. */
function* inSpeech(
  f: FaultCase,
  project: Project,
  variants: Grid["variants"],
): Steps<WindowOutcome> {
  const created = createBench(project, { protection: "inhibited" });
  if (!created.ok) return { kind: "notRun", problem: created.problem };
  const operatedNs = new Map<string, number>();
  let zeroNs = Infinity;
  const { bench } = created;
  const endNs = Math.round(project.endS * 1e9);
  const pauses = new Pauses(bench);
  let seen = 0;
  yield;
  while (bench.timeNs < endNs && operatedNs.size < variants.length) {
    bench.advanceTo(Math.min(bench.timeNs + LOOK_NS, endNs));
    if (pauses.isDue()) yield;
    for (; seen < bench.events.length; seen++) {
      const e = bench.events[seen];
      if (e?.kind === "faultZero") zeroNs = Math.min(zeroNs, e.atNs);
      if (e?.kind !== "protection" || e.event.kind !== "operate" || e.atNs < zeroNs) continue;
      const { monitorId } = e.event;
      if (!operatedNs.has(monitorId) && variants.some((v) => v.id === monitorId))
        operatedNs.set(monitorId, e.atNs);
    }
  }
  const operateS = variants.map((v) => {
    const atNs = operatedNs.get(v.id);
    return atNs === undefined ? null : (atNs - zeroNs) / 1e9;
  });
  return {
    kind: "fault",
    fault: f.fault.name,
    signal: f.signal,
    struck: zeroNs < Infinity,
    onsetS: null,
    onsetEarlyS: null,
    operateS,
    clearingS: operateS.map((s, i) => {
      const chain = chainS(variants[i] as MonitorDef, project);
      return s === null || chain === null ? null : s + chain;
    }),
  };
}

/** From an operation to the first actuator that takes power away; null where none does. */
function chainS({ actions }: MonitorDef, { actuators }: Project): number | null {
  const delays = actuatorSteps(actions, actuators)
    .filter((step) => step.actuator !== "transmitReceive")
    .map((step) => step.delayNs);
  return delays.length === 0 ? null : Math.min(...delays) / 1e9;
}

function* runUse(project: Project, { variants }: Grid, maps: MapStore): Steps<WindowOutcome> {
  const quick = yield* quickSteps(project, { maps, variants });
  const answer = quick.ok
    ? quick
    : yield* benchOperations({ ...project, monitors: [...project.monitors, ...variants] });
  if (!answer.ok) return { kind: "notRun", problem: answer.problem };
  const counts = new Map<string, number>();
  for (const o of answer.operations)
    if (o.kind === "operate") counts.set(o.monitor, (counts.get(o.monitor) ?? 0) + 1);
  return {
    kind: "use",
    seconds: project.endS,
    trips: variants.map((v) => counts.get(v.id) ?? 0),
  };
}
