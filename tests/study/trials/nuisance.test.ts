/** False trips on ordinary use: what is counted, what is shown, and that each opens on the bench where it was counted. */
import { describe, expect, it } from "vitest";
import { SpeechEnvelope } from "../../../src/physics/exciter/speech";
import { defaultProject } from "../../../src/project/defaults";
import type { MonitorDef } from "../../../src/project/protection";
import type { Project } from "../../../src/project/types";
import { runUse } from "../../../src/study/trials/nuisance";
import type { NuisanceOutcome, NuisanceSummary } from "../../../src/study/trials/nuisanceSummary";
import { planTrial } from "../../../src/study/trials/planTrial";
import { quickRun } from "../../../src/study/trials/quickMapRun";
import { drained } from "../../../src/study/trials/steps";
import type { Plain, Trial } from "../../../src/study/trials/trial";
import { protectionLog } from "../../support/benchLog";
import { benchOf } from "../../support/cases";
import { expectWithin } from "../../support/expectWithin";

type NuisanceTrial = Trial<NuisanceOutcome, NuisanceSummary>;

function planned(
  options: { readonly [name: string]: Plain },
  project = defaultProject([]),
): NuisanceTrial {
  const plan = planTrial({ kind: "nuisance", project, seed: 1, options });
  if (!plan.ok) throw new Error(plan.problem);
  return plan.trial as unknown as NuisanceTrial;
}

function withLowGain(project: Project, change: (m: MonitorDef) => MonitorDef): Project {
  const monitors = project.monitors.map((m) => (m.id === "lowGain" ? change(m) : m));
  return { ...project, monitors };
}

/** Picks up 0.8 dB under what is expected, at once. */
function touchy(m: MonitorDef): MonitorDef {
  const timing = { kind: "definite", delayS: 0 } as const;
  return { ...m, criteria: m.criteria.map((c) => ({ ...c, pickup: -0.8, dropOff: -0.4, timing })) };
}

describe("detectors with different time constants", () => {
  const TALKER = 3;
  const SYLLABLE_S = 0.2;
  const SYLLABLES = 12;

  /** Syllables in which the unsmoothed gain ratio falls 0.8 dB under what is expected. */
  function dipped(outputTimeConstantS: number): ReadonlySet<number> {
    const base = defaultProject([
      { atS: 0, do: "signal", signal: "speech", talker: TALKER },
      { atS: 0, do: "key", down: true },
    ]);
    const lowGain = base.monitors.find((m) => m.id === "lowGain") as MonitorDef;
    const { sensors } = base;
    const outputForwardW = { ...sensors.outputForwardW, timeConstantS: outputTimeConstantS };
    const outcome = quickRun(
      { ...base, endS: SYLLABLES * SYLLABLE_S, sensors: { ...sensors, outputForwardW } },
      { variants: [{ ...touchy(lowGain), id: "dip", smoothingS: 0, role: "shadow", alarm: null }] },
    );
    if (!outcome.ok) throw new Error(outcome.reason);
    const dips = outcome.operations.filter((o) => o.monitor === "dip");
    return new Set(dips.map((o) => Math.floor(o.atS / SYLLABLE_S)));
  }

  it("make the gain ratio dip on every stressed syllable, and equal ones on none", () => {
    const speech = new SpeechEnvelope();
    const stressed: number[] = [];
    for (let k = 0; k < SYLLABLES; k++) {
      let most = 0;
      for (let ms = 0; ms < 200; ms++) most = Math.max(most, speech.at(TALKER, k * 2e8 + ms * 1e6));
      if (most > 0.9) stressed.push(k);
    }
    expect(stressed.length).toBeGreaterThan(1);
    const unequal = dipped(0.5e-3);
    for (const k of stressed) expect(unequal.has(k), `syllable ${k}`).toBe(true);
    expect([...dipped(0.2e-3)]).toEqual([]);
  });
});

