import { describe, expect, it } from "vitest";
import { excerpt } from "../../src/formats/excerpt";
import { editDistance, nearestName } from "../../src/formats/nearest";
import { MAX_CHARACTERS, readProject } from "../../src/formats/projectFile";
import { defaultProject } from "../../src/project/defaults";
import type { Project } from "../../src/project/types";
import { timed } from "../support/processorTime";

function read(members: string): Project {
  const reading = readProject(`{ "format": "quietarc-project", "schemaVersion": 1, ${members} }`);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.project;
}

function noticesOf(members: string): readonly string[] {
  const reading = readProject(`{ "format": "quietarc-project", "schemaVersion": 1, ${members} }`);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.notices.map((notice) => `${notice.place}: ${notice.message}`);
}

function problemsOf(text: string) {
  const reading = readProject(text);
  if (reading.ok) throw new Error("read, against expectation");
  return reading;
}

const EXPLICIT =
  '"station": { "freqHz": 14200000, "exciter": { "sourceOhm": 50, "availableW": 65 }, ' +
  '"inputCircuit": { "kind": "explicit", "turnsRatio": 1.077, "capacitanceF": 4.8e-10, "inductanceH": 2.6e-7, "shuntOhm": 1500 }, ' +
  '"tube": { "kind": "triode", "count": 1, "mu": 200, "perveanceAPerV1p5": 0.0042, "divisionRatio": 3, "offsetV": 0 }, ' +
  '"bias": { "cathodeV": 9 }, "supply": { "kind": "stiff", "plateV": 3000 }, ' +
  '"tank": { "kind": "explicitPi", "tuningF": 7.6e-11, "coilH": 2.0e-6, "coilSeriesOhm": 0.6, "loadingF": 3.9e-10, "chokeH": 9e-5 }, ' +
  '"load": { "kind": "admittance", "conductanceSiemens": 0.02, "susceptanceSiemens": 0 }, ' +
  '"arc": { "place": "tuningCapacitor", "maintainingV": 250 } }';

