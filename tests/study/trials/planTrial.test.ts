/** A misspelt option is refused by name, with those there are: a trial of something else would look like an answer. */
import { expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import { planTrial } from "../../../src/study/trials/planTrial";
import { TRIAL_KINDS } from "../../../src/study/trials/trial";

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
  const ask = (runs: number) =>
    planTrial({
      kind: "tolerance",
      project: defaultProject(),
      seed: 1,
      runs,
      options: { sobol: true },
    });
  const few = ask(2);
  if (few.ok || few.runsThatFit === undefined) throw new Error("two runs are taken");
  const { least, example } = few.runsThatFit;
  expect(few).toMatchObject({ at: "runs", problem: expect.stringContaining("2 are too few") });
  expect([ask(least - 1).ok, ask(least).ok, ask(example).ok]).toEqual([false, true, true]);
});
