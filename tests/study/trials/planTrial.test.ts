/** A misspelt option is refused by name, with those there are: a trial of something else would look like an answer. */
import { expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import { planTrial } from "../../../src/study/trials/planTrial";
import { type Plain, TRIAL_KINDS } from "../../../src/study/trials/trial";

it.each(TRIAL_KINDS)("a trial of %s refuses an option it does not know", (kind) => {
  const plan = planTrial({ kind, project: defaultProject(), seed: 1, options: { falt: "arc" } });
  expect(plan.ok ? "" : plan.problem).toMatch(/^options\.falt: a trial of \w+ knows \w+, /);
});

it.each([
  ["coverage", {}],
  ["backup", {}],
  ["window", {}],
  ["nuisance", { hours: 1 }],
] as const)(
  "a trial of %s with options %j refuses a number of runs that it would not follow",
  (kind, options) => {
    const plan = planTrial({ kind, project: defaultProject(), seed: 1, runs: 3, options });
    expect(plan).toMatchObject({ ok: false, at: "runs", problem: expect.stringContaining("runs") });
  },
);

it("still takes the one that was meant", () => {
  const options = { fault: "arc", part: "tuningCapacitor" };
  const plan = planTrial({
    kind: "tolerance",
    project: defaultProject(),
    seed: 1,
    runs: 3,
    options,
  });
  expect(plan.ok ? plan.trial.count : plan.problem).toBe(3);
});

it("names numbers of runs that do where too few are asked for Sobol indices", () => {
  const ask = (runs: number, more: Readonly<Record<string, Plain>> = {}) =>
    planTrial({
      kind: "tolerance",
      project: defaultProject(),
      seed: 1,
      runs,
      options: { sobol: true, ...more },
    });
  const few = ask(2);
  if (few.ok || few.runsThatFit === undefined) throw new Error("two runs are taken");
  const { least, worthReading, orElse } = few.runsThatFit;
  expect(few).toMatchObject({
    at: "runs",
    problem: `one row of draws for Sobol indices takes ${least} runs, fewer with inputs fixed; 2 are too few`,
  });
  expect([worthReading / least, orElse]).toEqual([100, "fix inputs"]);
  expect([ask(least - 1).ok, ask(least).ok, ask(worthReading).ok]).toEqual([false, true, true]);
  // an input that is fixed needs no runs of its own, but the rows stay
  const fixed = ask(2, { inputs: { mu: 0 } });
  expect(fixed.ok ? null : fixed.runsThatFit?.least).toBe(least - 1);
});
