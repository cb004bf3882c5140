import { describe, expect, it } from "vitest";
import type { ProblemCode } from "../../src/formats/problem";
import { readProject } from "../../src/formats/projectFile";
import { runCommand } from "../../src/shells/cli/commands";
import type { Engine } from "../../src/shells/cli/engine";
import { timed } from "../support/processorTime";
import { runningBench } from "../support/runningBench";

/**
 * Bad files, each with the status a command ends with, the code, and the place a reader would be sent to. Lines and
 * columns are counted by hand in the text that stands here, both from 1.
 */
type Row = readonly [
  what: string,
  text: string,
  status: number,
  code: ProblemCode,
  line: number,
  column: number,
  place: string,
];

/** First line of every file below: 50 characters, so that what follows it begins in column 51. */
const HEAD = '{ "format": "quietarc-project", "schemaVersion": 1';

/** One line more: members stand in line 2 from column 1. */
const withMembers = (members: string) => `${HEAD},\n${members} }`;
const withStation = (members: string) => withMembers(`"station": {\n${members} }`);
const withEntry = (entry: string) => withMembers(`"scenario": [\n${entry} ]`);
const withAccepted = (entry: string) => withMembers(`"accepted": [\n${entry} ]`);
const withMonitor = (members: string) => withMembers(`"monitors": [\n${members} ]`);

const SYNTAX: readonly Row[] = [
  ["an empty file", "", 2, "emptyFile", 1, 1, ""],
  ["blanks alone", "  \n\t\n", 2, "emptyFile", 1, 1, ""],
  ["a byte order mark alone", "\ufeff", 2, "emptyFile", 1, 1, ""],
  ["text that is no JSON", "hello", 2, "notJson", 1, 1, ""],
  ["a comma before the closing brace", '{\n  "format": "x",\n}', 2, "notJson", 2, 16, ""],
  ["a comma before the closing bracket", '{ "scenario": [1, 2,] }', 2, "notJson", 1, 20, ""],
  ["a missing comma", '{ "title": "a"\n  "seed": 1 }', 2, "notJson", 2, 3, ""],
  ["a missing colon", '{ "title" "a" }', 2, "notJson", 1, 11, ""],
  ["a missing value", '{ "seed": , "title": "a" }', 2, "notJson", 1, 11, ""],
  ["a file that ends too early", '{ "seed": 1', 2, "notJson", 1, 12, ""],
  ["a file that ends after a colon", '{ "seed":', 2, "notJson", 1, 10, ""],
  ["a list closed by a brace", '{ "scenario": [1 }', 2, "notJson", 1, 18, ""],
  ["single quotation marks round a name", "{ 'seed': 1 }", 2, "notJson", 1, 3, ""],
  ["single quotation marks round a text", "{ \"title\": 'a' }", 2, "notJson", 1, 12, ""],
  ["a name without quotation marks", "{ seed: 1 }", 2, "notJson", 1, 3, ""],
  ["a text that is never closed", '{ "title": "a\n}', 2, "notJson", 1, 12, ""],
  ["an escape that JSON has not", '{ "title": "a\\x" }', 2, "notJson", 1, 14, ""],
  ["a tabulator inside a text", '{ "title": "a\tb" }', 2, "notJson", 1, 14, ""],
  ["a leading zero", '{ "seed": 01 }', 2, "notJson", 1, 11, ""],
  ["a plus sign", '{ "seed": +1 }', 2, "notJson", 1, 11, ""],
  ["a point without a digit", '{ "endS": .5 }', 2, "notJson", 1, 11, ""],
  ["a unit behind a number", '{ "endS": 5s }', 2, "notJson", 1, 11, ""],
  ["the word NaN", '{ "endS": NaN }', 2, "notJson", 1, 11, ""],
  ["the word True", '{ "down": True }', 2, "notJson", 1, 11, ""],
  ["a comment", '{\n// the seed\n"seed": 1 }', 2, "notJson", 2, 1, ""],
  ["something behind the end", "{ }\n{ }", 2, "notJson", 2, 1, ""],
  ["33 brackets inside each other", `{ "scenario": ${"[".repeat(40)}`, 2, "tooDeep", 1, 46, ""],
  ["more than five million characters", " ".repeat(5_000_001), 2, "tooLarge", 1, 1, ""],
];

