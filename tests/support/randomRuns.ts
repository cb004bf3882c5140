/** A random station and its faults, run twice: finite, the same record, and nowhere a watt too many. */
import type { StageCircuit } from "../../src/physics/stage/circuit";
import { STATE_LENGTH } from "../../src/physics/stage/layout";
import { READING } from "../../src/physics/stage/readings";
import type { Project } from "../../src/project/types";
import { createBench } from "../../src/simulation/bench";
import { MODE_AT, ROW_AT, STAGE_AT } from "../../src/simulation/worldLayout";
import { powersOf } from "./energyBalance";
import { randomProject } from "./randomStations";

export interface RandomRun {
  readonly hash: string;
  readonly trips: readonly string[];
  readonly refused: number;
  /** Greatest imbalance of an instant over the power in, stage stepped or settled. */
  readonly instant: number;
  /** Greatest imbalance of a window of settled samples over the energy in. */
  readonly window: number;
  readonly instants: number;
  readonly windows: number;
}

/** Samples from look to look; a window after a look ends before the next. */
const LOOK = 141;
/** Samples of a window. */
const WINDOW = 8;
/** What a project has that says nothing else. */
const USUAL_SAMPLE_NS = 50_000;
/** Change of a power over a window. */
const STEADY = 1e-3;

/** Runs number `index`; a number that is not finite throws inside. */
export function randomRun(index: number, endS: number, sampleNs = USUAL_SAMPLE_NS): RandomRun {
  const project = { ...randomProject(index, endS), sampleNs };
  const first = benchFor(index, project);
  let instant = 0;
  let window = 0;
  let windows = 0;
  let instants = 0;
  const endNs = Math.round(endS * 1e9);
  for (let ns = LOOK * sampleNs; ns < endNs; ns += LOOK * sampleNs) {
    first.advanceTo(ns);
    instant = Math.max(instant, instantImbalance(first));
    instants++;
    const found = windowImbalance(first);
    if (found === null) continue;
    window = Math.max(window, found);
    windows++;
  }
  first.advanceTo(endNs);
  const again = benchFor(index, project);
  again.advanceTo(endNs);
  if (again.hash !== first.hash) throw new Error(`run ${index}: ${first.hash}, then ${again.hash}`);
  const trips = first.events.flatMap((e) =>
    e.kind === "protection" && e.event.kind === "trip" ? [e.event.monitorId] : [],
  );
  const refused = first.events.filter((e) => e.kind === "command" && e.refused !== "").length;
  if (project.scenario.length === 0) throw new Error(`run ${index} has no scenario`);
  return { hash: first.hash, trips, refused, instant, window, instants, windows };
}

function benchFor(index: number, project: Project): Looked {
  const created = createBench(project);
  if (!created.ok) throw new Error(`run ${index}: ${created.problem}`);
  return created.bench as unknown as Looked;
}

/** A bench seen from inside. */
type Looked = {
  readonly circuit: StageCircuit;
  readonly buffer: Float64Array;
  readonly hash: string;
  readonly timeNs: number;
  readonly sampleNs: number;
  readonly events: ReturnType<typeof eventsOf>;
  advanceTo(ns: number): void;
};

function eventsOf(bench: Extract<ReturnType<typeof createBench>, { readonly ok: true }>["bench"]) {
  return bench.events;
}

function powersNow({ circuit, buffer }: Looked) {
  const y = buffer.slice(STAGE_AT, STAGE_AT + STATE_LENGTH);
  return powersOf(circuit, y, buffer[ROW_AT + READING.driveW] as number);
}

function instantImbalance(bench: Looked): number {
  const { inW, outW, storingW } = powersNow(bench);
  // a station in receive turns over a bleeder's watts
  return Math.abs(inW - outW - storingW) / Math.max(Math.abs(inW), Math.abs(outW), 1);
}

/**
 * Over some settled samples by the trapezoid rule; null where the stage is stepped in one of them, something happens, a
 * fault grows, or the powers move so much that the rule's own error would show.
 */
function windowImbalance(bench: Looked): number | null {
  let before = powersNow(bench);
  const shape = shapeOf(bench.circuit);
  const { slowJ, inW, outW } = before;
  const dtS = bench.sampleNs * 1e-9;
  let inJ = 0;
  let outJ = 0;
  for (let k = 0; k < WINDOW; k++) {
    const events = bench.events.length;
    bench.advanceTo(bench.timeNs + bench.sampleNs);
    if (bench.buffer[MODE_AT] !== 0 || bench.events.length !== events) return null;
    if (shapeOf(bench.circuit) !== shape) return null;
    const now = powersNow(bench);
    inJ += 0.5 * dtS * (before.inW + now.inW);
    outJ += 0.5 * dtS * (before.outW + now.outW);
    before = now;
  }
  const isSteady = (a: number, b: number): boolean => Math.abs(a - b) < STEADY * Math.max(a, 1);
  if (!isSteady(before.inW, inW) || !isSteady(before.outW, outW)) return null;
  const gained = before.slowJ - slowJ;
  return Math.abs(inJ - outJ - gained) / Math.max(Math.abs(inJ), WINDOW * dtS);
}

/** Everything of a circuit but its drive, as text. */
function shapeOf(circuit: StageCircuit): string {
  return JSON.stringify({ ...circuit, sourceA: 0, sourceAPerS: 0 });
}
