/** What the timing run needs of the engine, bundled for Node as one file. No clock in here. */
import { readProject } from "../../src/formats/projectFile";
import { emptyCircuit, type StageCircuit, sourceCurrentA } from "../../src/physics/stage/circuit";
import { coldStart } from "../../src/physics/stage/coldStart";
import { STATE_LENGTH } from "../../src/physics/stage/layout";
import { StageSolver, shortestStepS } from "../../src/physics/stage/stageSolver";
import { defaultProject } from "../../src/project/defaults";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { type Bench, createBench } from "../../src/simulation/bench";
import { simulate } from "../../src/simulation/simulate";
import { planTrial } from "../../src/study/trials/planTrial";
import { isFalseTrip, quickRun } from "../../src/study/trials/quickMapRun";
import type { MapStore } from "../../src/study/trials/quickMapStage";
import { planTolerance } from "../../src/study/trials/tolerance";
import { type WaveformInput, type WaveformRun, waveformNetlist } from "../support/waveformNetlist";

export { randomRun } from "../support/randomRuns";

/** Matched stage at 14.2 MHz and 65 W: 1900 ohm, Q 12, coil Q 250; worked out by hand and rounded. */
const CIRCUIT: WaveformInput = {
  f: 14.2e6,
  tube: { mu: 200, K: 0.0042, delta: 3, su: 1, sg: 2, sp: 20 },
  Eb: 3000,
  Ek: 9,
  Rs: 50,
  Rkloss: 1500,
  Pd: 65,
  net: {
    C1: 71.6e-12,
    L: 2.005e-6,
    rL: 0.7155,
    C2: 390e-12,
    Lrfc: 225e-6,
    Ck: 483e-12,
    Lk: 260e-9,
    n: 1.077,
  },
  load: { G: 0.02, B: 0 },
  arc: null,
  tap: 0,
};

export const OPEN_SIEMENS = 2e-5;
export const SPAN_S = 30e-6;
const SETTLE_CYCLES = 120;

/** The full-waveform netlist: settles for 120 cycles, then the load opens and `afterS` more are computed. */
export function openLoadNetlist(title: string, afterS: number): string {
  const opensS = SETTLE_CYCLES / CIRCUIT.f;
  const run: WaveformRun = {
    cycles: SETTLE_CYCLES + afterS * CIRCUIT.f,
    stepsPerCycle: 200,
    windowCycles: 1,
    chokeA: 0.85,
  };
  const load = `Bl o 0 I=v(o)*(time < ${opensS} ? ${CIRCUIT.load.G} : ${OPEN_SIEMENS})`;
  return waveformNetlist(title, CIRCUIT, run).replace(/^Rl o 0 .*$/m, load);
}

function stageCircuit(): StageCircuit {
  const c = emptyCircuit();
  const { tube, net } = CIRCUIT;
  c.omega = 2 * Math.PI * CIRCUIT.f;
  c.tube = { perveance: tube.K, mu: tube.mu, divisionRatio: tube.delta, offsetV: 0 };
  c.driveOhm = CIRCUIT.Rs;
  c.turnsRatio = net.n;
  c.cathodeLossSiemens = 1 / CIRCUIT.Rkloss;
  c.cathodeF = net.Ck;
  c.cathodeH = net.Lk;
  c.plateF = net.C1;
  c.chokeH = net.Lrfc;
  c.coilH = net.L;
  c.coilOhm = net.rL;
  c.loadingF = net.C2;
  c.loadSiemens = CIRCUIT.load.G;
  c.noLoadV = CIRCUIT.Eb;
  c.biasV = CIRCUIT.Ek;
  c.sourceA = sourceCurrentA(CIRCUIT.Pd, CIRCUIT.Rs, net.n);
  return c;
}

/** The same transient with the product's solver and its own step control; `run` answers how many steps it tried. */
export function openLoadTransient(): { readonly run: () => number } {
  const solver = new StageSolver();
  const c = stageCircuit();
  const settled = new Float64Array(STATE_LENGTH);
  coldStart(solver, c, settled, -1);
  c.loadSiemens = OPEN_SIEMENS;
  const y = new Float64Array(STATE_LENGTH);
  const next = new Float64Array(STATE_LENGTH);
  const shortest = shortestStepS(c);
  const run = (): number => {
    y.set(settled);
    let tried = 0;
    let h = shortest;
    solver.open(c, y);
    for (let t = 0; t < SPAN_S * (1 - 1e-12); tried++) {
      const step = Math.min(h, SPAN_S - t);
      solver.step(c, y, step, next);
      h = solver.nextStepS(step, shortest);
      if (solver.isGood(step, shortest)) {
        t += step;
        y.set(next);
      }
      solver.open(c, y);
    }
    return tried;
  };
  return { run };
}