describe("a project file", () => {
  it("that says no more than what it is gives the demonstration station", () => {
    expect(read('"notes": ""')).toEqual(defaultProject());
  });

  it("may begin with a byte order mark and use any line end", () => {
    const text = '\ufeff{\r\n"format": "quietarc-project",\r"schemaVersion": 1\n}';
    expect(readProject(text)).toMatchObject({ ok: true });
  });

  it("may give every part of the circuit as such", () => {
    const { station } = read(`"title": "explicit circuit", ${EXPLICIT}`);
    expect(station.exciter).toMatchObject({ sourceOhm: 50, availableW: 65 });
    expect(station.inputCircuit).toEqual({
      kind: "explicit",
      turnsRatio: 1.077,
      capacitanceF: 4.8e-10,
      inductanceH: 2.6e-7,
      shuntOhm: 1500,
    });
    expect(station.tube).toMatchObject({ count: 1, mu: 200, perveanceAPerV1p5: 0.0042 });
    expect(station.supply).toEqual({ kind: "stiff", plateV: 3000 });
    expect(station.tank).toMatchObject({ kind: "explicitPi", tuningF: 7.6e-11, chokeH: 9e-5 });
    expect(station.arc).toEqual({ place: "tuningCapacitor", maintainingV: 250 });
  });

  it("may describe an open and a shorted load", () => {
    for (const conductance of [0, 2e-5, 1000, 1e6]) {
      const { station } = read(
        `"station": { "load": { "kind": "admittance", "conductanceSiemens": ${conductance} } }`,
      );
      expect(station.load).toEqual({
        kind: "admittance",
        conductanceSiemens: conductance,
        susceptanceSiemens: 0,
      });
    }
  });

  it("fills a choice from the defaults of its own kind only", () => {
    const { station } = read('"station": { "supply": { "noLoadV": 3000 } }');
    expect(station.supply).toEqual({ ...defaultProject().station.supply, noLoadV: 3000 });
    const { station: other } = read('"station": { "supply": { "kind": "stiff", "plateV": 2500 } }');
    expect(other.supply).toEqual({ kind: "stiff", plateV: 2500 });
  });

  it("lays a monitor over the preset of the same id, and any other over a plain one", () => {
    const { monitors } = read(
      '"monitors": [{ "id": "lowGain", "role": "shadow" }, { "id": "mine", "actions": ["contactor"], "criteria": ' +
        '[{ "quantity": "vswr", "side": "over", "pickup": 4, "timing": { "kind": "definite", "delayS": 0.1 } }] }]',
    );
    const preset = defaultProject().monitors.find((monitor) => monitor.id === "lowGain");
    expect(monitors[0]).toEqual({ ...preset, role: "shadow" });
    expect(monitors[1]).toMatchObject({ name: "mine", role: "acting", path: "scanned" });
    expect(monitors[1]?.criteria[0]?.dropOff).toBe(3.8); // reset ratio 0.95 of an over-function
  });

  it("gives a fault its usual severity on the part when it names none", () => {
    const place = (fault: string, part: string) =>
      `{ "atS": 1, "do": "placeFault", "fault": "${fault}", "part": "${part}" }`;
    const { scenario } = read(
      `"scenario": [${place("arc", "loadingCapacitor")}, ${place("arc", "outputContact")}, ${place("insect", "tuningCapacitor")}]`,
    );
    // Maintaining voltages of the demonstration station: 160 V at the loading capacitor, 200 V beyond the coupler.
    expect(scenario.map((entry) => "severity" in entry && entry.severity)).toEqual([160, 200, 1]);
  });

  it("that does not say when it ends runs 3 s, or to the second after its last entry", () => {
    expect(read('"notes": ""').endS).toBe(3);
    expect(read('"scenario": [{ "atS": 1.00037, "do": "reset" }]').endS).toBe(3);
    expect(read('"scenario": [{ "atS": 3.5, "do": "reset" }]').endS).toBe(5);
    expect(read('"endS": 2, "scenario": [{ "atS": 3.5, "do": "reset" }]').endS).toBe(2);
  });

  it("has its times rounded to whole nanoseconds, once", () => {
    const { scenario } = read(
      '"scenario": [{ "atS": 1.0003700004, "do": "reset" }, { "atS": 1.0003700006, "do": "reset" }]',
    );
    expect(scenario.map((entry) => entry.atS)).toEqual([1.00037, 1.000370001]);
  });

  it("may list its scenario in any order: it is sorted by time, and says so", () => {
    const members =
      '"scenario": [{ "atS": 2, "do": "reset" }, { "atS": 1, "do": "operate" }, { "atS": 1, "do": "standby" }]';
    expect(read(members).scenario.map((entry) => entry.do)).toEqual([
      "operate",
      "standby",
      "reset",
    ]);
    expect(noticesOf(members)).toEqual([
      "scenario: the entries were not in order of time; they have been sorted",
    ]);
  });

  it("is told of entries that are never played; what monitors round is said where they are compiled", () => {
    expect(noticesOf('"endS": 1, "scenario": [{ "atS": 2, "do": "reset" }]')[0]).toContain(
      "1 of 1",
    );
    const delay =
      '"monitors": [{ "id": "mine", "actions": [], "criteria": [{ "quantity": "vswr", "side": "over", ' +
      '"pickup": 4, "timing": { "kind": "definite", "delayS": 0.0025 } }] }]';
    expect(noticesOf(delay)).toEqual([]);
  });

  it("leaves the objects of the program alone, whatever it calls its members", () => {
    problemsOf(
      '{ "format": "quietarc-project", "schemaVersion": 1, "__proto__": { "title": "taken" }, "station": { "__proto__": { "freqHz": 1 } } }',
    );
    expect(({} as { title?: string }).title).toBeUndefined();
    expect(read('"notes": ""').title).toBe("Skerry Light");
  });

  it("has twenty problems listed, in the order of the file, and the rest counted", () => {
    const entries = Array.from({ length: 33 }, () => '{ "atS": -1, "do": "reset" }').join(",\n");
    const { problems, omitted } = problemsOf(
      `{ "format": "quietarc-project", "schemaVersion": 1, "scenario": [\n${entries}\n] }`,
    );
    expect(problems.map((problem) => problem.line)).toEqual(
      Array.from({ length: 20 }, (_, index) => index + 2),
    );
    expect(omitted).toBe(13);
  });

  it.each([
    ["entries with repeated names", '{ "do": 1, "do": 2, "do": 3 },'],
    ["members that nobody knows", '{ "a": 0, "b": 0, "c": 0, "d": 0 },'],
  ])("of the largest size with %s is refused within two seconds", (_, entry) => {
    const count = Math.floor((MAX_CHARACTERS - 200) / entry.length);
    const long = `{ "format": "quietarc-project", "schemaVersion": 1, "scenario": [${entry.repeat(count)} 7] }`;
    const { result, tookMs } = timed(() => problemsOf(long));
    expect(tookMs).toBeLessThan(2000); // the hang guard for one input
    const { problems, omitted } = result;
    expect(problems.length + omitted).toBeGreaterThan(0);
  });

  it.each([19_000, 25_000])("of %i bad entries is refused within two seconds", (count) => {
    const entries = '{ "atS": -1, "do": "mode", "mod": 1, "a": 1, "b": 2, "c": 1e999 },'.repeat(
      count,
    );
    const { result, tookMs } = timed(() =>
      problemsOf(
        `{ "format": "quietarc-project", "schemaVersion": 1, "scenario": [${entries} 7] }`,
      ),
    );
    const { problems, omitted } = result;
    expect(tookMs).toBeLessThan(2000); // the hang guard for one input
    expect(problems.length + omitted).toBeLessThan(1100); // the search ends at about a thousand
  });

  it("of twenty thousand good entries is read within two seconds", () => {
    const entries = Array.from({ length: 20_000 }, () => '{ "atS": 0, "do": "reset" }').join();
    const { result, tookMs } = timed(() => read(`"scenario": [${entries}]`));
    expect(result.scenario.length).toBe(20_000);
    expect(tookMs).toBeLessThan(2000); // the hang guard for one input
  });

  it("of many monitors of one id is refused within two seconds", () => {
    const long = `{ "format": "quietarc-project", "schemaVersion": 1, "monitors": [${'{ "id": "lowGain" },'.repeat(240_000)} 7] }`;
    expect(timed(() => problemsOf(long)).tookMs).toBeLessThan(2000); // the hang guard for one input
  });

  it("is quoted, explained and helped in words that name value, range and unit", () => {
    const { problems } = problemsOf(
      '{ "format": "quietarc-project", "schemaVersion": 1, "station": { "supply": { "noLoadV": 99999 } } }',
    );
    expect(problems).toEqual([
      {
        code: "outOfRange",
        place: "station.supply.noLoadV",
        line: 1,
        column: 89,
        quoted: "99999",
        message: "station.supply.noLoadV is 99999 V, outside its range",
        remedy: "give a value from 0 to 20000 V",
      },
    ]);
  });
});

