/** Cases with pauses: the same outcomes, never much work between two pauses, and nothing half-made left behind. */
import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import { Bench } from "../../../src/simulation/bench";
import { planTrial } from "../../../src/study/trials/planTrial";
import { PAUSE_BLOCKS } from "../../../src/study/trials/quickMapRun";
import { QuickWatch } from "../../../src/study/trials/quickMapWatch";
import { advanceInSteps, drained, PAUSE_SAMPLES } from "../../../src/study/trials/steps";
import type { Trial, TrialRequest } from "../../../src/study/trials/trial";
import { benchOf, faultScenario } from "../../support/cases";
import { fixedRuns } from "../../support/properties";

interface Study {
  readonly kind: TrialRequest["kind"];
  readonly runs?: number;
  readonly options: NonNullable<TrialRequest["options"]>;
  /** Such as share what has been made, and such as go different ways. */
  readonly cases: readonly number[];
}

const USE = { conditions: ["asDesigned"], exceptions: false };

const STUDIES: readonly Study[] = [
  {
    kind: "coverage",
    // a margin that few reach: most cells stay open, and say why
    options: {
      bands: ["20 m"],
      drivesW: [62],
      swr: 1,
      requiredMargin: 60,
      faults: ["insect", "relayOpens", "driveAhead", "loadingOpen"],
    },
    cases: [0, 1, 2, 3, 4],
  },
  {
    kind: "backup",
    options: { faults: ["insect tuningCapacitor", "airflowLost tube"], pairs: false },
    cases: [0, 1, 14, 29, 41],
  },
  {
    kind: "tolerance",
    runs: 3,
    options: { fault: "shortLoad", part: "load", severity: 1 },
    cases: [0, 1, 2],
  },
  { kind: "nuisance", options: { hours: 0.02, uses: ["speech", "morse"], ...USE }, cases: [0, 1] },
  {
    kind: "window",
    options: { carrierInstants: 1, speechInstants: 1, hours: 0.01, uses: ["speech"], ...USE },
    cases: [0, 1, 6],
  },
];

function planned({ cases: _, ...request }: Study): Trial {
  const plan = planTrial({ ...request, project: defaultProject(), seed: 1 });
  if (!plan.ok) throw new Error(plan.problem);
  return plan.trial;
}

afterEach(() => vi.restoreAllMocks());

describe.each(STUDIES)("a case of $kind", (study) => {
  it("comes out the same byte by byte however often it, and others before it, were left in their middle", () => {
    const alone = new Map(
      study.cases.map((index) => [index, JSON.stringify(planned(study).run(index))]),
    );
    const visit = fc.record({
      index: fc.constantFrom(...study.cases),
      // so many parts, one beginning after the other
      parts: fc.array(fc.integer({ min: 1, max: 25 }), { minLength: 2, maxLength: 3 }),
    });
    fc.assert(
      fc.property(fc.array(visit, { minLength: 1, maxLength: 3 }), (visits) => {
        const trial = planned(study);
        for (const { index, parts } of visits) {
          for (const most of parts) {
            const steps = trial.steps(index);
            for (let k = 0; k < most && steps.next().done !== true; k++);
          }
        }
        for (const { index } of visits)
          expect(JSON.stringify(drained(trial.steps(index)))).toBe(alone.get(index));
      }),
      fixedRuns(2),
    );
  });

  it("pauses after a count of samples of a bench, and of blocks of a quick run", () => {
    let samples = 0;
    let blocks = 0;
    const { advanceTo } = Bench.prototype;
    vi.spyOn(Bench.prototype, "advanceTo").mockImplementation(function (this: Bench, ns) {
      const beforeNs = this.timeNs;
      advanceTo.call(this, ns);
      samples += (this.timeNs - beforeNs) / this.sampleNs;
    });
    const { step } = QuickWatch.prototype;
    vi.spyOn(QuickWatch.prototype, "step").mockImplementation(function (this: QuickWatch, ...of) {
      blocks += 1;
      step.apply(this, of);
    });
    const trial = planned(study);
    const most = { samples: 0, blocks: 0 };
    for (const index of study.cases) {
      const steps = trial.steps(index);
      for (let isDone = false; !isDone; ) {
        samples = 0;
        blocks = 0;
        isDone = steps.next().done === true;
        most.samples = Math.max(most.samples, samples);
        most.blocks = Math.max(most.blocks, blocks);
      }
    }
    // one stretch may begin where another ends, and a look is over before it is asked
    expect(most.samples).toBeLessThan(2 * PAUSE_SAMPLES + 100);
    expect(most.blocks).toBeLessThanOrEqual(PAUSE_BLOCKS);
    expect(most.samples + most.blocks).toBeGreaterThan(0);
  });
});

describe("a bench that goes on in steps", () => {
  it("stands where it would without pauses, with the same world", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60_000_000 }), (ns) => {
        const [paused, straight] = [0, 1].map(() =>
          benchOf(defaultProject(faultScenario("insect", "tuningCapacitor"))),
        ) as [Bench, Bench];
        drained(advanceInSteps(paused, ns));
        straight.advanceTo(ns);
        expect(paused.timeNs).toBe(straight.timeNs);
        expect(paused.buffer).toEqual(straight.buffer);
      }),
      fixedRuns(8),
    );
  });
});
