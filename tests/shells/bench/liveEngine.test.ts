import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readProject } from "../../../src/formats/projectFile";
import { writeProject } from "../../../src/formats/writeProject";
import { defaultProject } from "../../../src/project/defaults";
import type { Command } from "../../../src/project/scenario";
import { FRAME, FRAME_LENGTH, METER_CHANNELS } from "../../../src/shells/bench/frameLayout";
import type { WorldView } from "../../../src/shells/bench/worldView";
import type { BenchEvent } from "../../../src/simulation/benchEvent";
import { CH, CHANNEL_COUNT } from "../../../src/simulation/channels";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";
import { early, engineOf, hashAt, lookBack, MS, pictureOf, play, STRIKE_NS } from "./engineRig";

const keyed = defaultProject([{ atS: 0, do: "key", down: true }]);
const insect: Command = {
  do: "placeFault",
  fault: "insect",
  part: "tuningCapacitor",
  severity: 1,
};
const shadow: Command = {
  do: "configureMonitor",
  monitor: "lowGain",
  change: { role: "shadow" },
};

describe("live playback", () => {
  it("makes the record of the scenario, whatever the frames and however little each may do", () => {
    const project = early("skerry-light-insect");
    const whole = hashAt(project, 80 * MS);
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 30 * MS }), { minLength: 1, maxLength: 10 }),
        fc.integer({ min: 50, max: 4000 }),
        (steps, samples) => {
          const engine = engineOf(project);
          const frame = new Float64Array(FRAME_LENGTH);
          for (const ns of steps) {
            engine.ask(Math.min(engine.liveNs + ns, 80 * MS), "live", samples, frame);
            engine.work(30);
          }
          while (engine.liveNs < 80 * MS) engine.ask(80 * MS, "live", samples, frame);
          return engine.bench.hash === whole;
        },
      ),
      fixedRuns(4),
    );
  });

  it("stays at most one sample ahead of the play head, and says when it could not keep up", () => {
    const engine = engineOf(keyed);
    const frame = new Float64Array(FRAME_LENGTH);
    engine.ask(123_456, "live", 1e9, frame);
    expect(engine.bench.timeNs).toBe(150_000); // third sample of 50 us holds 123.456 us
    expect(frame[FRAME.playNs]).toBe(123_456);
    expect(frame[FRAME.behind]).toBe(0);
    engine.ask(10 * MS, "live", 20, frame);
    expect(frame[FRAME.behind]).toBe(1);
    expect(frame[FRAME.playNs]).toBe(150_000 + 20 * 50_000);
  });

  it("shows the last recorded point at the play head, never a later one", () => {
    const engine = engineOf(early("skerry-light-insect"));
    let last = -1;
    for (let ns = STRIKE_NS - 20_000; ns < STRIKE_NS + 60_000; ns += 777) {
      const frame = play(engine, ns, 1e9);
      const at = frame[FRAME.pointNs] as number;
      expect(at).toBeLessThanOrEqual(ns);
      expect(at).toBeGreaterThanOrEqual(last);
      last = at;
    }
    // inside the sample of the strike the track's points are shown: 50 ns after the event is the first
    const frame = lookBack(engine, STRIKE_NS + 3_000);
    expect(STRIKE_NS + 3_000 - (frame[FRAME.pointNs] as number)).toBeLessThan(1_000);
  });

  it("tells no event before its instant", () => {
    const engine = engineOf(early("skerry-light-insect"));
    const seen: BenchEvent[] = [];
    for (let ns = STRIKE_NS - 100_000; ns < STRIKE_NS + 6 * MS; ns += 23_000) {
      play(engine, ns, 1e9);
      const batch = engine.takeEvents();
      if (batch === null) continue;
      expect(batch.from).toBe(seen.length);
      for (const e of batch.events) expect(e.atNs).toBeLessThanOrEqual(ns);
      seen.push(...batch.events);
    }
    expect(seen.map((e) => e.kind)).toContain("faultZero");
    expect(seen).toEqual(engine.bench.events.slice(0, seen.length));
  });
});

