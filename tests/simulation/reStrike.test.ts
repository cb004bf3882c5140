/**
 * A gap that has arced is weak for a while: power that comes back too early strikes it again, power that waits does not.
 * The gap: dust leaves 3.0 kV of strength, a quarter more than full output needs, so that it takes the overshoot of a
 * lost load to strike it cold. The monitor: low gain with drive alone, retrying by itself.
 */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { DEFAULT_MONITORS } from "../../src/project/presets/monitors";
import type { Project } from "../../src/project/types";
import { type Bench, createBench } from "../../src/simulation/bench";
import { expectWithin } from "../support/expectWithin";

const MS = 1e6;

function retrying(afterS: number): Project {
  const p = defaultProject([
    { atS: 0, do: "key", down: true },
    { atS: 0.05, do: "placeFault", fault: "dust", part: "tuningCapacitor", severity: 0.683 },
    { atS: 0.1, do: "placeFault", fault: "openLoad", part: "load", severity: 1 },
    { atS: 0.1003, do: "removeFault", fault: "openLoad", part: "load" },
  ]);
  const monitors = DEFAULT_MONITORS.filter((m) => m.id === "lowGain").map((m) => ({
    ...m,
    actions: ["driveInhibit" as const],
    reset: { ...m.reset, kind: "self" as const, afterS, tries: 9, withinS: 60 },
  }));
  // an edge of half a millisecond: with the usual 5 ms the gap has 98 % back before the power is
  const exciter = { ...p.station.exciter, keyEdgeS: 0.5e-3 };
  return { ...p, monitors, station: { ...p.station, exciter } };
}

function run(p: Project, untilMs: number): Bench {
  const made = createBench(p);
  if (!made.ok) throw new Error(made.problem);
  made.bench.advanceTo(untilMs * MS);
  return made.bench;
}

const strikes = (b: Bench): readonly number[] =>
  b.events.flatMap((e) => (e.kind === "strike" ? [e.atNs] : []));

describe("power that comes back after an arc", () => {
  it("strikes again within a millisecond or two of the arc, on less than the cold strength", () => {
    const b = run(retrying(1e-3), 130);
    const [first, second] = strikes(b);
    expect(first).toBeGreaterThan(100 * MS);
    expect(second).toBeGreaterThan(first ?? 0);
    const again = b.events.filter((e) => e.kind === "strike")[1];
    // normal plate RF is 2.42 kV, and the cold gap stands 3.0
    expect(again?.kind === "strike" ? again.peakV : 9e9).toBeLessThan(2450);
  });

  it("strikes no more once the gap has had 60 ms to recover", () => {
    const b = run(retrying(60e-3), 260);
    expect(strikes(b)).toHaveLength(1);
    expect(b.events.some((e) => e.kind === "cleared")).toBe(true);
  });
});

describe("spread of the strike voltage", () => {
  const growing = (seed: number, strikeSpread: number): Project => {
    const p = defaultProject([
      { atS: 0, do: "key", down: true },
      {
        atS: 0.03,
        do: "placeFault",
        fault: "dust",
        part: "tuningCapacitor",
        severity: 0.95,
        onset: { kind: "growing", overS: 0.1 },
      },
    ]);
    const airGaps = { ...p.station.airGaps, strikeSpread };
    return { ...p, seed, station: { ...p.station, airGaps } };
  };

  it("moves the instant at which growing dust strikes, by the seed alone", () => {
    const plain = [1, 2].map((seed) => strikes(run(growing(seed, 0), 130))[0] ?? 0);
    // without spread the seed has no say; 2.42 kV strike 0.53 mm, 0.35 of the gap: 0.65/(0.8 x 0.95) of the way
    expect(plain[1]).toBe(plain[0]);
    expectWithin(plain[0] ?? 0, (30 + 85) * MS, 3 * MS, "2.42 kV and the gap read to 3 %");
    const spread = [1, 2, 1].map((seed) => strikes(run(growing(seed, 0.03), 130))[0] ?? 0);
    expect(spread[1]).not.toBe(spread[0]);
    expect(spread[2]).toBe(spread[0]);
    for (const ns of spread) expectWithin(ns, plain[0] ?? 0, 12 * MS, "three deviations of 3 %");
  });
});