const HEADER: readonly Row[] = [
  ["a list instead of a project", "[1, 2]", 2, "wrongFormat", 1, 1, ""],
  ["a number instead of a project", "\n 42", 2, "wrongFormat", 2, 2, ""],
  ["nothing instead of a project", "null", 2, "wrongFormat", 1, 1, ""],
  ["no format", '{ "schemaVersion": 1 }', 2, "wrongFormat", 1, 1, ""],
  [
    "another format",
    '{ "format": "circuit", "schemaVersion": 1 }',
    2,
    "wrongFormat",
    1,
    13,
    "format",
  ],
  ["no version", '{ "format": "quietarc-project" }', 2, "wrongVersion", 1, 1, ""],
  ["a newer version", `${HEAD.slice(0, -1)}2 }`, 2, "wrongVersion", 1, 50, "schemaVersion"],
  ["the version as text", `${HEAD.slice(0, -1)}"1" }`, 2, "wrongVersion", 1, 50, "schemaVersion"],
];

const FIELDS: readonly Row[] = [
  ["the same name twice", withMembers('"seed": 1, "seed": 2'), 2, "duplicateKey", 2, 12, "seed"],
  [
    "the same name twice, one escaped",
    withMembers('"seed": 1, "s\\u0065ed": 2'),
    2,
    "duplicateKey",
    2,
    12,
    "seed",
  ],
  ["a name that does not exist", withMembers('"sead": 1'), 2, "unknownKey", 2, 1, "sead"],
  [
    "a name that changes prototypes",
    withMembers('"__proto__": { "seed": 1 }'),
    2,
    "unknownKey",
    2,
    1,
    "__proto__",
  ],
  [
    "a name every object inherits",
    withMembers('"constructor": 1'),
    2,
    "unknownKey",
    2,
    1,
    "constructor",
  ],
  ["text for a number", withMembers('"seed": "one"'), 2, "wrongType", 2, 9, "seed"],
  ["null for a number", withMembers('"endS": null'), 2, "wrongType", 2, 9, "endS"],
  ["a number for a text", withMembers('"title": 7'), 2, "wrongType", 2, 10, "title"],
  ["an object for a list", withMembers('"scenario": {}'), 2, "wrongType", 2, 13, "scenario"],
  ["a list for an object", withMembers('"station": []'), 2, "wrongType", 2, 12, "station"],
  ["a number too large to be held", withMembers('"endS": 1e999'), 2, "notFinite", 2, 9, "endS"],
  ["a seed that is no whole number", withMembers('"seed": 1.5'), 2, "notWhole", 2, 9, "seed"],
  ["a negative seed", withMembers('"seed": -1'), 2, "outOfRange", 2, 9, "seed"],
  ["a run that never ends", withMembers('"endS": 1e6'), 2, "outOfRange", 2, 9, "endS"],
  [
    "a sample shorter than a microsecond",
    withMembers('"sampleNs": 10'),
    2,
    "outOfRange",
    2,
    13,
    "sampleNs",
  ],
  [
    "two hundred and one monitors",
    withMembers(`"monitors": [${"{},".repeat(200)}{}]`),
    2,
    "tooMany",
    2,
    13,
    "monitors",
  ],
  [
    "sixty-five members",
    withMembers(`"station": {${Array.from({ length: 65 }, (_, k) => `"a${k}": 1`).join()} }`),
    2,
    "tooMany",
    2,
    12,
    "station",
  ],
  [
    "a title of 201 characters",
    withMembers(`"title": "${"a".repeat(201)}"`),
    2,
    "outOfRange",
    2,
    10,
    "title",
  ],
];