describe("a command of a person", () => {
  it("is logged at the instant that was seen, also when the frame after it was already made", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40 * MS }), (backNs) => {
        const engine = engineOf(keyed);
        play(engine, 71 * MS);
        const atNs = 71 * MS - backNs;
        expect(engine.act(atNs, insect)).toEqual({ ok: true, atNs });
        play(engine, 90 * MS);
        const scenario = [...keyed.scenario, { atS: atNs / 1e9, ...insect }];
        return engine.bench.hash === hashAt({ ...keyed, scenario }, 90 * MS);
      }),
      fixedRuns(8),
    );
  });

  it("is refused where it is long past or makes no sense, and changes nothing", () => {
    const engine = engineOf(keyed);
    play(engine, 700 * MS);
    const before = engine.bench.hash;
    const late = engine.act(100 * MS, insect);
    expect(late.ok).toBe(false);
    const wild = engine.act(700 * MS, { do: "set", control: "driveW", value: Number.NaN });
    expect(wild.ok).toBe(false);
    expect(engine.bench.hash).toBe(before);
    expect(engine.bench.entries).toHaveLength(1);
  });

  it("replaces events that were told already", () => {
    const engine = engineOf(early("skerry-light-insect"));
    const told: BenchEvent[] = [];
    const take = (): void => {
      const batch = engine.takeEvents();
      if (batch === null) return;
      told.length = batch.from;
      told.push(...batch.events);
    };
    play(engine, STRIKE_NS + 2 * MS);
    take();
    engine.act(STRIKE_NS - 4 * MS, { do: "key", down: false });
    take();
    play(engine, STRIKE_NS + 9 * MS);
    take();
    expect(told.some((e) => e.kind === "faultZero")).toBe(false); // no RF, no strike
    expect(told).toEqual(engine.bench.events);
  });
});

describe("looking back", () => {
  it("shows the frame that was shown live, number for number", () => {
    const engine = engineOf(early("low-gain-in-shadow"));
    const shown: { ns: number; picture: readonly number[]; world: WorldView | null }[] = [];
    let world: WorldView | null = null;
    for (let ns = 1; ns < 130 * MS; ns += 1_666_777) {
      const frame = play(engine, ns, 1e9);
      world = engine.takeWorld() ?? world;
      shown.push({ ns, picture: pictureOf(frame), world });
    }
    for (const { ns, picture, world: then } of [...shown].reverse()) {
      const frame = lookBack(engine, ns);
      expect(pictureOf(frame)).toEqual(picture);
      const now = engine.takeWorld();
      if (now !== null) expect(now).toEqual(then);
    }
    // and forwards, in slices
    for (const { ns, picture } of shown)
      expect(pictureOf(lookBack(engine, ns, 7))).toEqual(picture);
  });

  it("beyond the full record works the same sample out again", () => {
    const engine = engineOf(keyed);
    const live = pictureOf(play(engine, 33 * MS));
    // with the key open, 10.2 s later the sample is no longer held at full rate
    engine.act(33 * MS, { do: "key", down: false });
    play(engine, 10_233 * MS, 500 * MS);
    expect(engine.bench.recorder.oldestSample).toBeGreaterThan(33 * 20);
    expect(pictureOf(lookBack(engine, 33 * MS))).toEqual(live);
    expect(engine.snapshotCount).toBeLessThan(120);
  });

  it("makes nothing and changes nothing", () => {
    const engine = engineOf(early("skerry-light-insect"));
    play(engine, 70 * MS);
    const { hash } = engine.bench;
    for (const ns of [0, 5 * MS, STRIKE_NS, 69 * MS, 1e12, -5]) lookBack(engine, ns);
    expect(engine.bench.hash).toBe(hash);
    expect(engine.liveNs).toBe(70 * MS);
  });
});

