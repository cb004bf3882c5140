/** What watches a station whose file names no monitors: the presets, at levels that follow it, and the file says so. */
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { writeProject } from "../../src/formats/writeProject";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { DEFAULT_MONITORS } from "../../src/project/presets/monitors";
import { DEFAULT_SENSORS } from "../../src/project/presets/sensors";
import type { SensorName } from "../../src/project/protection";
import type { Station } from "../../src/project/station";
import type { Project } from "../../src/project/types";
import { operatingPoint } from "../../src/simulation/operatingPoint";
import { withPresetsFollowing } from "../../src/study/stationPresets";
import { operated } from "../support/benchLog";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

/** A kilowatt of two glass triodes: their grids draw 240 mA at full drive (two columns of typical operation). */
const PAIR = {
  freqHz: 7.1e6,
  tube: { kind: "registered", type: "3-500Z", count: 2 },
  bias: { cathodeV: 0 },
  supply: { kind: "rectified", noLoadV: 2700 },
  tank: { kind: "designedPi", plateLoadOhm: 1725 },
};

function read(members: object): { project: Project; notices: readonly string[] } {
  const text = JSON.stringify({ format: "quietarc-project", schemaVersion: 1, ...members });
  const reading = readProject(text);
  if (!reading.ok) throw new Error(reading.problems[0]?.message);
  return { project: reading.project, notices: reading.notices.map((n) => n.message) };
}

function pickup(project: Project, id: string): number {
  return project.monitors.find((m) => m.id === id)?.criteria[0]?.pickup ?? Number.NaN;
}

describe("a file that names no monitors", () => {
  it("has the presets follow its station, and says so and what they cannot protect", () => {
    const { project, notices } = read({ station: PAIR });
    expect(notices[0]).toMatch(/names no monitors: the presets watch/);
    expect(notices.slice(1).join()).toMatch(/full drive passes the rating of grid current/);
    const point = operatingPoint(project.station);
    if (!point.ok) throw new Error("no operating point");
    // its grid current at full drive is no fault: the pickup stands above it, and the meters reach it
    expect(pickup(project, "gridTimed")).toBeGreaterThan(point.point.gridCurrentA);
    expect(project.sensors).not.toEqual(DEFAULT_SENSORS);
    // the demonstration's levels take it off the air within 0.15 s (tests of the presets): drive, then 100 ms of confirmation
    const keyed = { ...project, scenario: [{ atS: 0, do: "key", down: true } as const] };
    const bench = benchOf(keyed);
    bench.advanceTo(0.15e9);
    expect(operated(bench)).toEqual([]);
  });

  it("is asked about 50 ohm, whatever hangs on the connector or burns", () => {
    const plain = read({ station: PAIR }).project.monitors;
    const load = { kind: "admittance", conductanceSiemens: 2e-5 };
    const arc = { place: "loadingCapacitor" };
    expect(read({ station: { ...PAIR, load, arc } }).project.monitors).toEqual(plain);
  });

  it("has the demonstration's presets on the demonstration's station, without a word", () => {
    const { project, notices } = read({ station: { site: { altitudeM: 100 } } });
    expect(project.monitors).toEqual(DEFAULT_MONITORS);
    expect(notices).toEqual([]);
    expect(read({}).project.monitors).toEqual(DEFAULT_MONITORS);
  });

  it("keeps sensors of its own, and monitors of its own without any following", () => {
    const own = read({ station: PAIR, sensors: { gridCurrentA: { fullScale: 0.7 } } }).project;
    expectWithin(own.sensors.gridCurrentA.fullScale, 0.7, 0, "as the file has it");
    const watched = read({ station: PAIR, monitors: [{ id: "gridTimed" }] });
    expect(watched.notices).toEqual([]);
    expect(watched.project.monitors).toHaveLength(1);
    expectWithin(pickup(watched.project, "gridTimed"), 0.15, 1e-12, "the preset's own level");
  });
});

/** Four of the registered glass triodes, 400 mA and 500 W each, driven by 240 W: fast grid overcurrent at over 1 A. */
const FOUR = {
  ...PAIR,
  exciter: { availableW: 240 },
  tube: { kind: "registered", type: "3-500Z", count: 4 },
  tank: { kind: "designedPi", plateLoadOhm: 862 },
};

describe("sensors of a file that names no monitors", () => {
  it("follow its station but for the full scales it gives", () => {
    const plain = read({ station: FOUR }).project;
    const sensors = { plateCurrentA: { gainError: 0.01 }, plateV: { fullScale: 4000 } };
    const { project, notices } = read({ station: FOUR, sensors });
    expect(notices).toEqual(read({ station: FOUR }).notices);
    expect(project.monitors).toEqual(plain.monitors);
    expect(project.sensors).toEqual({
      ...plain.sensors,
      plateCurrentA: { ...plain.sensors.plateCurrentA, gainError: 0.01 },
      plateV: { ...plain.sensors.plateV, fullScale: 4000 },
    });
    for (const { path, criteria } of project.monitors)
      for (const { quantity, side, pickup: level } of criteria)
        if (path === "scanned" && side === "over" && quantity in project.sensors)
          expect(level).toBeLessThan(project.sensors[quantity as SensorName].fullScale);
    // a tap of its own is the file's word as well
    const tap = read({ station: FOUR, sensors: { comparatorTap: { fullScaleA: 12 } } }).project;
    expect(tap.sensors).toEqual({
      ...plain.sensors,
      comparatorTap: { ...plain.sensors.comparatorTap, fullScaleA: 12 },
    });
  });

  it("are named where a level lies beyond what they read", () => {
    const sensors = { gridCurrentA: { fullScale: 1 }, comparatorTap: { fullScaleA: 2 } };
    const { notices } = read({ station: FOUR, sensors });
    expect(notices.filter((n) => n.includes("never"))).toEqual([
      expect.stringMatching(
        /^Grid overcurrent, fast waits for grid current over 1\.\d+.A and the reading ends at 1\.0*.A \(sensors\.gridCurrentA\.fullScale\): it never picks up$/,
      ),
      expect.stringMatching(/^Plate overcurrent, instantaneous .*comparatorTap.*never picks up$/),
    ]);
  });
});

