import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import type { CaseResult, FromTrial } from "../../../src/shells/trials/protocol";
import { type Plan, TrialHost } from "../../../src/shells/trials/trialHost";
import { planTrial } from "../../../src/study/trials/planTrial";
import type { Plain, TrialRequest } from "../../../src/study/trials/trial";
import { allOutcomes, pausingPlan, slowToSum, tinyRequest, tinyTrial } from "./trialRig";

const PAUSES = 4;
const NOW = () => true;
const NEVER = () => false;

function hostOf(plan: Plan = pausingPlan(PAUSES), request: TrialRequest = tinyRequest(9, 20)) {
  const said: FromTrial[] = [];
  const host = new TrialHost((message) => said.push(structuredClone(message)), plan);
  host.receive({ kind: "plan", request, labels: false });
  /** What has been sent since it was last asked, results alone. */
  const results = (): CaseResult[] =>
    said.splice(0).flatMap((m) => (m.kind === "results" ? m.results : []));
  const returned = () => {
    host.receive({ kind: "giveBack" });
    const answer = said.splice(0)[0];
    return answer?.kind === "returned" ? answer.indices : null;
  };
  const sums = () => said.splice(0).filter((m) => m.kind === "summary");
  results();
  return { host, results, returned, sums };
}

const OUTCOMES = allOutcomes(9, 20);
const result = (index: number) => ({ index, outcome: OUTCOMES[index] as Plain });

describe("a worker of a trial", () => {
  it("stops at the first pause at which it is late, and goes on there the next time", () => {
    const { host, results } = hostOf();
    host.receive({ kind: "run", indices: [3, 8] });
    for (const index of [3, 8]) {
      for (let k = 0; k < PAUSES; k++) {
        host.work(NOW);
        expect(results()).toEqual([]);
        expect(host.hasWork).toBe(true);
      }
      host.work(NOW);
      expect(results()).toEqual([result(index)]);
    }
    expect(host.hasWork).toBe(false);
  });

  it("asks whether it is late after every part, and sends what has ended by then", () => {
    const { host, results } = hostOf();
    host.receive({ kind: "run", indices: [1, 2, 5] });
    let asked = 0;
    const parts = PAUSES + 1;
    host.work(() => ++asked === 2 * parts + 2); // in the middle of the third
    expect(results()).toEqual([result(1), result(2)]);
    host.work(() => ++asked > 99);
    expect(asked).toBe(3 * parts);
    expect(results()).toEqual([result(5)]);
  });

  it("never gives back the case under way, and half of the others", () => {
    const { host, results, returned } = hostOf();
    host.receive({ kind: "run", indices: [4] });
    host.work(NOW);
    expect(returned()).toEqual([]);
    host.receive({ kind: "run", indices: [5] });
    expect(returned()).toEqual([5]);
    host.receive({ kind: "run", indices: [6, 7, 10] });
    expect(returned()).toEqual([7, 10]);
    host.work(NEVER);
    expect(results()).toEqual([result(4), result(6)]);
  });

  it("says what a case threw after a pause, and runs the next", () => {
    const { host, results } = hostOf((request) => {
      const trial = tinyTrial(request.seed, 20, PAUSES);
      return {
        ok: true,
        trial: {
          ...trial,
          *steps(index) {
            const outcome = yield* trial.steps(index);
            if (index === 6) throw new Error("a slip");
            return outcome;
          },
        },
      };
    });
    host.receive({ kind: "run", indices: [6, 7] });
    for (let k = 0; k < 2 * (PAUSES + 1); k++) host.work(NOW);
    expect(results()).toEqual([{ index: 6, failure: "a slip" }, result(7)]);
  });

  it("answers in the middle of a case, and the case comes out as if nobody had asked", () => {
    const request: TrialRequest = {
      kind: "backup",
      project: defaultProject(),
      seed: 1,
      options: { faults: ["insect tuningCapacitor"], pairs: false },
    };
    const plan = planTrial(request);
    if (!plan.ok) throw new Error(plan.problem);
    const alone = [2, 3].map((index) => ({ index, outcome: plan.trial.run(index) }));
    const { host, results } = hostOf(planTrial, request);
    const got: CaseResult[] = [];
    let opened = 0;
    for (const index of [2, 3]) {
      host.receive({ kind: "run", indices: [index] });
      for (let turn = 1; host.hasWork; turn++) {
        host.work(NOW);
        got.push(...results());
        // it takes the same bench to the fault
        if (turn === 5) {
          opened += 1;
          host.receive({ kind: "open", id: index, index: 1 });
        }
        host.receive({ kind: "keep", results: alone });
        host.receive({ kind: "summarise" });
        host.receive({ kind: "giveBack" });
        if (turn > 1000) throw new Error("it never comes to an end");
      }
    }
    expect(opened).toBe(2);
    expect(JSON.stringify(got)).toBe(JSON.stringify(alone));
  });

  it("sums up with pauses, and leaves a sum that is asked for anew before it is ready", () => {
    const { host, sums, results } = hostOf(({ seed }) => ({
      ok: true,
      trial: slowToSum(tinyTrial(seed, 20, PAUSES), 4),
    }));
    host.receive({ kind: "keep", results: [result(2)] });
    host.receive({ kind: "summarise" });
    host.receive({ kind: "run", indices: [3] });
    for (let k = 0; k < 4; k++) host.work(NOW);
    expect(sums()).toEqual([]);
    host.receive({ kind: "keep", results: [result(5)] });
    host.receive({ kind: "summarise" });
    for (let k = 0; k < 4; k++) host.work(NOW);
    expect(sums()).toEqual([]);
    host.work(NOW);
    const both = [2, 5].map((index) => (result(index).outcome as { value: number }).value);
    const [first = 0, second = 0] = both;
    expect(sums()).toEqual([
      { kind: "summary", summary: { sum: first / 3 + second, known: 2 }, of: 2 },
    ]);
    expect(host.hasWork).toBe(true);
    host.work(NEVER);
    expect(results()).toEqual([result(3)]);
    expect(host.hasWork).toBe(false);
  });
});
