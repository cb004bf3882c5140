import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import {
  type Distribution,
  drawCase,
  drawSobolCase,
  inverse,
  overriddenInputs,
  type ToleranceInput,
  varyingInputs,
} from "../../../src/study/trials/toleranceInputs";
import type { Plain } from "../../../src/study/trials/trial";
import { expectWithin } from "../../support/expectWithin";

const project = defaultProject();

function inputsWith(given: Plain = {}): readonly ToleranceInput[] {
  const read = overriddenInputs(project, given);
  if (!read.ok) throw new Error(read.problem);
  return read.inputs;
}

function moments(d: Distribution): { readonly mean: number; readonly variance: number } {
  const n = 20_000;
  const values = Array.from({ length: n }, (_, k) => inverse(d, (k + 0.5) / n));
  const mean = values.reduce((sum, x) => sum + x, 0) / n;
  return { mean, variance: values.reduce((sum, x) => sum + (x - mean) * (x - mean), 0) / n };
}

describe("a distribution", () => {
  it("has the textbook's mean and variance", () => {
    // any table of distributions: uniform (a + b)/2, (b - a)^2/12; triangular (a + b + c)/3 and
    // (a^2 + b^2 + c^2 - ab - ac - bc)/18; logarithmic (b - a)/ln(b/a)
    const reason = "midpoint rule with 20,000 points";
    const flat = moments({ kind: "uniform", low: 2, high: 5 });
    expectWithin(flat.mean, 3.5, 1e-6, reason);
    expectWithin(flat.variance, 0.75, 1e-6, reason);
    const tent = moments({ kind: "triangular", low: 1, mode: 2, high: 6 });
    expectWithin(tent.mean, 3, 1e-5, reason);
    expectWithin(tent.variance, 21 / 18, 1e-4, reason);
    const wide = moments({ kind: "logUniform", low: 2, high: 10 });
    expectWithin(wide.mean, 4.970679, 1e-5, `8/ln 5 by hand; ${reason}`);
  });

  it("begins and ends at its limits", () => {
    for (const d of [
      { kind: "uniform", low: -2, high: 3 },
      { kind: "triangular", low: -2, mode: -2, high: 3 },
    ] as const) {
      expect([inverse(d, 0), inverse(d, 1)]).toEqual([-2, 3]);
    }
    expect(inverse({ kind: "triangular", low: 1, mode: 1, high: 1 }, 0.3)).toBe(1);
    expect(inverse({ kind: "fixed", value: 4 }, 0.9)).toBe(4);
  });
});

describe("the draws of a case", () => {
  it("follow from seed and number alone", () => {
    const inputs = inputsWith();
    expect(drawCase(inputs, 3, 17)).toEqual(drawCase(inputs, 3, 17));
    expect(drawCase(inputs, 3, 17)).not.toEqual(drawCase(inputs, 3, 18));
    expect(drawCase(inputs, 3, 17)).not.toEqual(drawCase(inputs, 4, 17));
  });

  it("stay as they were when one input is fixed", () => {
    const free = drawCase(inputsWith(), 1, 5);
    const fixed = drawCase(inputsWith({ mains: 0.03 }), 1, 5);
    const at = inputsWith().findIndex(({ name }) => name === "mains");
    expect(fixed[at]).toBe(0.03);
    expect(fixed.filter((_, i) => i !== at)).toEqual(free.filter((_, i) => i !== at));
  });

  it("cover each input evenly", () => {
    const inputs = inputsWith({ mains: { kind: "uniform", low: 0, high: 1 } });
    const at = inputs.findIndex(({ name }) => name === "mains");
    let sum = 0;
    for (let i = 0; i < 4000; i++) sum += drawCase(inputs, 9, i)[at] as number;
    expectWithin(sum / 4000, 0.5, 0.014, "three standard errors of 1/sqrt(12 x 4000)");
  });

  it("of a study of Sobol indices differ from A in one input each, which is B's", () => {
    const inputs = inputsWith();
    const varying = varyingInputs(inputs);
    expect(inputs.length - varying.length).toBe(1); // cathode cut-off has no spread on the presets
    const row = (slot: number): number[] =>
      drawSobolCase(inputs, 2, 3 * (varying.length + 2) + slot);
    const [a, b] = [row(0), row(1)];
    for (const [k, at] of varying.entries()) {
      const changed = row(2 + k).flatMap((x, i) => (x === a[i] ? [] : [i]));
      expect(changed).toEqual([at]);
      expect(row(2 + k)[at]).toBe(b[at]);
    }
  });
});

describe("distributions given by a request", () => {
  it("take the place of the usual ones", () => {
    const inputs = inputsWith({ ageing: { kind: "triangular", low: 0, mode: 0.1, high: 0.2 } });
    const { usual } = inputs.find(({ name }) => name === "ageing") as ToleranceInput;
    expect(usual).toEqual({ kind: "triangular", low: 0, mode: 0.1, high: 0.2 });
  });

  it("are refused with the name and what is missing", () => {
    const problemOf = (given: Plain): string => {
      const read = overriddenInputs(project, given);
      return read.ok ? "" : read.problem;
    };
    expect(problemOf({ agein: 1 })).toContain("there is no input agein; there are tuningError,");
    for (const wrong of [
      null,
      "much",
      { kind: "uniform", low: 2, high: 1 },
      { kind: "logUniform", low: 0, high: 1 },
      { kind: "triangular", low: 0, mode: 3, high: 1 },
      { kind: "normal", low: 0, high: 1 },
    ])
      expect(problemOf({ ageing: wrong })).toContain("options.inputs.ageing has to be a number");
    expect(problemOf([])).toContain("options.inputs has to be an object");
  });
});
