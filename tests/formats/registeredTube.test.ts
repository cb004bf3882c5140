import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { writeProject } from "../../src/formats/writeProject";

/** Lines 1 to 3; the tube's members stand in line 3 from column 11 on, after `"tube": { `. */
const withTube = (members: string) =>
  `{ "format": "quietarc-project", "schemaVersion": 1,\n"station": {\n"tube": { ${members} } } }`;

function read(members: string) {
  const reading = readProject(withTube(members));
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.project;
}

function problemOf(members: string) {
  const reading = readProject(withTube(members));
  if (reading.ok) throw new Error("read, against expectation");
  expect(reading.problems.length).toBe(1);
  const [problem] = reading.problems;
  if (problem === undefined) throw new Error("refused without a problem");
  return problem;
}

describe("a tube named by its registered type", () => {
  it("is read as the plain triode of its fit", () => {
    // Fit with the amplification factor held, stated a second time.
    expect(read('"kind": "registered", "type": "3-500Z", "count": 2').station.tube).toEqual({
      kind: "triode",
      name: "3-500Z",
      count: 2,
      mu: 130,
      perveanceAPerV1p5: 1.528e-3,
      divisionRatio: 1.049,
      offsetV: 0,
    });
  });

  it("is one tube unless a count is given, and may have its other designation", () => {
    const { tube } = read('"kind": "registered", "type": "3CX1500A7"').station;
    expect(tube).toMatchObject({ name: "3CX1500A7", count: 1, mu: 200, offsetV: 1.03 });
  });

  it("is written in full, and read again as the same project", () => {
    const project = read('"type": "8877", "kind": "registered"');
    const text = writeProject(project);
    expect(text).not.toContain("registered");
    expect(text).toContain('"perveanceAPerV1p5": 0.005768');
    expect(readProject(text)).toMatchObject({ ok: true, project });
  });

  it("leaves a triode given by its law as it is", () => {
    const { tube } = read('"mu": 160').station;
    expect(tube).toMatchObject({ kind: "triode", count: 2, mu: 160 });
  });

  it.each([
    ["an unknown type", '"kind": "registered", "type": "4-400C"', "unknownWord", 41, "type"],
    [
      "a type in small letters",
      '"kind": "registered", "type": "3-500z"',
      "unknownWord",
      41,
      "type",
    ],
    ["a type without a law", '"kind": "registered", "type": "GI-7B"', "unknownWord", 41, "type"],
    ["a type as a number", '"kind": "registered", "type": 8877', "wrongType", 41, "type"],
    [
      "a value of the law",
      '"kind": "registered", "type": "8877", "mu": 190',
      "unknownKey",
      49,
      "mu",
    ],
    [
      "one tube and a half",
      '"kind": "registered", "type": "8877", "count": 1.5',
      "notWhole",
      58,
      "count",
    ],
    ["no tube", '"kind": "registered", "type": "8877", "count": 0', "outOfRange", 58, "count"],
    ["a mistyped kind", '"kind": "registerd", "type": "8877"', "unknownWord", 19, "kind"],
  ])("with %s is refused where the fault stands", (_, members, code, column, name) => {
    const problem = problemOf(members);
    expect([problem.code, problem.line, problem.column, problem.place]).toEqual([
      code,
      3,
      column,
      `station.tube.${name}`,
    ]);
    expect(problem.message).not.toMatch(/\.$|Invalid input|undefined/);
  });

  it("without its type is told what is missing", () => {
    const problem = problemOf('"kind": "registered"');
    expect([problem.code, problem.place]).toEqual(["missingKey", "station.tube"]);
    expect(problem.remedy).toContain('"type"');
  });

  it("that nobody knows is answered with the types that have a law", () => {
    const { remedy } = problemOf('"kind": "registered", "type": "quite another"');
    for (const type of ["3-500Z", "8877", "3CX1500A7", "811A", "3CX1200A7"]) {
      expect(remedy).toContain(`"${type}"`);
    }
    expect(remedy).not.toContain("GI-7B"); // ratings only
    expect(problemOf('"kind": "registered", "type": "3-500z"').remedy).toContain(
      'did you mean "3-500Z"?',
    );
  });
});
