import { describe, expect, it } from "vitest";
import { FIELD_NOTES } from "../../src/formats/fieldNotes";
import { fieldSections, fieldTable } from "../../src/formats/fieldTable";
import { readProject } from "../../src/formats/projectFile";

const sections = fieldSections();

function row(title: string, name: string) {
  const found = sections.find((section) => section.title === title);
  return found?.rows.find((entry) => entry.name === name);
}

describe("the table of fields", () => {
  it("gives every field a meaning, and knows no field that the file has not", () => {
    const bare = sections.flatMap(({ title, rows }) =>
      rows.filter((entry) => entry.meaning === "").map((entry) => `${title}: ${entry.name}`),
    );
    expect(bare, "add a line to src/formats/fieldNotes.ts").toEqual([]);
    const known = sections.flatMap(({ title, rows }) =>
      rows.map((entry) => `${title.split(", s")[0]}: ${entry.name}`),
    );
    const noted = Object.entries(FIELD_NOTES).flatMap(([title, notes]) =>
      Object.keys(notes).map((name) => `${title}: ${name}`),
    );
    expect(noted.filter((entry) => !known.includes(entry))).toEqual([]);
  });

  it("states unit, default and range as the file is read", () => {
    // Written by hand from the schema of version 1 and the demonstration station.
    expect(row("station.exciter", "availableW")).toMatchObject({
      unit: "W",
      usual: "62",
      allowed: "from 0 to 10000",
    });
    expect(row('station.tank, "kind": "explicitPi"', "coilH")).toMatchObject({
      unit: "H",
      usual: "must be given",
      allowed: "over 0 to 1",
    });
    expect(row('station.tank, "kind": "explicitPi"', "coilSeriesOhm")?.usual).toBe("0");
    expect(row("monitors[]", "role")).toMatchObject({ unit: "word", usual: '"acting"' });
    expect(row("station.bandSwitch, station.outputContact", "gapM")?.usual).toBe("0.003 / 0.001");
  });

  it("says `must be given` exactly of what a file is refused without", () => {
    const tank = { kind: "explicitPi", tuningF: 7e-11, coilH: 2e-6, loadingF: 4e-10, chokeH: 9e-5 };
    const accepts = (given: object) =>
      readProject(
        JSON.stringify({
          format: "quietarc-project",
          schemaVersion: 1,
          station: { tank: given },
        }),
      ).ok;
    expect(accepts(tank)).toBe(true);
    for (const name of ["tuningF", "coilH", "loadingF", "chokeH"] as const) {
      expect(row('station.tank, "kind": "explicitPi"', name)?.usual).toBe("must be given");
      expect(accepts({ ...tank, [name]: undefined }), name).toBe(false);
    }
  });

  it("is plain text with its columns in line", () => {
    const text = fieldTable();
    expect(text).toMatch(/^A project file is one JSON object\. /);
    const lines = text.split("\n");
    const at = lines.indexOf("station.exciter");
    expect(lines[at + 1]).toMatch(/^ {2}name +unit +default +meaning +allowed$/);
    const column = lines[at + 1]?.indexOf("meaning") ?? -1;
    expect(lines[at + 2]?.slice(column)).toMatch(/^source resistance/);
    expect(text).not.toMatch(/ \n|undefined|\[object/);
  });
});
