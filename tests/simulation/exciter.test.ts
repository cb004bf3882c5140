/** The exciter on the bench: signals, level control and overshoot meet the stage and its protection. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { Command, ScenarioEntry } from "../../src/project/scenario";
import type { Exciter } from "../../src/project/station";
import type { Project } from "../../src/project/types";
import type { Bench } from "../../src/simulation/bench";
import { EXCITER_AT, MODE_AT } from "../../src/simulation/worldLayout";
import { operated, protectionLog, reading } from "../support/benchLog";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const SAMPLE_NS = 50_000;
const MS = 1_000_000;

function project(
  signal: Command,
  exciter: Partial<Exciter> = {},
  more: readonly ScenarioEntry[] = [],
): Project {
  const usual = defaultProject([{ atS: 0, ...signal }, { atS: 0, do: "key", down: true }, ...more]);
  const station = { ...usual.station, exciter: { ...usual.station.exciter, ...exciter } };
  return { ...usual, station };
}

const CARRIER: Command = { do: "signal", signal: "carrier" };
const SPEECH: Command = { do: "signal", signal: "speech", talker: 1 };
const PROCESSED: Command = {
  do: "signal",
  signal: "processedSpeech",
  talker: 1,
  processingDb: 10,
};
const TONES: Command = { do: "signal", signal: "twoTone", spacingHz: 1200 };

/** Means of two channels over `count` samples. */
function means(bench: Bench, count: number): { outputW: number; driveW: number } {
  let outputW = 0;
  let driveW = 0;
  for (let k = 0; k < count; k++) {
    bench.advanceTo(bench.timeNs + SAMPLE_NS);
    outputW += reading(bench, "outputW") / count;
    driveW += reading(bench, "driveW") / count;
  }
  return { outputW, driveW };
}

describe("signals at full drive on the demonstration station", () => {
  it.each([
    ["speech", SPEECH],
    ["processed speech", PROCESSED],
  ])("%s trips and alarms nothing", { timeout: 60_000 }, (_, signal) => {
    const bench = benchOf(project(signal));
    let highestW = 0;
    // seven syllables; ten seconds of each were run by hand
    while (bench.timeNs < 1500 * MS) {
      bench.advanceTo(bench.timeNs + SAMPLE_NS);
      highestW = Math.max(highestW, reading(bench, "forwardW"));
    }
    // 1453 W at 62 W of drive, and a supply that has not sagged yet gives a little more
    expectWithin(highestW, 1460, 20, "the full drive is reached within a few per cent");
    expect(operated(bench)).toEqual([]);
    expect(protectionLog(bench, "trip", "lockout", "alarm")).toEqual([]);
    expect(bench.events.filter((e) => e.kind === "milestone")).toEqual([]);
  });

  it("two tones make half the carrier's drive and about half its output", () => {
    const bench = benchOf(project(TONES));
    bench.advanceTo(100 * MS);
    const { outputW, driveW } = means(bench, 500); // 25 ms, 30 whole beats
    expectWithin(driveW, 31, 0.01, "half of 62 W; 500 readings spread over 30 beats");
    // 1453 W at 62 W; class B, and two tones' PEP is twice their mean
    expectWithin(outputW, 0.5 * 1453, 0.03 * 1453, "gain bends a little, the supply sags less");
  });

  it("data keeps a steady share", () => {
    const bench = benchOf(project({ do: "signal", signal: "data", powerShare: 0.5 }));
    bench.advanceTo(50 * MS);
    expectWithin(reading(bench, "driveW"), 31, 1e-9, "half of 62 W, rounding");
  });

  it("is quasi-static: the stepped solver sees the same envelope", () => {
    const settled = benchOf(project(TONES));
    const stepped = benchOf(project(TONES));
    for (const bench of [settled, stepped]) bench.advanceTo(50 * MS);
    expect(settled.buffer[MODE_AT]).toBe(0);
    let worstW = 0;
    for (let k = 0; k < 40; k++) {
      stepped.buffer[MODE_AT] = 1;
      for (const bench of [settled, stepped]) bench.advanceTo(bench.timeNs + SAMPLE_NS);
      worstW = Math.max(
        worstW,
        Math.abs(reading(settled, "forwardW") - reading(stepped, "forwardW")),
      );
    }
    // the tank answers with 2 Q/omega = 0.27 us for a loaded Q of 12; the beat's power moves by up to
    // 1453 x pi x 1200 = 5.5e6 W/s: 1.5 W
    expectWithin(worstW, 1.5, 1.5, "the delay by itself, and as much again for the input circuit");
    expect(worstW).toBeGreaterThan(0.1);
  });

  it("gives the same record twice, in one go and in pieces", () => {
    const made = project(PROCESSED, {
      alc: { kind: "output", thresholdW: 1000, attackS: 2e-3, releaseS: 0.5, rangeDb: 20 },
      overshootDb: 3,
    });
    const whole = benchOf(made);
    whole.advanceTo(120 * MS);
    const pieces = benchOf(made);
    for (let ns = 0; ns < 120 * MS; ns += 7_000_003) {
      pieces.advanceTo(ns);
      pieces.restore(pieces.openSnapshot());
      pieces.advanceTo(ns);
    }
    pieces.advanceTo(120 * MS);
    expect(pieces.hash).toBe(whole.hash);
    const other = benchOf(project({ ...PROCESSED, talker: 2 } as Command));
    other.advanceTo(120 * MS);
    expect(other.hash).not.toBe(whole.hash);
  });

  it("a change under key takes effect at its nanosecond", () => {
    const change: ScenarioEntry = { atS: 0.050013, do: "signal", signal: "data", powerShare: 0.25 };
    const bench = benchOf(project(CARRIER, {}, [change]));
    bench.advanceTo(50 * MS);
    expectWithin(reading(bench, "driveW"), 62, 1e-9, "the whole drive");
    bench.advanceTo(50.05 * MS);
    expectWithin(reading(bench, "driveW"), 15.5, 1e-9, "a quarter of 62 W");
    expect(bench.events.filter((e) => e.kind === "command").at(-1)?.atNs).toBe(50_013_000);
  });
});