const STATION: readonly Row[] = [
  [
    "half a tube",
    withStation('"tube": { "count": 1.5 }'),
    2,
    "notWhole",
    3,
    20,
    "station.tube.count",
  ],
  ["no tube", withStation('"tube": { "count": 0 }'), 2, "outOfRange", 3, 20, "station.tube.count"],
  [
    "a mistyped value of the tube",
    withStation('"tube": { "my": 200 }'),
    2,
    "unknownKey",
    3,
    11,
    "station.tube.my",
  ],
  [
    "another kind of tube",
    withStation('"tube": { "kind": "pentode" }'),
    2,
    "unknownWord",
    3,
    19,
    "station.tube.kind",
  ],
  ["a frequency in MHz", withStation('"freqHz": 14.2'), 2, "outOfRange", 3, 11, "station.freqHz"],
  [
    "a frequency between the bands",
    withStation('"freqHz": 9e6'),
    2,
    "noBand",
    3,
    11,
    "station.freqHz",
  ],
  [
    "a negative drive",
    withStation('"exciter": { "availableW": -5 }'),
    2,
    "outOfRange",
    3,
    28,
    "station.exciter.availableW",
  ],
  [
    "a level control of an unknown kind",
    withStation('"exciter": { "alc": { "kind": "plate" } }'),
    2,
    "unknownWord",
    3,
    31,
    "station.exciter.alc.kind",
  ],
  [
    "a level control told in watts by grid current",
    withStation('"exciter": { "alc": { "kind": "grid", "thresholdW": 9 } }'),
    2,
    "unknownKey",
    3,
    39,
    "station.exciter.alc.thresholdW",
  ],
  [
    "an attack faster than the control is stepped",
    withStation('"exciter": { "alc": { "kind": "output", "attackS": 1e-6 } }'),
    2,
    "outOfRange",
    3,
    52,
    "station.exciter.alc.attackS",
  ],
  [
    "an overshoot downwards",
    withStation('"exciter": { "overshootDb": -3 }'),
    2,
    "outOfRange",
    3,
    29,
    "station.exciter.overshootDb",
  ],
  [
    "a supply of an unknown kind",
    withStation('"supply": { "kind": "stif" }'),
    2,
    "unknownWord",
    3,
    21,
    "station.supply.kind",
  ],
  [
    "a stiff supply without its voltage",
    withStation('"supply": { "kind": "stiff" }'),
    2,
    "missingKey",
    3,
    11,
    "station.supply",
  ],
  [
    "a stiff supply with a filter",
    withStation('"supply": { "kind": "stiff", "plateV": 3000, "filterF": 1e-6 }'),
    2,
    "unknownKey",
    3,
    46,
    "station.supply.filterF",
  ],
  [
    "an explicit tank without its coil",
    withStation(
      '"tank": { "kind": "explicitPi", "tuningF": 7e-11, "loadingF": 4e-10, "chokeH": 9e-5 }',
    ),
    2,
    "missingKey",
    3,
    9,
    "station.tank",
  ],
  [
    "a tank capacitance of zero",
    withStation(
      '"tank": { "kind": "explicitPi", "tuningF": 0, "coilH": 2e-6, "loadingF": 4e-10, "chokeH": 9e-5 }',
    ),
    2,
    "outOfRange",
    3,
    44,
    "station.tank.tuningF",
  ],
  [
    "strays above the whole capacitance",
    withStation(
      '"tank": { "kind": "explicitPi", "tuningF": 7e-11, "coilH": 2e-6, "loadingF": 4e-10, "chokeH": 9e-5, "strayF": 9e-11 }',
    ),
    2,
    "wrongOrder",
    3,
    111,
    "station.tank.strayF",
  ],
  [
    "a load that gives power",
    withStation('"load": { "kind": "admittance", "conductanceSiemens": -0.02 }'),
    2,
    "notPassive",
    3,
    55,
    "station.load.conductanceSiemens",
  ],
  [
    "a reflection above one",
    withStation('"load": { "kind": "reflection", "magnitude": 1.2 }'),
    2,
    "notPassive",
    3,
    46,
    "station.load.magnitude",
  ],
  [
    "a reflection of one",
    withStation('"load": { "kind": "reflection", "magnitude": 1 }'),
    2,
    "outOfRange",
    3,
    46,
    "station.load.magnitude",
  ],
  [
    "a tap at the end of the coil",
    withStation('"arc": { "place": "coilTap", "tapFraction": 1 }'),
    2,
    "outOfRange",
    3,
    45,
    "station.arc.tapFraction",
  ],
  [
    "a crowbar fired where none is fitted",
    withMembers('"monitors": [{ "id": "plateInstantaneous", "actions": ["crowbar"] }]'),
    2,
    "wrongPlace",
    2,
    56,
    "monitors[0].actions[0]",
  ],
  [
    "a tap where there is none",
    withStation('"arc": { "place": "tuningCapacitor", "tapFraction": 0.3 }'),
    2,
    "wrongPlace",
    3,
    53,
    "station.arc.tapFraction",
  ],
  [
    "an arc at an unknown place",
    withStation('"arc": { "place": "bandSwitch" }'),
    2,
    "unknownWord",
    3,
    19,
    "station.arc.place",
  ],
  [
    "an unknown metal",
    withStation('"tuningCapacitor": { "metal": "copper " }'),
    2,
    "unknownWord",
    3,
    31,
    "station.tuningCapacitor.metal",
  ],
];

