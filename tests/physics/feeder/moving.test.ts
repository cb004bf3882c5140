import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { uniformAt } from "../../../src/math/random";
import {
  contactMade,
  gustRatio,
  icedRatio,
  nextContactChangeNs,
  swayRatio,
} from "../../../src/physics/feeder/moving";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const seeds = fc.integer({ min: 0, max: 0xffffffff });
const times = fc.integer({ min: 0, max: 600e9 });
const moving = [swayRatio, gustRatio];

describe("a table of random numbers", () => {
  it("is uniform: mean 1/2, mean square 1/3", () => {
    let sum = 0;
    let square = 0;
    for (let k = 0; k < 20_000; k++) {
      const u = uniformAt(7, 3, k);
      sum += u / 20_000;
      square += (u * u) / 20_000;
    }
    expectWithin(sum, 1 / 2, 0.0082, "four standard errors of 20,000 draws, 0.289/141 each");
    expectWithin(square, 1 / 3, 0.0085, "four standard errors of 20,000 draws, 0.298/141 each");
  });

  it("differs by seed, by stream and by place", () => {
    const four = [uniformAt(1, 1, 1), uniformAt(2, 1, 1), uniformAt(1, 2, 1), uniformAt(1, 1, 2)];
    expect(new Set(four).size).toBe(4);
  });
});

describe("ice, sway and gust", () => {
  it("ice lowers the resonance by its severity", () => {
    expectWithin(icedRatio(0.03), 0.97, 1e-15, "rounding");
  });

  it("stay within their severity, and stand still without any", () => {
    fc.assert(
      fc.property(times, seeds, (ns, seed) => {
        for (const ratio of moving) {
          expect(Math.abs(ratio(ns, seed, 0.03) - 1)).toBeLessThanOrEqual(0.03 + 1e-12);
          expect(ratio(ns, seed, 0)).toBe(1);
        }
      }),
      fixedRuns(50),
    );
  });

  it("are the same however the instant is reached, and another for another seed", () => {
    for (const ratio of moving) {
      const forward = [1e9, 2.35e9, 17e9].map((ns) => ratio(ns, 5, 0.02));
      const backward = [17e9, 2.35e9, 1e9].map((ns) => ratio(ns, 5, 0.02)).reverse();
      expect(backward).toEqual(forward);
      expect(ratio(1e9, 6, 0.02)).not.toBe(forward[0]);
    }
  });

  it("never jump: a sample of 50 us moves them by less than their steepest slope", () => {
    fc.assert(
      fc.property(times, seeds, (ns, seed) => {
        // sway: 2 pi/3.1 s a second; gust: 1.5 * 2/0.7 s a second; of the severity
        const sway = swayRatio(ns + 50_000, seed, 1) - swayRatio(ns, seed, 1);
        const gust = gustRatio(ns + 50_000, seed, 1) - gustRatio(ns, seed, 1);
        expect(Math.abs(sway)).toBeLessThanOrEqual((2 * Math.PI * 50e-6) / 3.1 + 1e-12);
        expect(Math.abs(gust)).toBeLessThanOrEqual((3 * 50e-6) / 0.7 + 1e-12);
      }),
      fixedRuns(50),
    );
  });

  it("a sway comes back after 3.1 s", () => {
    expectWithin(swayRatio(4.3e9, 9, 0.02), swayRatio(1.2e9, 9, 0.02), 1e-15, "rounding");
  });

  it("a gust is slack at its knots, every 0.7 s", () => {
    for (const knot of [1, 2, 30]) {
      const change = gustRatio(knot * 7e8 + 1e5, 3, 1) - gustRatio(knot * 7e8 - 1e5, 3, 1);
      expectWithin(change, 0, 3 * 2 * (1e5 / 7e8) ** 2 * 2, "3 w^2 of the step on either side");
    }
  });
});

describe("an intermittent contact", () => {
  it.each([0.02, 0.3, 0.5, 0.9])("is broken for its share of the time: %d", (severity) => {
    let broken = 0;
    const step = 6_172_835;
    const samples = 60_000;
    for (let k = 0; k < samples; k++) if (!contactMade(k * step, 11, severity)) broken++;
    // length of a break: s(1 + (1-s)(2u-1)), deviation s(1-s)/sqrt(3), over 926 breaks
    const standard = (severity * (1 - severity)) / Math.sqrt(3 * 926);
    expectWithin(broken / samples, severity, 4 * standard, "four standard errors of the lengths");
  });

  it("is whole without severity and never made at 1", () => {
    fc.assert(
      fc.property(times, seeds, (ns, seed) => {
        expect(contactMade(ns, seed, 0)).toBe(true);
        expect(contactMade(ns, seed, 1)).toBe(false);
        expect(nextContactChangeNs(ns, seed, 0)).toBe(Infinity);
        expect(nextContactChangeNs(ns, seed, 1)).toBe(Infinity);
      }),
      fixedRuns(30),
    );
  });

  it("changes at the announced nanosecond and not before", () => {
    const share = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
    fc.assert(
      fc.property(
        times,
        seeds,
        share,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (ns, seed, s, at) => {
          const made = contactMade(ns, seed, s);
          const next = nextContactChangeNs(ns, seed, s);
          expect(next).toBeGreaterThan(ns);
          expect(contactMade(next, seed, s)).toBe(!made);
          expect(contactMade(next - 1, seed, s)).toBe(made);
          expect(contactMade(ns + Math.floor((next - 1 - ns) * at), seed, s)).toBe(made);
        },
      ),
      fixedRuns(50),
    );
  });
});