describe("a nuisance trial", () => {
  it("gives each hour its cases, in shares of the uses, and the exceptions beside", () => {
    const trial = planned({ hours: 1 });
    const words = Array.from({ length: trial.count }, (_, i) => trial.labelOf(i));
    const begun = (word: string): number => words.filter((w) => w.startsWith(word)).length;
    const reason = "of 120 half minutes, ends rounded to whole ones";
    expectWithin(begun("speech;"), 0.32 * 120, 1, reason);
    expectWithin(begun("Morse"), 0.26 * 120, 1, reason);
    const apart = 4 + 3 * 8; // tuning up in operate mode; three conditions at eight phases
    expect(trial.count).toBe(120 + apart);
    expect(planned({ hours: 1, exceptions: false }).count).toBe(120);
    expect(planned({ hours: 1 }).labelOf(7)).toBe(words[7]);
  });

  it("counts with the exact interval, over what has been run so far", () => {
    const trial = planned({ hours: 2, exceptions: false });
    const quiet: NuisanceOutcome = {
      seconds: 30,
      notRun: "",
      engine: "quick",
      reason: "",
      trips: [],
      shadow: [],
      alarms: [],
    };
    const half = trial.summarise(Array.from({ length: 120 }, () => quiet));
    expect(half.casesRun).toBe(120);
    expectWithin(half.hours, 1, 1e-12, "120 half minutes");
    // no event: 3.689 at 95 % two-sided; Garwood 1936, table (from memory)
    expectWithin(half.all?.high ?? 0, 3.689, 5e-4, "half a unit in the last printed digit");
    const once = { ...quiet, trips: [{ monitor: "lowGain", atS: 3 }] };
    const one = trial.summarise([once, null, ...Array.from({ length: 119 }, () => quiet)]);
    const lowGain = one.monitors.find((m) => m.id === "lowGain");
    // one event: 0.0253 to 5.572; the same table
    expectWithin(lowGain?.low ?? 0, 0.0253, 5e-5, "half a unit in the last printed digit");
    expectWithin(lowGain?.high ?? 0, 5.572, 5e-4, "half a unit in the last printed digit");
    expect(one.trips).toEqual([{ index: 0, label: trial.labelOf(0), monitor: "lowGain", atS: 3 }]);
  });

  it("credits no quiet time to a case whose bench cannot be built, and says so", () => {
    const project = defaultProject([]);
    const { station } = project;
    const tank = { ...station.tank, bands: [] } as unknown as Project["station"]["tank"];
    const use = { ...project, endS: 30, station: { ...station, tank } };
    const broken = drained(runUse(use, new Map()));
    expect(broken).toMatchObject({ seconds: 0, notRun: "the tank has no bands", trips: [] });
    const trial = planned({ hours: 1, exceptions: false });
    const quiet = { ...broken, seconds: 30, notRun: "" };
    const summary = trial.summarise(
      Array.from({ length: trial.count }, (_, i) => (i === 5 ? broken : quiet)),
    );
    expect(summary).toMatchObject({ cases: 120, casesRun: 119, notRun: 1 });
    expectWithin(summary.hours, 119 / 120, 1e-12, "119 half minutes");
    expect(summary.problems).toEqual([
      { index: 5, label: trial.labelOf(5), problem: "the tank has no bands" },
    ]);
    expect(trial.summarise([broken]).all).toBeNull();
  });

  it("opens a false trip on the bench, which trips there at the same scan", () => {
    const project = withLowGain(defaultProject([]), touchy);
    const options = {
      uses: ["speech"],
      conditions: ["asDesigned"],
      detectors: "unmatched",
      smoothing: "none",
      exceptions: false,
    };
    const trial = planned({ ...options, hours: 0.01 }, project);
    const moment = trial.openOnBench(0);
    if (moment === null) throw new Error("nothing to open");
    expect(moment.atNs).toBeGreaterThan(0);
    const bench = benchOf(moment.project);
    bench.advanceTo(moment.atNs + 1_000_000);
    const trips = protectionLog(bench, "trip").map((e) => [e.event.monitorId, e.atNs]);
    expect(trips).toEqual([["lowGain", moment.atNs]]);
  });

  it("says which option is wrong and what it may be", () => {
    const problem = (options: { readonly [name: string]: Plain }): string => {
      const plan = planTrial({ kind: "nuisance", project: defaultProject([]), seed: 1, options });
      return plan.ok ? "" : plan.problem;
    };
    expect(problem({ hours: -1 })).toMatch(/options\.hours/);
    expect(problem({ uses: ["singing"] })).toMatch(/speech, processedSpeech, morse/);
    expect(problem({ detectors: "odd" })).toMatch(/matched or unmatched/);
  });
});