describe("a new run from the past", () => {
  it("is the scenario up to there with what is done after, and the plan where it is kept", () => {
    const project = early("skerry-light-insect");
    for (const keep of ["nothing", "planned"] as const) {
      const engine = engineOf(project);
      play(engine, 75 * MS);
      engine.branch(40 * MS, keep);
      expect(engine.act(40 * MS, shadow).ok).toBe(true);
      play(engine, 85 * MS);
      const planned = project.scenario.filter((e) => keep === "planned" || e.atS < 0.04);
      const scenario = [...planned, { atS: 0.04, ...shadow }].sort((a, b) => a.atS - b.atS);
      expect(engine.bench.hash).toBe(hashAt({ ...project, scenario }, 85 * MS));
    }
  });

  it("leaves the old one to be taken up again, bit for bit", () => {
    const engine = engineOf(early("skerry-light-insect"));
    play(engine, 72_130_000);
    const first = engine.bench.hash;
    engine.branch(50 * MS, "planned", "low gain in shadow");
    engine.act(50 * MS, shadow);
    play(engine, 90 * MS);
    const second = engine.bench.hash;
    const frame = new Float64Array(FRAME_LENGTH);
    expect(engine.switchTo(0)).toBe(true);
    while (engine.isReplaying) engine.ask(0, "live", 100, frame);
    expect(frame[FRAME.playNs]).toBe(72_130_000);
    expect(engine.bench.hash).toBe(first);
    expect(engine.switchTo(1)).toBe(true);
    while (engine.isReplaying) engine.ask(0, "live", 1000, frame);
    expect(engine.bench.hash).toBe(second);
    expect(engine.switchTo(7)).toBe(false);
    const { current, branches } = engine.branchViews();
    expect(current).toBe(1);
    expect(branches.map((b) => [b.id, b.name, b.parent, b.forkNs, b.headNs])).toEqual([
      [0, "first run", -1, 0, 72_130_000],
      [1, "low gain in shadow", 0, 50 * MS, 90 * MS],
    ]);
  });
});

describe("a session as a file", () => {
  it("holds what was done at its exact instant, and makes the same record", () => {
    const engine = engineOf(keyed);
    play(engine, 30 * MS);
    engine.act(29_876_543, { do: "set", control: "driveW", value: 40 });
    play(engine, 61 * MS);
    engine.act(61 * MS, insect);
    play(engine, 80 * MS);
    const reading = readProject(writeProject(engine.exportProject()));
    if (!reading.ok) throw new Error(reading.problems[0]?.message);
    expect(reading.project.scenario.map((e) => Math.round(e.atS * 1e9))).toEqual([
      0, 29_876_543, 61_000_000,
    ]);
    expect(hashAt(reading.project, 80 * MS)).toBe(engine.bench.hash);
  });
});

describe("what runs ahead of the play head", () => {
  it("tells the race of a fault that was left alone, long before live gets there", () => {
    const engine = engineOf(early("skerry-light-insect"));
    play(engine, STRIKE_NS + 12 * MS); // cleared at 4 ms is said 5 ms later
    const { hash } = engine.bench;
    const report = (() => {
      for (let n = 0; n < 100; n++) {
        engine.work(100);
        const race = engine.takeRace();
        if (race !== null && race.aloneReachedNs > STRIKE_NS + 300 * MS) return race;
      }
      throw new Error("no report");
    })();
    expect(report.race.firstTrip?.id).toBe("lowGain");
    expect(report.race.clearingS).not.toBeNull();
    const struck = report.race.damage.find((d) => d.struck);
    const earlyS = struck?.onsetUnprotectedEarlyS ?? Number.NaN;
    // the estimates of the early edge are the hotter ones
    expect(earlyS).toBeGreaterThan(0);
    expect(earlyS).toBeLessThan(struck?.onsetUnprotectedS ?? Infinity);
    expect(report.aloneEdge.fractions[1]?.at(-1)).toBeGreaterThanOrEqual(
      report.aloneEdge.fractions[2]?.at(-1) ?? 0,
    );
    expect(report.before[CH.forwardW]).toBeGreaterThan(1000);
    expect(engine.bench.hash).toBe(hash);
  });

  it("begins anew when something is done after the fault", () => {
    const engine = engineOf(early("low-gain-in-shadow"));
    play(engine, STRIKE_NS + 5 * MS);
    for (let n = 0; n < 5; n++) engine.work(100);
    engine.takeRace();
    engine.act(STRIKE_NS + 5 * MS, { do: "set", control: "driveW", value: 20 });
    engine.work(40);
    const report = engine.takeRace();
    expect(report?.aloneReachedNs).toBeLessThan(STRIKE_NS + 3 * MS);
  });

  it("forecasts the chosen fault while nothing has struck", () => {
    const engine = engineOf(keyed);
    play(engine, 60 * MS);
    const { hash } = engine.bench;
    engine.choose({ fault: "insect", part: "tuningCapacitor", severity: 1 });
    for (let n = 0; n < 60; n++) engine.work(10);
    engine.choose({ fault: "arc", part: "loadingCapacitor", severity: 160 });
    expect(engine.takeForecast()).toBeUndefined();
    let forecast = engine.takeForecast();
    for (let n = 0; n < 50 && forecast === undefined; n++) {
      engine.work(100);
      forecast = engine.takeForecast();
    }
    expect(forecast?.choice.part).toBe("loadingCapacitor");
    expect(forecast?.standing).toBe("working"); // ten seconds left alone are still to come
    expect(forecast?.report?.race.clearingS).not.toBeNull();
    expect(engine.bench.hash).toBe(hash);
    engine.choose({ fault: "driveInhibitFailed", part: "protection", severity: 1 });
    engine.work(10);
    expect(engine.takeForecast()?.standing).toBe("latent");
  });

  it("says so where the chosen fault would not strike", () => {
    const engine = engineOf(defaultProject());
    play(engine, 10 * MS);
    engine.choose({ fault: "insect", part: "tuningCapacitor", severity: 1 });
    while (engine.work(1000));
    expect(engine.takeForecast()?.standing).toBe("noStrike"); // key open: no RF
  });
});

