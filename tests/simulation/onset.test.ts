/** Faults that grow, and faults that come and go. Severities are share of the load conductance that is lost. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { Onset } from "../../src/project/scenario";
import { type Bench, createBench } from "../../src/simulation/bench";
import { patternSeed, presenceOf } from "../../src/simulation/presence";
import { reading } from "../support/benchLog";
import { expectWithin } from "../support/expectWithin";

const PLACED = { fault: "openLoad", part: "load", placedNs: 100e6, began: false } as const;

function placed(onset: Onset, severity = 1) {
  return { ...PLACED, onset, severity, seed: patternSeed("openLoad", 1) };
}

/** On the air at 20 W in tune mode, where nothing trips on a poor load; the fault comes at 100 ms. */
function benchWith(onset: Onset, severity: number): Bench {
  const made = createBench(
    defaultProject([
      { atS: 0, do: "mode", mode: "tune" },
      { atS: 0, do: "key", down: true },
      { atS: 0.1, do: "placeFault", fault: "openLoad", part: "load", severity, onset },
    ]),
  );
  if (!made.ok) throw new Error(made.problem);
  return made.bench;
}

describe("onset of a fault", () => {
  it("grows in a straight line and stays", () => {
    const f = placed({ kind: "growing", overS: 0.2 });
    for (const [ms, share] of [
      [100, 0],
      [150, 0.25],
      [300, 1],
      [900, 1],
    ] as const) {
      expectWithin(presenceOf(f, ms * 1e6), share, 1e-12, "rounding");
    }
  });

  it("comes and goes for its share of the time, the same however often it is asked", () => {
    for (const share of [0.2, 0.7]) {
      const f = placed({ kind: "intermittent", share });
      let there = 0;
      const looks = 20_000;
      for (let i = 0; i < looks; i++) there += presenceOf(f, 100e6 + i * 10e6);
      expectWithin(there / looks, share, 0.03, "500 periods of a drawn length");
    }
  });

  it("is felt by the circuit: half of the load gone is SWR 2 half way through growing to it", () => {
    // load conductance 0.02 (1 - 0.75 x 2/3): at 2/3 of growing to 0.75 half of it is left, SWR 2 into 50 ohm
    const bench = benchWith({ kind: "growing", overS: 0.3 }, 0.75);
    bench.advanceTo(0.3e9);
    const rho = Math.sqrt(reading(bench, "reflectedW") / reading(bench, "forwardW"));
    expectWithin(
      (1 + rho) / (1 - rho),
      2,
      0.01,
      "one sample of growth, and the meter's own sample",
    );
  });

  it("makes one race of an intermittent load, and the same record in pieces", () => {
    const onset = { kind: "intermittent", share: 0.4 } as const;
    const whole = benchWith(onset, 0.5);
    whole.advanceTo(1.2e9);
    const pieces = benchWith(onset, 0.5);
    for (let ns = 0; ns <= 1.2e9; ns += 37.3e6) pieces.advanceTo(ns);
    pieces.advanceTo(1.2e9);
    expect(pieces.hash).toBe(whole.hash);
    expect(whole.events.filter((e) => e.kind === "faultZero")).toHaveLength(1);
  });
});
