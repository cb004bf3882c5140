import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_MONITORS } from "../../src/project/presets/monitors";
import { ALWAYS } from "../../src/project/presets/rules";
import type { Timing } from "../../src/project/protection";
import { SENSOR_NAMES } from "../../src/protection/sensing/sensing";
import type { Situation } from "../../src/protection/situation";
import { fixedRuns } from "../support/properties";
import { criterion, monitor } from "./monitorSamples";
import { ON_AIR, type Readings, Rig } from "./rig";

/** Readings from nothing to full scale, with zero and full scale often. */
const FULL_SCALES: Readonly<Record<(typeof SENSOR_NAMES)[number], number>> = {
  driveForwardW: 250,
  driveReflectedW: 250,
  outputForwardW: 2500,
  outputReflectedW: 1000,
  plateCurrentA: 2.5,
  gridCurrentA: 1,
  plateV: 5000,
  plateRfPeakV: 6000,
  exhaustAirK: 473.15,
  tankLight: 1,
};
const reading = (fullScale: number) =>
  fc.oneof(
    { weight: 1, arbitrary: fc.constantFrom(0, fullScale) },
    { weight: 4, arbitrary: fc.double({ min: 0, max: fullScale, noNaN: true }) },
  );
const readings: fc.Arbitrary<Readings> = fc.record(
  Object.fromEntries(SENSOR_NAMES.map((name) => [name, reading(FULL_SCALES[name])])),
);
const situation: fc.Arbitrary<Partial<Situation>> = fc.record(
  {
    operate: fc.boolean(),
    transmitConfirmed: fc.boolean(),
    mode: fc.constantFrom("operate", "tune"),
    keyDown: fc.boolean(),
  },
  { requiredKeys: [] },
);
/** Some milliseconds of steady readings in some situation. */
const stretch = fc.record({ scans: fc.integer({ min: 1, max: 60 }), readings, situation });
const story = fc.array(stretch, { minLength: 5, maxLength: 25 });
type Story = readonly { scans: number; readings: Readings; situation: Partial<Situation> }[];

function play(rig: Rig, stretches: Story): Rig {
  for (const s of stretches) {
    rig.situation = { ...ON_AIR, ...s.situation };
    rig.run(s.scans * 1e-3, s.readings);
  }
  return rig;
}

/** Fails with the path of the first number that is not finite. */
function expectFinite(value: unknown, path = "state"): void {
  if (typeof value === "number" && !Number.isFinite(value)) expect.fail(`${path} is ${value}`);
  if (typeof value === "object" && value !== null)
    for (const [key, inner] of Object.entries(value)) expectFinite(inner, `${path}.${key}`);
}

describe("any monitor on any readings", () => {
  it("a longer window never trips earlier", () => {
    const scans = fc.array(fc.double({ min: 0, max: 0.4, noNaN: true }), {
      minLength: 30,
      maxLength: 80,
    });
    const firstOperate = (timing: Timing, values: readonly number[]): number => {
      const rig = new Rig([monitor({ role: "shadow", criteria: [criterion({ timing })] })]);
      for (const gridCurrentA of values) rig.run(1e-3, { gridCurrentA });
      return rig.timesOf("operate")[0] ?? Infinity;
    };
    fc.assert(
      fc.property(
        scans,
        fc.integer({ min: 0, max: 4 }),
        fc.integer({ min: 0, max: 4 }),
        (values, n, more) => {
          const definite = (delay: number): Timing => ({ kind: "definite", delayS: delay * 1e-3 });
          expect(firstOperate(definite(n + more), values)).toBeGreaterThanOrEqual(
            firstOperate(definite(n), values),
          );
          const nOfM = (count: number): Timing => ({
            kind: "instantaneous",
            scans: count,
            ofScans: 10,
          });
          expect(firstOperate(nOfM(n + more + 1), values)).toBeGreaterThanOrEqual(
            firstOperate(nOfM(n + 1), values),
          );
          const inverse = (k: number): Timing => ({
            kind: "inverse",
            curve: "iecC",
            timeMultiplier: k * 1e-4,
          });
          expect(firstOperate(inverse(n + more + 1), values)).toBeGreaterThanOrEqual(
            firstOperate(inverse(n + 1), values),
          );
          const thermal = (k: number): Timing => ({ kind: "thermal", timeConstantS: k * 5e-3 });
          const rising = [...values].sort((a, b) => a - b); // a slower image of a falling reading may be the hotter one
          expect(firstOperate(thermal(n + more + 1), rising)).toBeGreaterThanOrEqual(
            firstOperate(thermal(n + 1), rising),
          );
        },
      ),
      fixedRuns(40),
    );
  });

  it("between drop-off and pickup nothing changes its mind", () => {
    fc.assert(
      fc.property(
        fc.boolean(),
        fc.double({ min: 0.1801, max: 0.1999, noNaN: true }),
        (wasOver, gridCurrentA) => {
          const def = monitor({
            criteria: [criterion({ timing: { kind: "definite", delayS: 10 } })],
          });
          const rig = new Rig([def]).run(2e-3, { gridCurrentA: wasOver ? 0.21 : 0.1 });
          const before = rig.state;
          expect(rig.run(0.05, { gridCurrentA }).state).toBe(before); // not even a new object
        },
      ),
      fixedRuns(30),
    );
  });

  it("a gap in the drive shorter than the hold time delays by its length, a longer one discards", () => {
    const arming = {
      ...ALWAYS,
      kind: "onAir",
      driveAboveW: 5,
      settledS: 10e-3,
      holdS: 0.1,
    } as const;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 160 }),
        fc.integer({ min: 1, max: 4 }),
        (gapScans, seen) => {
          const keyed = { driveForwardW: 60, gridCurrentA: 0.3 };
          const rig = new Rig([monitor({ arming })]);
          rig
            .run(10e-3 + seen * 1e-3, keyed)
            .run(gapScans * 1e-3, { driveForwardW: 0 })
            .run(20e-3, keyed);
          // Armed at 11 ms; five scans of confirmation.
          const heldMs = 11 + 5 + gapScans;
          const discardedMs = 10 + seen + gapScans + 1 + 5;
          expect(rig.timesOf("operate")).toEqual([(gapScans <= 100 ? heldMs : discardedMs) / 1e3]);
        },
      ),
      fixedRuns(40),
    );
  });
});