describe("an excerpt", () => {
  it("shows the line between its neighbours, and marks the column", () => {
    expect(excerpt("one\ntwo\r\n\tthree\nfour\nfive", 3, 2)).toBe(
      ["2 | two", "3 |  three", "  |  ^", "4 | four"].join("\n"),
    );
  });

  it("stops at the ends of the text", () => {
    expect(excerpt("only", 1, 5)).toBe(["1 | only", "  |     ^"].join("\n"));
    expect(excerpt("a\nb", 2, 1)).toBe(["1 | a", "2 | b", "  | ^"].join("\n"));
  });

  it("cuts a long line to a window round the column", () => {
    const rows = excerpt(`${"a".repeat(500)}X${"b".repeat(500)}`, 1, 501).split("\n");
    const mark = rows[1]?.indexOf("^") ?? -1;
    expect(rows[0]?.[mark]).toBe("X");
    for (const row of rows) expect(row.length).toBeLessThanOrEqual(110);
  });
});

describe("the nearest known name", () => {
  it("counts insertions, deletions, exchanges and swaps", () => {
    // Counted by hand.
    expect(editDistance("mu", "mu")).toBe(0);
    expect(editDistance("my", "mu")).toBe(1);
    expect(editDistance("cuont", "count")).toBe(1);
    expect(editDistance("", "abc")).toBe(3);
    expect(editDistance("FREQHZ", "freqHz")).toBe(0);
  });

  it("is silent when nothing is near", () => {
    expect(nearestName("colour", ["freqHz", "tube"])).toBe(null);
    expect(nearestName("titel", ["notes", "title"])).toBe("title");
    expect(nearestName("x".repeat(10_000), ["title"])).toBe(null);
  });
});
