/** What watches a station whose file names no monitors: the presets, at levels that follow it, and the file says so. */
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { writeProject } from "../../src/formats/writeProject";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { DEFAULT_MONITORS } from "../../src/project/presets/monitors";
import { DEFAULT_SENSORS } from "../../src/project/presets/sensors";
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

describe("a saved project", () => {
  it("is known to have the presets when its station is changed after it was read again", () => {
    const saved = read(JSON.parse(writeProject(defaultProject())) as object).project;
    const { supply } = DEFAULT_STATION;
    if (supply.kind !== "rectified") throw new Error("the demonstration's supply is rectified");
    const station: Station = { ...DEFAULT_STATION, supply: { ...supply, noLoadV: 2600 } };
    const followed = withPresetsFollowing(saved, { ...saved, station });
    expect(pickup(followed, "supplyUndervoltage")).toBeLessThan(
      pickup(saved, "supplyUndervoltage"),
    );
  });
});
