import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RANDOM_STATE_LENGTH, RandomStream } from "../../src/math/random";
import { expectWithin } from "../support/expectWithin";
import { fixedRuns } from "../support/properties";

const seeds = fc.integer({ min: 0, max: 0xffffffff });

describe("a seeded random stream", () => {
  it("repeats itself for the same seed and stream", () => {
    fc.assert(
      fc.property(seeds, fc.nat(1000), (seed, streamNumber) => {
        const one = new RandomStream(seed, streamNumber);
        const two = new RandomStream(seed, streamNumber);
        for (let i = 0; i < 20; i++) expect(one.uniform()).toBe(two.uniform());
      }),
      fixedRuns(30),
    );
  });

  it("goes on after load exactly as it did after save, through either kind of array", () => {
    fc.assert(
      fc.property(seeds, fc.nat(50), fc.boolean(), (seed, drawn, asFloats) => {
        const stream = new RandomStream(seed);
        for (let i = 0; i < drawn; i++) stream.gaussian();
        const length = RANDOM_STATE_LENGTH + 3;
        const saved = asFloats ? new Float64Array(length) : new Int32Array(length);
        stream.save(saved, 2);
        const next = [stream.uniform(), stream.gaussian(), stream.uniform()];
        const restored = new RandomStream(1);
        restored.load(saved, 2);
        expect([restored.uniform(), restored.gaussian(), restored.uniform()]).toEqual(next);
        expect(saved[0]).toBe(0); // nothing written beside the four places
        expect(saved[length - 1]).toBe(0);
      }),
      fixedRuns(40),
    );
  });

  it("differs between seeds and between streams of a seed from the first draw on", () => {
    const firsts = new Set<number>();
    for (let seed = 0; seed < 30; seed++)
      for (let k = 0; k < 30; k++) firsts.add(new RandomStream(seed, k).uniform());
    expect(firsts.size).toBe(900);
  });

  it("is uniform in [0, 1): mean 1/2, variance 1/12", () => {
    const stream = new RandomStream(7);
    const n = 40_000;
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < n; i++) {
      const u = stream.uniform();
      expect(u >= 0 && u < 1).toBe(true);
      sum += u;
      squares += (u - 0.5) * (u - 0.5);
    }
    // Standard error of the mean: sqrt(1/12/n) = 1.44e-3; of the variance: sqrt((1/80 - 1/144)/n) = 3.7e-4.
    expectWithin(sum / n, 1 / 2, 5.8e-3, "four standard errors of the mean");
    expectWithin(squares / n, 1 / 12, 1.5e-3, "four standard errors of the variance");
  });

  it("is Gaussian: mean 0, variance 1, and 68.27 % within one standard deviation", () => {
    const stream = new RandomStream(11, 3);
    const n = 40_000;
    let sum = 0;
    let squares = 0;
    let inside = 0;
    for (let i = 0; i < n; i++) {
      const g = stream.gaussian();
      sum += g;
      squares += g * g;
      if (Math.abs(g) < 1) inside += 1;
    }
    // Standard errors: mean 1/sqrt(n) = 5e-3; variance sqrt(2/n) = 7.1e-3; share sqrt(p(1-p)/n) = 2.3e-3.
    expectWithin(sum / n, 0, 0.02, "four standard errors of the mean");
    expectWithin(squares / n, 1, 0.0284, "four standard errors of the variance");
    expectWithin(inside / n, 0.6827, 0.0094, "four standard errors of the share; erf(1/sqrt 2)");
  });

  it("refuses a seed that is no whole number and a place outside the array", () => {
    expect(() => new RandomStream(1.5)).toThrow("invalid seed: 1.5");
    expect(() => new RandomStream(1).save(new Float64Array(5), 2)).toThrow("invalid offset: 2");
    expect(() => new RandomStream(1).load(new Float64Array(5), -1)).toThrow("invalid offset: -1");
  });
});
