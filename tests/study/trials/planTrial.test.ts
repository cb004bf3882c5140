/** A misspelt option is refused by name, with those there are: a trial of something else would look like an answer. */
import { expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import { planTrial } from "../../../src/study/trials/planTrial";
import { TRIAL_KINDS } from "../../../src/study/trials/trial";

it.each(TRIAL_KINDS)("a trial of %s refuses an option it does not know", (kind) => {
  const plan = planTrial({ kind, project: defaultProject(), seed: 1, options: { falt: "arc" } });
  expect(plan.ok ? "" : plan.problem).toMatch(/^options\.falt: a trial of \w+ knows \w+, /);
});

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