const MONITORS: readonly Row[] = [
  [
    "a composed monitor that watches what nobody can sense",
    withMonitor(
      '{ "id": "a", "actions": [], "criteria": [{ "quantity": "tankHeat", "side": "over", "pickup": 3, "timing": { "kind": "definite", "delayS": 0.1 } }] }',
    ),
    2,
    "unknownWord",
    3,
    56,
    "monitors[0].criteria[0].quantity",
  ],
  [
    "a preset armed on a misspelt ratio",
    withMonitor(
      '{ "id": "lowGain", "arming": { "when": [{ "quantity": "gridplateratio", "side": "over", "level": 1 }] } }',
    ),
    2,
    "unknownWord",
    3,
    55,
    "monitors[0].arming.when[0].quantity",
  ],
  [
    "two monitors of one id",
    withMonitor('{ "id": "lowGain" }, { "id": "lowGain" }'),
    2,
    "repeatedId",
    3,
    30,
    "monitors[1].id",
  ],
  [
    "a monitor without criteria",
    withMonitor('{ "id": "mine", "actions": [] }'),
    2,
    "missingKey",
    3,
    1,
    "monitors[0]",
  ],
  [
    "an empty list of criteria",
    withMonitor('{ "id": "mine", "actions": [], "criteria": [] }'),
    2,
    "missingKey",
    3,
    44,
    "monitors[0].criteria",
  ],
  [
    "a scan of one and a half samples",
    withMonitor('{ "id": "lowGain", "scanS": 75e-6 }'),
    2,
    "doesNotDivide",
    3,
    29,
    "monitors[0].scanS",
  ],
  [
    "a pickup as text",
    withMonitor(
      '{ "id": "a", "actions": [], "criteria": [{ "quantity": "vswr", "side": "over", "pickup": "3", "dropOff": 2, "timing": { "kind": "definite", "delayS": 0.1 } }] }',
    ),
    2,
    "wrongType",
    3,
    90,
    "monitors[0].criteria[0].pickup",
  ],
  [
    "a drop-off on the wrong side",
    withMonitor(
      '{ "id": "a", "actions": [], "criteria": [{ "quantity": "vswr", "side": "over", "pickup": 3, "dropOff": 4, "timing": { "kind": "definite", "delayS": 0.1 } }] }',
    ),
    2,
    "wrongOrder",
    3,
    104,
    "monitors[0].criteria[0].dropOff",
  ],
  [
    "five of three scans",
    withMonitor(
      '{ "id": "a", "actions": [], "criteria": [{ "quantity": "vswr", "side": "over", "pickup": 3, "timing": { "kind": "instantaneous", "scans": 5, "ofScans": 3 } }] }',
    ),
    2,
    "wrongOrder",
    3,
    139,
    "monitors[0].criteria[0].timing.scans",
  ],
  [
    "an unknown action",
    withMonitor('{ "id": "lowGain", "actions": ["driveInhibit", "fan"] }'),
    2,
    "unknownWord",
    3,
    48,
    "monitors[0].actions[1]",
  ],
];

