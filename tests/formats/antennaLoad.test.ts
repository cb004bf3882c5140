/** A load that is given as a line with an antenna at its end. */
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { writeProject } from "../../src/formats/writeProject";

const HEAD = '{ "format": "quietarc-project", "schemaVersion": 1';

const readLoad = (load: string, freqHz = 14.2e6) =>
  readProject(`${HEAD},\n"station": { "freqHz": ${freqHz},\n"load": ${load} } }`);

function loadOf(load: string, freqHz?: number) {
  const reading = readLoad(load, freqHz);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems[0]));
  return reading.project.station.load;
}

function problemOf(load: string) {
  const reading = readLoad(load);
  if (reading.ok) throw new Error("was read");
  return reading.problems[0];
}

describe("a load of line and antenna in a project file", () => {
  it("that says no more has the usual cable and the dipole of its band", () => {
    expect(loadOf('{ "kind": "antenna" }', 7.05e6)).toMatchObject({
      kind: "antenna",
      line: { lineOhm: 50, lengthM: 25, velocityFactor: 0.66 },
      antenna: { kind: "resonant", name: "40 m dipole", resistanceOhm: 50, q: 12 },
    });
  });

  it("keeps what it says and fills in the rest", () => {
    const given =
      '{ "kind": "antenna", "line": { "lengthM": 40 }, "antenna": { "resonanceHz": 13.9e6 } }';
    expect(loadOf(given)).toMatchObject({
      line: { lengthM: 40, lineOhm: 50 },
      antenna: { kind: "resonant", resonanceHz: 13.9e6, resistanceOhm: 50 },
    });
    const fixed = '{ "kind": "antenna", "antenna": { "kind": "reflection", "magnitude": 0.4 } }';
    expect(loadOf(fixed)).toMatchObject({
      antenna: { kind: "reflection", magnitude: 0.4, phaseRad: 0 },
    });
  });

  it("reads the same after it was written", () => {
    const reading = readLoad('{ "kind": "antenna", "line": { "lengthM": 12.5 } }');
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems[0]));
    const again = readProject(writeProject(reading.project));
    expect(again).toMatchObject({ ok: true, project: reading.project });
  });

  it.each([
    [
      "an antenna that gives power",
      '{ "kind": "antenna", "antenna": { "kind": "reflection", "magnitude": 1.5 } }',
      "notPassive",
      "station.load.antenna.magnitude",
    ],
    [
      "an antenna that reflects everything",
      '{ "kind": "antenna", "antenna": { "kind": "reflection", "magnitude": 1 } }',
      "outOfRange",
      "station.load.antenna.magnitude",
    ],
    [
      "a resonance without a frequency",
      '{ "kind": "antenna", "antenna": { "resonanceHz": 0 } }',
      "outOfRange",
      "station.load.antenna.resonanceHz",
    ],
    [
      "a velocity faster than light",
      '{ "kind": "antenna", "line": { "velocityFactor": 1.2 } }',
      "outOfRange",
      "station.load.line.velocityFactor",
    ],
    [
      "a line whose attenuation was given for a hundred metres",
      '{ "kind": "antenna", "line": { "conductorDbPerM": 0.62, "lengthM": 100 } }',
      "outOfRange",
      "station.load.line",
    ],
    [
      "a name nobody knows",
      '{ "kind": "antenna", "line": { "lenghtM": 10 } }',
      "unknownKey",
      "station.load.line.lenghtM",
    ],
  ])("refuses %s, with the place and a remedy", (_what, load, code, place) => {
    const problem = problemOf(load);
    expect(problem).toMatchObject({ code, place, line: 3 });
    expect(problem?.message).not.toBe("");
    expect(problem?.remedy).not.toBe("");
  });
});