/** A bench that keys a full carrier and has settled, for the cost of a settled sample. */
export function settledBench(projectText: string): Bench {
  const bench = benchOf(projectOf(projectText));
  bench.advanceTo(500_000_000);
  return bench;
}

export function projectOf(text: string): Project {
  const read = readProject(text);
  if (!read.ok) throw new Error(`cannot be read: ${read.problems[0]?.message}`);
  return read.project;
}

export function benchOf(project: Project): Bench {
  const created = createBench(project);
  if (!created.ok) throw new Error(created.problem);
  return created.bench;
}

/** A scenario with its unprotected twins. */
export function wholeSimulation(text: string): string {
  const result = simulate(projectOf(text));
  if (!result.ok) throw new Error(result.problem);
  return result.simulation.recordHash;
}

/** What protection did over a whole run: trips, lockouts, alarms by instant and name. */
export function wholeRun(text: string): readonly string[] {
  const project = projectOf(text);
  const bench = benchOf(project);
  bench.advanceTo(Math.round(project.endS * 1e9));
  return bench.events.flatMap((e) =>
    e.kind === "protection" && ["trip", "lockout", "keyDownLimit", "alarm"].includes(e.event.kind)
      ? [`${e.event.kind} ${e.event.monitorId} at ${e.atNs / 1e9} s`]
      : [],
  );
}

/**
 * Speech at 50 us with every preset monitor, over a map of settled states: answers a run of `seconds`, after the map has been
 * made, that gives the number of false trips.
 */
export function quickSpeech(seconds: number): () => number {
  const scenario: readonly ScenarioEntry[] = [
    { atS: 0, do: "signal", signal: "speech", talker: 5 },
    { atS: 0, do: "key", down: true },
  ];
  const project = { ...defaultProject(scenario), endS: seconds };
  const maps: MapStore = new Map();
  return () => {
    const outcome = quickRun(project, { maps });
    if (!outcome.ok) throw new Error(outcome.reason);
    return outcome.operations.filter(isFalseTrip).length;
  };
}

/** A tolerance study of the project's fault: each call runs the next unit. */
export function toleranceStudy(text: string): () => void {
  const runs = 10_000;
  const plan = planTolerance({ kind: "tolerance", project: projectOf(text), seed: 1, runs });
  if (!plan.ok) throw new Error(plan.problem);
  let next = 0;
  return () => {
    plan.trial.run(next++ % runs);
  };
}

/** Twelve faults under thirty conditions each. */
export const COVERAGE = {
  faults: [
    ...["arc", "platesTouch"], // four places and two
    ...["openLoad", "shortLoad", "relayOpens", "wrongBand", "plateSupplyShort", "airflowLost"],
  ],
  bands: ["160 m", "80 m", "40 m", "20 m", "15 m", "10 m"],
  drivesW: [62, 50, 40, 31, 12.4],
  swr: 1,
};

/** That table on this thread; `run` does one case. */
export function coverageTable(text: string): {
  readonly count: number;
  readonly run: (index: number) => void;
} {
  const request = {
    kind: "coverage",
    project: projectOf(text),
    seed: 1,
    options: COVERAGE,
  } as const;
  const plan = planTrial(request);
  if (!plan.ok) throw new Error(plan.problem);
  const { trial } = plan;
  return { count: trial.count, run: (index) => trial.run(index) };
}

/** The yardstick: factor and solve a full 10 x 10 system in plain JavaScript; answers a number so that it is not left out. */
export function calibrationKernel(times: number): number {
  const n = 10;
  const a = new Float64Array(n * n);
  const x = new Float64Array(n);
  let sum = 0;
  for (let turn = 0; turn < times; turn++) {
    for (let i = 0; i < n * n; i++) a[i] = ((i * 7919 + turn) % 101) / 101;
    for (let i = 0; i < n; i++) {
      a[i * n + i] = (a[i * n + i] as number) + n;
      x[i] = i + 1;
    }
    for (let k = 0; k < n; k++) {
      const pivot = 1 / (a[k * n + k] as number);
      for (let i = k + 1; i < n; i++) {
        const factor = (a[i * n + k] as number) * pivot;
        for (let j = k + 1; j < n; j++) {
          a[i * n + j] = (a[i * n + j] as number) - factor * (a[k * n + j] as number);
        }
        x[i] = (x[i] as number) - factor * (x[k] as number);
      }
    }
    for (let i = n - 1; i >= 0; i--) {
      let rest = x[i] as number;
      for (let j = i + 1; j < n; j++) rest -= (a[i * n + j] as number) * (x[j] as number);
      x[i] = rest / (a[i * n + i] as number);
    }
    sum += x[0] as number;
  }
  return sum;
}