const SCENARIO: readonly Row[] = [
  [
    "an unknown verb",
    withEntry('{ "atS": 0, "do": "keys", "down": true }'),
    2,
    "unknownWord",
    3,
    19,
    "scenario[0].do",
  ],
  ["an entry without a verb", withEntry('{ "atS": 0 }'), 2, "missingKey", 3, 1, "scenario[0]"],
  ["an entry without a time", withEntry('{ "do": "reset" }'), 2, "missingKey", 3, 1, "scenario[0]"],
  [
    "a time before the start",
    withEntry('{ "atS": -1, "do": "reset" }'),
    2,
    "outOfRange",
    3,
    10,
    "scenario[0].atS",
  ],
  [
    "a key that is neither held nor sent",
    withEntry('{ "atS": 0, "do": "key" }'),
    2,
    "missingKey",
    3,
    1,
    "scenario[0]",
  ],
  [
    "a key that is both held and sent",
    withEntry('{ "atS": 0, "do": "key", "down": true, "text": "E", "wordsPerMinute": 20 }'),
    2,
    "wrongPlace",
    3,
    26,
    "scenario[0].down",
  ],
  [
    "a character Morse has not",
    withEntry('{ "atS": 0, "do": "key", "text": "%", "wordsPerMinute": 20 }'),
    2,
    "unknownWord",
    3,
    34,
    "scenario[0].text",
  ],
  [
    "an unknown signal",
    withEntry('{ "atS": 0, "do": "signal", "signal": "voice" }'),
    2,
    "unknownWord",
    3,
    39,
    "scenario[0].signal",
  ],
  [
    "a signal without its name",
    withEntry('{ "atS": 0, "do": "signal" }'),
    2,
    "missingKey",
    3,
    1,
    "scenario[0]",
  ],
  [
    "a number that belongs to another signal",
    withEntry('{ "atS": 0, "do": "signal", "signal": "carrier", "talker": 1 }'),
    2,
    "unknownKey",
    3,
    50,
    "scenario[0].talker",
  ],
  [
    "two tones 5 kHz apart",
    withEntry('{ "atS": 0, "do": "signal", "signal": "twoTone", "spacingHz": 5e3 }'),
    2,
    "outOfRange",
    3,
    63,
    "scenario[0].spacingHz",
  ],
  [
    "half a talker",
    withEntry('{ "atS": 0, "do": "signal", "signal": "speech", "talker": 0.5 }'),
    2,
    "notWhole",
    3,
    59,
    "scenario[0].talker",
  ],
  [
    "an unknown control",
    withEntry('{ "atS": 0, "do": "set", "control": "drive", "value": 5 }'),
    2,
    "unknownWord",
    3,
    37,
    "scenario[0].control",
  ],
  [
    "a VSWR below one",
    withEntry('{ "atS": 0, "do": "set", "control": "loadSwr", "value": 0.5 }'),
    2,
    "outOfRange",
    3,
    57,
    "scenario[0].value",
  ],
  [
    "an unknown fault",
    withEntry('{ "atS": 0, "do": "placeFault", "fault": "insekt", "part": "tuningCapacitor" }'),
    2,
    "unknownWord",
    3,
    42,
    "scenario[0].fault",
  ],
  [
    "a fault where it cannot be",
    withEntry('{ "atS": 0, "do": "placeFault", "fault": "insect", "part": "tube" }'),
    2,
    "wrongPlace",
    3,
    60,
    "scenario[0].part",
  ],
  [
    "a severity beyond the scale",
    withEntry(
      '{ "atS": 0, "do": "placeFault", "fault": "insect", "part": "tuningCapacitor", "severity": 2 }',
    ),
    2,
    "outOfRange",
    3,
    91,
    "scenario[0].severity",
  ],
  [
    "an accepted fault where it cannot be",
    withAccepted('{ "fault": "insect", "part": "tube", "reason": "none seen" }'),
    2,
    "wrongPlace",
    3,
    30,
    "accepted[0].part",
  ],
  [
    "an accepted fault without a reason",
    withAccepted('{ "fault": "ice", "part": "load", "reason": " " }'),
    2,
    "wrongType",
    3,
    45,
    "accepted[0].reason",
  ],
  [
    "an accepted fault on a band the tank has not",
    withAccepted('{ "fault": "ice", "part": "load", "band": "6 m", "reason": "no ice here" }'),
    2,
    "wrongPlace",
    3,
    43,
    "accepted[0].band",
  ],
  [
    "a monitor nobody knows",
    withEntry(
      '{ "atS": 0, "do": "configureMonitor", "monitor": "lowgain", "change": { "role": "off" } }',
    ),
    2,
    "unknownMonitor",
    3,
    50,
    "scenario[0].monitor",
  ],
  [
    "a criterion the monitor has not",
    withEntry(
      '{ "atS": 0, "do": "configureMonitor", "monitor": "lowGain", "change": { "criterion": 7 } }',
    ),
    2,
    "outOfRange",
    3,
    86,
    "scenario[0].change.criterion",
  ],
];