describe("a level beyond its sensor's full scale", () => {
  const never = (members: object): readonly string[] =>
    read(members).notices.map((n) => n.replaceAll("\u00a0", " "));
  const CRITERION = { side: "over", timing: { kind: "definite", delayS: 0.01 } };
  const monitor = (of: object, more: object = {}): object => ({
    monitors: [{ id: "own", criteria: [{ ...CRITERION, ...of }], actions: [], ...more }],
  });

  it("is told of pickup, tune pickup, alarm, conditions, arming, and a pickup set on the way", () => {
    // full scales of the presets: 250 W of drive, 2500 W forward, 5 kV and 2.5 A
    expect(never(monitor({ quantity: "driveForwardW", pickup: 249, tunePickup: 250 }))).toEqual([
      "own waits for drive over 250 W and the reading ends at 250 W (sensors.driveForwardW.fullScale): it never picks up",
    ]);
    expect(never(monitor({ quantity: "netOutputW", pickup: 2600 }))).toHaveLength(1);
    expect(never(monitor({ quantity: "plateDissipationW", pickup: 13_000 }))).toHaveLength(1);
    const when = [{ quantity: "plateV", side: "over", level: 5100 }];
    expect(never(monitor({ quantity: "vswr", pickup: 3, when }))).toHaveLength(1);
    const arming = { when };
    expect(never(monitor({ quantity: "vswr", pickup: 3 }, { arming }))).toEqual([
      expect.stringContaining("it is never armed"),
    ]);
    const alarm = { quantity: "gridCurrentA", side: "over", level: 1.2, delayS: 0 };
    expect(never(monitor({ quantity: "vswr", pickup: 3 }, { alarm }))).toEqual([
      expect.stringContaining("it never alarms"),
    ]);
    const change = { pickup: 1.5 };
    const scenario = [{ atS: 0, do: "configureMonitor", monitor: "gridFast", change }];
    expect(never({ scenario })).toHaveLength(1);
  });

  it("is told of what a quantity cannot be: a VSWR under 1, power under nothing, a ratio beyond its floor", () => {
    const under = { side: "under" };
    expect(never(monitor({ quantity: "vswr", pickup: 1, ...under }))).toEqual([
      "own waits for VSWR under 1.00 and the reading ends at 1.00: it never picks up",
    ]);
    expect(never(monitor({ quantity: "driveForwardW", pickup: 0, ...under }))).toHaveLength(1);
    expect(never(monitor({ quantity: "vswr", pickup: 1e6 }))).toHaveLength(1);
    // 10 lg(2500 W / 0.5 W) = 37.0 dB, and 10 lg(0.1 W / 250 W) = -34.0 dB: full scales over the floors
    expect(never(monitor({ quantity: "forwardGainDb", pickup: 36.9 }))).toEqual([]);
    expect(never(monitor({ quantity: "forwardGainDb", pickup: 37 }))).toHaveLength(1);
    expect(never(monitor({ quantity: "forwardGainDb", pickup: -33.9, ...under }))).toEqual([]);
    expect(never(monitor({ quantity: "forwardGainDb", pickup: -34, ...under }))).toHaveLength(1);
    // 2500 W forward and 1000 W reflected over 1 W of plate input
    expect(never(monitor({ quantity: "efficiency", pickup: 2499 }))).toEqual([]);
    expect(never(monitor({ quantity: "efficiency", pickup: 2500 }))).toHaveLength(1);
    expect(never(monitor({ quantity: "efficiency", pickup: -999, ...under }))).toEqual([]);
    expect(never(monitor({ quantity: "efficiency", pickup: -1000, ...under }))).toHaveLength(1);
    const reset = { when: [{ quantity: "plateV", side: "over", level: 5100 }] };
    expect(never(monitor({ quantity: "vswr", pickup: 3 }, { reset }))).toEqual([
      expect.stringContaining("it can never be reset"),
    ]);
  });

  it("is nothing to tell of what ends nobody knows where, of what waits for less, of what is off, and of the presets", () => {
    expect(never(monitor({ quantity: "gainDeviationDb", pickup: 1e6 }))).toEqual([]);
    expect(never(monitor({ quantity: "plateV", side: "under", pickup: 9000 }))).toEqual([]);
    expect(never(monitor({ quantity: "plateV", pickup: 9000 }, { role: "off" }))).toEqual([]);
    expect(never({})).toEqual([]);
  });
});

describe("a saved project", () => {
  it("is known to have the presets when its station is changed after it was read again", () => {
    const saved = read(JSON.parse(writeProject(defaultProject())) as object).project;
    const { supply } = DEFAULT_STATION;
    if (supply.kind !== "rectified") throw new Error("the demonstration's supply is rectified");
    const station: Station = { ...DEFAULT_STATION, supply: { ...supply, noLoadV: 2600 } };
    const followed = withPresetsFollowing({ ...saved, station }, saved.station);
    expect(pickup(followed, "supplyUndervoltage")).toBeLessThan(
      pickup(saved, "supplyUndervoltage"),
    );
  });
});