describe("all presets together", () => {
  it("name the same first trip, in whatever order they are polled", () => {
    const orders = fc.shuffledSubarray([...DEFAULT_MONITORS], {
      minLength: DEFAULT_MONITORS.length,
    });
    const summary = (rig: Rig) => ({
      firstUp: rig.state.firstUp,
      events: rig.events.map((e) => JSON.stringify(e)).sort(),
    });
    fc.assert(
      fc.property(story, orders, (stretches, order) => {
        expect(summary(play(new Rig(order), stretches))).toEqual(
          summary(play(new Rig(DEFAULT_MONITORS), stretches)),
        );
      }),
      fixedRuns(30),
    );
  });

  it("go on from a snapshot as if nothing had happened", () => {
    fc.assert(
      fc.property(story, story, (before, after) => {
        const rig = play(new Rig(DEFAULT_MONITORS), before);
        const restored = new Rig(DEFAULT_MONITORS);
        restored.state = structuredClone(rig.state);
        restored.row.set(rig.row);
        restored.sample = rig.sample;
        const seen = rig.events.length;
        play(rig, after);
        play(restored, after);
        expect(restored.state).toEqual(rig.state);
        expect(restored.events).toEqual(rig.events.slice(seen));
      }),
      fixedRuns(30),
    );
  });

  it("evaluate the same with everything inhibited, up to the first trip", () => {
    fc.assert(
      fc.property(story, (stretches) => {
        const acting = play(new Rig(DEFAULT_MONITORS), stretches);
        const twin = play(
          new Rig(DEFAULT_MONITORS),
          stretches.map((s) => ({ ...s, situation: { ...s.situation, inhibited: true } })),
        );
        const end = acting.timesOf("trip")[0] ?? Infinity;
        const upTo = (rig: Rig) =>
          rig.events.filter(
            (e) =>
              e.atNs / 1e9 <= end &&
              e.kind !== "trip" &&
              e.kind !== "lockout" &&
              !e.kind.startsWith("keyDown"),
          );
        expect(upTo(twin)).toEqual(upTo(acting));
        expect(twin.held().filter((a) => a !== "driveInhibit")).toEqual([]);
      }),
      fixedRuns(20),
    );
  });

  it("stay finite and plain through ten thousand scans of random readings", () => {
    const long = fc.array(stretch, { minLength: 330, maxLength: 330 });
    fc.assert(
      fc.property(long, (stretches) => {
        const rig = new Rig(DEFAULT_MONITORS);
        for (let k = 0; k < stretches.length; k += 10) {
          play(rig, stretches.slice(k, k + 10));
          expectFinite(rig.state);
          expect(JSON.parse(JSON.stringify(rig.state))).toEqual(rig.state);
        }
        expectFinite(rig.events, "events");
        expect(rig.nowNs).toBeGreaterThan(0);
      }),
      fixedRuns(2),
    );
  });
});
