/**
 * The run up to the fault, shared by all faults of one condition: a bench is taken to just before the fault once, and put
 * back there for every case. A case comes out bit for bit as if it had been run alone, whatever was run before it.
 */
import { FAULTS } from "../../project/faults";
import type { Project } from "../../project/types";
import { type Bench, createBench, type Snapshot } from "../../simulation/bench";
import { type CoverageCase, caseProject, FAULT_NS, healthyProject, placing } from "./coverageCases";
import { type CaseOutcome, caseSteps, finishCase, NOTHING } from "./runCase";
import { advanceInSteps, type Steps } from "./steps";

interface Start {
  readonly key: string;
  readonly bench: Bench;
  readonly snapshot: Snapshot;
}

/** Starts of a project's conditions; only the last is kept, since cases are numbered condition by condition. */
export class CoverageStarts {
  private last: Start | null = null;

  constructor(
    private readonly project: Project,
    private readonly seed: number,
  ) {}

  /** Runs a case from its condition's start. */
  *steps(wanted: CoverageCase): Steps<CaseOutcome> {
    const project = caseProject(this.project, wanted);
    // what comes before the key shares nothing
    if (FAULTS[wanted.fault.fault].begins === "withDrive")
      return yield* caseSteps(project, this.seed);
    const start = yield* this.startOf(wanted);
    if (typeof start === "string") return { ...NOTHING, problem: start };
    const { bench, snapshot } = start;
    bench.visit(snapshot);
    bench.cutScript(snapshot.timeNs);
    bench.schedule(FAULT_NS, placing(wanted.fault));
    return yield* finishCase(bench);
  }

  private *startOf({ condition }: CoverageCase): Steps<Start | string> {
    const key = JSON.stringify(condition);
    if (this.last?.key === key) return this.last;
    const created = createBench({ ...healthyProject(this.project, condition), seed: this.seed });
    if (!created.ok) return created.problem;
    const { bench } = created;
    yield* advanceInSteps(bench, FAULT_NS);
    this.last = { key, bench, snapshot: bench.snapshot() };
    return this.last;
  }
}