describe("the exciter's level control", () => {
  const arcAt = 0.1;
  const arc: ScenarioEntry = {
    atS: arcAt,
    do: "placeFault",
    fault: "arc",
    part: "tuningCapacitor",
    severity: 250,
  };
  const blind: ScenarioEntry = {
    atS: 0,
    do: "configureMonitor",
    monitor: "lowGain",
    change: { role: "shadow" },
  };
  const times = { attackS: 2e-3, releaseS: 0.5, rangeDb: 20 } as const;

  it("holds the output at its threshold", () => {
    const alc = { kind: "output", thresholdW: 1200, ...times } as const;
    const bench = benchOf(project(CARRIER, { alc }));
    bench.advanceTo(arcAt * 1e9);
    expectWithin(reading(bench, "forwardW"), 1200, 4, "the supply still sags while it creeps up");
  });

  it.each([
    ["output", { kind: "output", thresholdW: 1200, ...times }],
    ["grid current", { kind: "grid", thresholdA: 0.04, ...times }],
  ] as const)("told by %s, lets the drive rise into an arc", (_, alc) => {
    const bench = benchOf(project(CARRIER, { alc }, [blind, arc]));
    bench.advanceTo(arcAt * 1e9);
    const heldW = reading(bench, "driveW");
    const heldDb = bench.buffer[EXCITER_AT] as number;
    expect(heldW).toBeLessThan(55);
    bench.advanceTo(arcAt * 1e9 + 100 * MS);
    expect(reading(bench, "arcW")).toBeGreaterThan(100);
    expect(reading(bench, "driveW")).toBeGreaterThan(heldW);
    const left = (bench.buffer[EXCITER_AT] as number) / heldDb;
    expect(left).toBeLessThan(0.9);
    // output is as good as gone: a fifth of the release time leaves e^-0.2 = 0.81873. Grid current has only fallen
    // under its threshold, and the drive is given back as far as that
    if (alc.kind === "output") expectWithin(left, 0.81873, 0.01, "the strike's sample");
  });

  it("of none and no overshoot leave the drive as the knob has it", () => {
    const bench = benchOf(project(CARRIER));
    bench.advanceTo(50 * MS);
    expect(bench.buffer[EXCITER_AT]).toBe(0);
    expectWithin(reading(bench, "driveW"), 62, 1e-9, "rounding");
  });
});

describe("overshoot of the exciter", () => {
  it("comes with each key-down, 2.06 dB high under the shaped edge, and trips nothing", () => {
    const again: readonly ScenarioEntry[] = [
      { atS: 0.1, do: "key", down: false },
      { atS: 0.2, do: "key", down: true },
    ];
    const bench = benchOf(project(CARRIER, { overshootDb: 3 }, again));
    const peaks = [0, 0];
    while (bench.timeNs < 300 * MS) {
      bench.advanceTo(bench.timeNs + SAMPLE_NS);
      const k = bench.timeNs < 150 * MS ? 0 : 1;
      peaks[k] = Math.max(peaks[k] as number, reading(bench, "driveW"));
    }
    // 62 W x 1.606 by hand: 0.9980 of the edge times 1 + 0.99526 e^-0.49 at 4.9 ms
    for (const peak of peaks) expectWithin(peak, 99.6, 0.2, "hand figure, three digits");
    expectWithin(reading(bench, "driveW"), 62, 0.01, "62 e^-9.5 is left of 62 W more");
    expect(operated(bench)).toEqual([]);
  });
});
