/** Coordination sheets: each figure held to one worked out beside it, and to the laws a sheet has to keep. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { METALS } from "../../src/physics/heat/metals";
import { createPlateEdge } from "../../src/physics/heat/plateEdge";
import { defaultProject } from "../../src/project/defaults";
import type { MonitorDef } from "../../src/project/protection";
import type { Project } from "../../src/project/types";
import { createBench } from "../../src/simulation/bench";
import {
  Coordination,
  SheetBuilder,
  type StressPoint,
} from "../../src/study/coordination/coordinate";
import { LONGEST_MELT_S, meltTimes } from "../../src/study/coordination/damageTime";
import { MULTIPLES, OPERATE_S } from "../protection/curves/publishedTimes";
import { criterion, monitor } from "../protection/monitorSamples";
import { expectWithin } from "../support/expectWithin";
import { fixedRuns } from "../support/properties";

const project = defaultProject();
const coordination = coordinationOf(project);

function coordinationOf(of: Project): Coordination {
  const made = Coordination.of(of);
  if (!made.ok) throw new Error(made.problem);
  return made.coordination;
}

function withMonitors(monitors: readonly MonitorDef[]): Coordination {
  return coordinationOf({ ...project, monitors });
}

function monitorAt(point: StressPoint, id: string) {
  const found = point.monitors[project.monitors.findIndex((m) => m.id === id)];
  if (found === undefined) throw new Error(`no monitor ${id}`);
  return found;
}

function damageAt(point: StressPoint, part: string, milestone = "damage"): number {
  return (
    point.damage.find((d) => d.part === part && d.milestone === milestone)?.nominalS ?? Infinity
  );
}

describe("when a monitor operates on a constant stress", () => {
  const at1p5 = coordination.pointAt("plateCurrent", 1.5);

  it("timed plate overcurrent: detector, scan, confirmation, by hand", () => {
    const { earliestS, latestS, clearS } = monitorAt(at1p5, "plateTimed");
    // 0.3 ms detector from 0.815 A towards 1.5 A passes 1.05 A after 0.3 ms x ln(0.685/0.45) = 0.126 ms: at the sample
    // of 0.15 ms; then up to a scan of 1 ms, and 2 s
    expectWithin(earliestS ?? 0, 2.00015, 5e-5, "one sample");
    expectWithin(latestS ?? 0, 2.0011, 1.5e-4, "one sample less than a scan later");
    // cathode cut-off, 0.1 ms, acts before drive inhibit
    expectWithin((clearS?.nominal ?? 0) - (latestS ?? 0), 1e-4, 1e-9, "the actuator's delay");
  });

  it("a comparator passes its pickup by the tap's filter alone", () => {
    const { latestS } = monitorAt(coordination.pointAt("plateCurrent", 5), "plateInstantaneous");
    // 20 us x ln((5 - 0.815)/(5 - 2))
    expectWithin(
      latestS ?? 0,
      20e-6 * Math.log(4.185 / 3),
      2e-8,
      "plate current of the carrier to 1 mA",
    );
  });

  it("a long smoothing is seen late by no more than a step of 50 ms, and never early", () => {
    const one = criterion({ quantity: "plateCurrentA", pickup: 1.05, dropOff: 1 });
    for (const smoothingS of [1, 1.5, 2]) {
      const smoothed = withMonitors([monitor({ smoothingS, criteria: [one] })]);
      const [m] = smoothed.pointAt("plateCurrent", 1.5).monitors;
      // first order from the carrier's 0.815 A towards 1.5 A: passes 1.05 A after 0.42 of its time constants
      const passesS = smoothingS * Math.log(0.685 / 0.45);
      // the carrier to 1 mA, two converter steps of 0.6 mA: 3 mA of 450 mA
      const spreadS = 0.007 * smoothingS;
      expect(m?.earliestS ?? 0).toBeGreaterThanOrEqual(passesS - spreadS);
      expect(m?.latestS ?? Infinity).toBeLessThanOrEqual(passesS + spreadS + 0.05 + 2e-3);
    }
  });

  it("what does not operate is a result", () => {
    expect(monitorAt(at1p5, "plateInstantaneous")).toMatchObject({ latestS: null, clearS: null });
    expect(at1p5.monitors).toHaveLength(project.monitors.length);
  });

  it("who operates on the healthy carrier clears nothing", () => {
    const one = criterion({ quantity: "plateCurrentA", pickup: 0.7, dropOff: 0.6 });
    const [m] = withMonitors([monitor({ criteria: [one] })]).pointAt("plateCurrent", 3).monitors;
    expect(m).toMatchObject({ latestS: 0, clearS: null });
  });

  it("an inverse curve keeps the published times through detector and scan", () => {
    const timing = { kind: "inverse", curve: "iecC", timeMultiplier: 0.01 } as const;
    const pickup = 0.9;
    const one = criterion({ quantity: "plateCurrentA", pickup, dropOff: 0.95 * pickup, timing });
    const inverse = withMonitors([monitor({ criteria: [one] })]);
    for (const multiple of [1.5, 2] as const) {
      const seconds = 0.01 * (OPERATE_S.iecC[MULTIPLES.indexOf(multiple)] as number);
      const [m] = inverse.pointAt("plateCurrent", pickup * multiple).monitors;
      expectWithin(
        m?.latestS ?? 0,
        seconds,
        4e-3 + 0.003 * seconds,
        "two scans and five detector constants; a step of the 12-bit converter is 0.07 % of 0.9 A",
      );
    }
  });

  it("an arc's sheet agrees with the bench that strikes the same arc", () => {
    const atNs = 40_370_000;
    const made = createBench(
      { ...project, scenario: [{ atS: 0, do: "key", down: true }] },
      { protection: "inhibited" },
    );
    if (!made.ok) throw new Error(made.problem);
    const { bench } = made;
    bench.schedule(atNs, {
      do: "placeFault",
      fault: "arc",
      part: "tuningCapacitor",
      severity: 250,
    });
    bench.advanceTo(atNs + 8e6);
    const operate = bench.events.find(
      (e) =>
        e.kind === "protection" && e.event.kind === "operate" && e.event.monitorId === "lowGain",
    );
    const benchS = ((operate?.atNs ?? 0) - atNs) / 1e9;
    const point = coordination.pointAt("arcAtTuningCapacitor", 250);
    const { earliestS, latestS } = monitorAt(point, "lowGain");
    // the tank takes some microseconds to hand its energy over: a sample at most
    expect(benchS).toBeGreaterThanOrEqual((earliestS ?? Infinity) - 5e-5);
    expect(benchS).toBeLessThanOrEqual((latestS ?? 0) + 5e-5);
  });
});

describe("when a part is hurt", () => {
  it("the cathode: first-order image of current over rating, by hand", () => {
    // oxide: 20 s, damage at 1.4; from the carrier's 0.815: 20 s x ln((1.9 - 0.815)/(1.9 - 1.4))
    const point = coordination.pointAt("plateCurrent", 1.9);
    expectWithin(damageAt(point, "cathode"), 20 * Math.log(1.085 / 0.5), 0.05, "carrier to 1 mA");
  });

  it("a supply short: the mains feed the surge resistor and the test wire, by Ohm's law", () => {
    const point = coordination.pointAt("supplyShort", 20);
    // from the carrier's 3054 V behind 10 + 20 ohm, then 3180 V (bleeder counted) behind 180 ohm
    expectWithin(
      point.facts?.plateCurrentA ?? 0,
      3054 / 30,
      2.5,
      "tube current beside it, a first sample's curvature",
    );
    const feedA = 3180 / 180;
    const dischargeJ = 0.5 * 40e-6 * 3054 * 3054;
    // 500 J at once destroy it, less what the carrier has warmed it by: 0.815 A squared x 10 ohm of 25 W
    const leftJ = 500 * (1 - (0.815 * 0.815 * 10) / 25) - dischargeJ / 3;
    const surgeS = leftJ / (feedA * feedA * 10);
    expectWithin(
      damageAt(point, "surgeResistor"),
      surgeS,
      0.08 * surgeS,
      "20 s of cooling, tube current beside the short",
    );
    // No. 30 AWG melts at 216.2 A2s (Onderdonk, constants as commonly published); the discharge gives E / R of it
    const wireS = (216.2 - dischargeJ / 30) / (feedA * feedA);
    expectWithin(damageAt(point, "testWire"), wireS, 0.03 * wireS, "tube current beside the short");
    // nothing scanned ends it: only those that open the contactor count
    expect(monitorAt(point, "gridTimed").clearS).toBeNull();
    expect(monitorAt(point, "plateInstantaneous").clearS?.nominal).toBeGreaterThan(25e-3);
  });

  it("more plate current never hurts later", () => {
    const xs = [1.2, 1.5, 2, 3, 5, 10];
    const points = xs.map((x) => coordination.pointAt("plateCurrent", x));
    for (const part of ["cathode", "anode", "surgeResistor", "plateChoke"]) {
      const times = points.map((p) => damageAt(p, part));
      expect(times).toEqual([...times].sort((a, b) => b - a));
      expect(times.at(-1)).toBeLessThan(100);
    }
  });

  it("more arc power never melts later, and the early estimate is the early one", () => {
    const { erosion, tuningCapacitor } = project.station;
    const edgeOf = (variant: "early" | "nominal") =>
      createPlateEdge({
        thicknessM: tuningCapacitor.plateThicknessM,
        metal: METALS[tuningCapacitor.metal],
        startK: erosion.startK,
        ...erosion[variant],
      });
    const edges = { early: edgeOf("early"), nominal: edgeOf("nominal") };
    fc.assert(
      fc.property(
        fc.double({ min: 300, max: 600, noNaN: true }),
        fc.double({ min: 1, max: 1.5, noNaN: true }),
        (watts, more) => {
          const onset = (edge: keyof typeof edges, w: number): number =>
            meltTimes(edges[edge], w, 2, false).onsetS ?? LONGEST_MELT_S;
          const nominal = onset("nominal", watts);
          expect(onset("nominal", watts * more)).toBeLessThanOrEqual(nominal);
          expect(onset("early", watts)).toBeLessThanOrEqual(nominal);
        },
      ),
      fixedRuns(12),
    );
  });

  it("half a milligram comes after the onset", () => {
    const point = coordination.pointAt("arcAtLoadingCapacitor", 200);
    const [edge] = point.damage;
    expect(edge?.milestone).toBe("onset");
    expect(edge?.earlyS).toBeLessThan(edge?.nominalS ?? 0);
    expect(edge?.nominalS).toBeLessThan(edge?.lateS ?? 0);
    expect(damageAt(point, "loadingCapacitor", "halfMilligram")).toBeGreaterThan(
      edge?.nominalS ?? Infinity,
    );
  });
});

describe("a longer confirmation", () => {
  it("never operates earlier, anywhere on a curve", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 0.2, noNaN: true }), { minLength: 5, maxLength: 5 }),
        (delays) => {
          const sorted = [...delays].sort((a, b) => a - b);
          const family = withMonitors(
            sorted.map((delayS, k) =>
              monitor({
                id: `m${k}`,
                criteria: [
                  criterion({
                    quantity: "plateCurrentA",
                    pickup: 1.1,
                    dropOff: 1,
                    timing: { kind: "definite", delayS },
                  }),
                ],
              }),
            ),
          );
          for (const x of [1.05, 1.11, 1.6]) {
            const { monitors } = family.pointAt("plateCurrent", x);
            for (const bound of ["earliestS", "latestS"] as const) {
              const times = monitors.map((m) => m[bound] ?? Infinity);
              expect(times).toEqual([...times].sort((a, b) => a - b));
            }
            expect(monitors[0]?.latestS === null).toBe(x < 1.1);
          }
        },
      ),
      fixedRuns(3),
    );
  });
});

describe("a sheet built in slices", () => {
  it("covers its axis, looks closer where something begins, and keeps the part's own voltage", () => {
    const timed = withMonitors(project.monitors.filter((m) => m.id === "plateTimed"));
    const builder = new SheetBuilder(timed, "plateCurrent", [0.77], 4);
    while (builder.left > 0) builder.step();
    const { points } = builder.sheet();
    const xs = points.map((p) => p.x);
    expect(xs).toEqual([...xs].sort((a, b) => a - b));
    expectWithin(xs[0] ?? 0, 0.5, 1e-12, "rounding");
    expectWithin(xs.at(-1) ?? 0, 10, 1e-12, "rounding");
    expect(xs).toContain(0.77);
    // timed plate overcurrent begins at 1.05 A: a gap of 10^(1/3) halved four times
    const first = points.find((p) => p.monitors[0]?.latestS != null)?.x ?? 0;
    expectWithin(
      Math.log(first / 1.05),
      0,
      Math.log(20) / 4 / 16,
      "one sixteenth of the even step",
    );
  });

  it("a station that cannot be designed is a problem in words", () => {
    const { station } = project;
    const tank = { ...station.tank, bands: [] } as unknown as Project["station"]["tank"];
    expect(Coordination.of({ ...project, station: { ...station, tank } })).toMatchObject({
      ok: false,
      problem: "the tank has no bands",
    });
  });
});