const ROWS = [...SYNTAX, ...HEADER, ...FIELDS, ...STATION, ...MONITORS, ...SCENARIO];

/** A hang guard, not a measure. */
const LONGEST_MS = 2000;

function neverReached(): never {
  throw new Error("a bad file reached the engine");
}

const ENGINE: Engine = {
  operatingPoint: neverReached,
  runScenario: neverReached,
  faults: neverReached,
  diagnose: neverReached,
};

/** Status and output of a command on a text. */
function commandOn(command: string, text: string) {
  let out = "";
  let error = "";
  const status = runCommand([command, "bad.json"], ENGINE, {
    read: () => ({ ok: true, bytes: new TextEncoder().encode(text) }),
    out: (words) => {
      out += words;
    },
    error: (words) => {
      error += words;
    },
  });
  return { status, out, error };
}

describe("a bad project file", () => {
  it.each(ROWS)(
    "with %s is refused where the fault stands",
    (_, text, status, code, line, column, place) => {
      const { result: reading, tookMs } = timed(() => readProject(text));
      expect(tookMs).toBeLessThan(LONGEST_MS);
      expect(reading.ok).toBe(false);
      if (reading.ok) return;
      const [problem] = reading.problems;
      expect([problem?.code, problem?.line, problem?.column, problem?.place]).toEqual([
        code,
        line,
        column,
        place,
      ]);
      expect(reading.problems.length).toBe(1);
      expect(problem?.message).toMatch(/\S/);
      expect(problem?.message).not.toMatch(/\.$|Invalid input|undefined/);
      expect(problem?.remedy).toMatch(/\S/);
      expect(problem?.remedy).not.toMatch(/Invalid input|undefined/);

      const begins = `bad.json:${line}:${column}: ${code}: `;
      const outcome = commandOn("operating-point", text);
      expect([outcome.status, outcome.out]).toEqual([status, ""]);
      expect(outcome.error.slice(0, begins.length)).toBe(begins);
    },
  );

  it("is shown in sixty ways at least", () => {
    expect(ROWS.length).toBeGreaterThanOrEqual(60);
  });

  it("opened on a running bench leaves the bench as it is, and its record", async () => {
    const bench = await runningBench();
    const hash = await bench.hash();
    const state = bench.state();
    for (const [what, text] of ROWS) {
      expect(await bench.open(text), what).toBe(false);
      expect(bench.state(), what).toBe(state);
    }
    expect(await bench.hash()).toBe(hash);
    bench.run(1);
    expect(await bench.hash()).not.toBe(hash); // it is still running
  });
});
