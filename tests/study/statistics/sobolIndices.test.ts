import { describe, expect, it } from "vitest";
import { sin } from "../../../src/math/elementary";
import { RandomStream } from "../../../src/math/random";
import {
  type SobolRow,
  sobolIndices,
  sobolRunsPerRow,
} from "../../../src/study/statistics/sobolIndices";
import { expectWithin } from "../../support/expectWithin";

type Outcome = (x: readonly number[]) => number;

function rowsOf(f: Outcome, inputs: number, draws: number, stream: RandomStream): SobolRow[] {
  const angle = (): number => stream.between(-Math.PI, Math.PI);
  return Array.from({ length: draws }, () => {
    const a = Array.from({ length: inputs }, angle);
    const b = Array.from({ length: inputs }, angle);
    const mixed = a.map((_, i) => f(a.map((x, k) => (k === i ? (b[i] as number) : x))));
    return { a: f(a), b: f(b), mixed };
  });
}

/** Ishigami & Homma (1990) with a = 7, b = 0.1. */
const ishigami: Outcome = ([x = 0, y = 0, z = 0]) =>
  sin(x) + 7 * sin(y) * sin(y) + 0.1 * z * z * z * z * sin(x);

/** Published: A. Saltelli et al., Global Sensitivity Analysis, The Primer (2008), section 4.9 (figures from memory). */
const PUBLISHED = [
  { first: 0.3139, total: 0.5576 },
  { first: 0.4424, total: 0.4424 },
  { first: 0, total: 0.2437 },
];

const BATCHES = 24;
const DRAWS = 2500;

describe("Sobol indices", () => {
  const batches = Array.from({ length: BATCHES }, (_, k) =>
    sobolIndices(rowsOf(ishigami, 3, DRAWS, new RandomStream(11, k))),
  );

  it("of Ishigami's function are the published ones, within four standard errors", () => {
    for (const [i, published] of PUBLISHED.entries()) {
      for (const kind of ["first", "total"] as const) {
        const found = batches.map((indices) => indices?.[i]?.[kind] as number);
        const mean = found.reduce((sum, x) => sum + x, 0) / BATCHES;
        const square = found.reduce((sum, x) => sum + (x - mean) * (x - mean), 0);
        const error = Math.sqrt(square / (BATCHES - 1) / BATCHES);
        expect(error).toBeLessThan(0.006); // else four of them would say little
        // each batch takes its own mean for the true one: a share of 1/N
        const tolerance = 4 * error + 2 / DRAWS;
        expectWithin(mean, published[kind], tolerance, `four standard errors, x${i + 1} ${kind}`);
      }
    }
  });

  it("of a plain sum are the shares of its variance, first order and total alike", () => {
    // by hand: f = 3x + 4y + 0z, variances 9 to 16 to 0
    const linear: Outcome = ([x = 0, y = 0]) => 3 * x + 4 * y;
    const indices = sobolIndices(rowsOf(linear, 3, 15_000, new RandomStream(5)));
    for (const [i, share] of [0.36, 0.64, 0].entries()) {
      const { first, total } = indices?.[i] ?? { first: Number.NaN, total: Number.NaN };
      expectWithin(first, share, 0.02, "2.4/sqrt(15,000)");
      expectWithin(total, share, 0.02, "2.4/sqrt(15,000)");
    }
    expect(indices?.[2]).toEqual({ first: 0, total: 0 });
  });

  it("say nothing of an outcome that does not vary", () => {
    expect(sobolIndices([{ a: 2, b: 2, mixed: [2, 2] }])).toBeNull();
    expect(sobolIndices([])).toBeNull();
  });

  it("take two runs and one for each input", () => {
    expect(sobolRunsPerRow(3)).toBe(5);
  });
});