describe("panel meters", () => {
  it("follow a step with a lag of 0.3 s", () => {
    const engine = engineOf(keyed);
    // drive is at its value 20 ms after the key: 15 ms of T/R sequence and a 5 ms edge
    const frame = play(engine, 320 * MS, 20 * MS);
    const needle = frame[FRAME.meters + METER_CHANNELS.indexOf(CH.plateCurrentA)] as number;
    const value = frame[FRAME.row + CH.plateCurrentA] as number;
    // 1 - exp(-0.3/0.3) = 0.632 of the way
    expectWithin(needle / value, 0.632, 0.01, "the sag of the supply and 2.5 ms of key edge");
  });

  it("hold the peak of forward power for 2 s and then let it fall", () => {
    const engine = engineOf({
      ...keyed,
      scenario: [...keyed.scenario, { atS: 0.1, do: "key", down: false }],
    });
    const peak = play(engine, 100 * MS, 20 * MS)[FRAME.pep] as number;
    expect(peak).toBeGreaterThan(1400);
    const held = play(engine, 1_900 * MS, 200 * MS)[FRAME.pep] as number;
    expectWithin(held, peak, 0.01 * peak, "output may still have risen while the key opened");
    const fallen = play(engine, 2_700 * MS, 200 * MS)[FRAME.pep] as number;
    expect(fallen).toBeLessThan(0.3 * peak);
  });
});

describe("traces in columns", () => {
  it("hold every value of the record between their least and greatest", () => {
    const engine = engineOf(early("skerry-light-insect"));
    play(engine, 90 * MS);
    const row = new Float64Array(CHANNEL_COUNT);
    for (const spanNs of [90 * MS, 9 * MS, 7_200 * MS]) {
      const request = {
        fromNs: 90 * MS - spanNs,
        toNs: 90 * MS,
        columns: 120,
        channels: [CH.forwardW, CH.gridCurrentA],
      };
      const strip = engine.strip(request, 90 * MS);
      for (let k = 0; k < 90 * 20; k++) {
        const endNs = (k + 1) * 50_000;
        const c = Math.floor((endNs - strip.fromNs) / strip.columnNs);
        if (c < 0 || c >= strip.columns) continue;
        engine.bench.recorder.sampleAt(k, row);
        strip.channels.forEach((channel, i) => {
          const v = Math.fround(row[channel] as number);
          expect(v).toBeGreaterThanOrEqual(strip.minima[i * strip.columns + c] as number);
          expect(v).toBeLessThanOrEqual(strip.maxima[i * strip.columns + c] as number);
        });
      }
    }
  });

  it("follow the points of a track where columns are shorter than a sample", () => {
    const engine = engineOf(early("skerry-light-insect"));
    play(engine, STRIKE_NS + 200_000);
    const strip = engine.strip(
      {
        fromNs: STRIKE_NS - 5_000,
        toNs: STRIKE_NS + 15_000,
        columns: 200,
        channels: [CH.plateRfPeakV],
      },
      STRIKE_NS + 20_000,
    );
    const values = new Set([...strip.maxima].map((v) => Math.round(v)));
    // 24 points a decade: 60 between 50 ns and 15 us
    expect(values.size).toBeGreaterThan(20);
  });
});
