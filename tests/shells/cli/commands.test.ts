import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { runCommand } from "../../../src/shells/cli/commands";
import type { Engine } from "../../../src/shells/cli/engine";
import { ROOT } from "../../support/root";

const HEAD = '{ "format": "quietarc-project", "schemaVersion": 1';
const files: Readonly<Record<string, string>> = {
  "good.json": readFileSync(resolve(ROOT, "public/projects/skerry-light-insect.json"), "utf8"),
  "point.json": `${HEAD} }`,
  "marked.json": `\ufeff${HEAD} }`,
  "late.json": `${HEAD}, "endS": 1, "scenario": [{ "atS": 2, "do": "reset" }] }`,
  "comma.json": `${HEAD},\n}`,
  "negative.json": `${HEAD}, "station": {\n  "load": { "kind": "admittance",\n    "conductanceSiemens": -0.02 } } }`,
  "many.json": `${HEAD}, "scenario": [${'{ "atS": -1, "do": "reset" },\n'.repeat(24)}{ "atS": -1, "do": "reset" }] }`,
  "-": `${HEAD} }`,
};

/** Files that are no text. */
const RAW: Readonly<Record<string, Uint8Array>> = {
  "latin.json": Uint8Array.of(0x7b, 0x0a, 0x22, 0xe9, 0x22, 0x7d), // {, new line, "e with acute" in Latin-1
  "cut.json": Uint8Array.of(0x7b, 0x22, 0xc3, 0xa9, 0xe2, 0x82), // ends inside a sequence of three
  "wide.json": Uint8Array.of(0xff, 0xfe, 0x7b, 0x00), // UTF-16 with its mark
  "picture.png": Uint8Array.of(0x50, 0x4e, 0x0d, 0x0a, 0x00, 0x1a),
  "empty.json": new Uint8Array(0),
  "huge.json": new Uint8Array(20_000_001).fill(0x20),
};

const engine: Engine = {
  operatingPoint: (station) => ({
    ok: true,
    point: { outputW: station.exciter.availableW, gainDb: Number.NEGATIVE_INFINITY },
  }),
  faults: (project) => ({ ok: true, result: { tube: project.station.tube.kind } }),
  diagnose: (project) => ({ ok: true, result: { asked: project.scenario.length } }),
  runScenario: (project) => ({
    ok: true,
    result: { entries: project.scenario.length, marginS: Number.NaN },
    notices: [],
  }),
};

interface Outcome {
  readonly status: number;
  readonly out: string;
  readonly error: string;
}

function run(words: readonly string[], over: Partial<Engine> = {}): Outcome {
  let out = "";
  let error = "";
  const status = runCommand(
    words,
    { ...engine, ...over },
    {
      read: (path) => {
        const raw = RAW[path];
        if (raw !== undefined) return { ok: true, bytes: raw };
        const text = files[path];
        if (text === undefined) {
          return { ok: false, reason: "there is no such file", remedy: "Check the path" };
        }
        return { ok: true, bytes: new TextEncoder().encode(text) };
      },
      out: (text) => {
        out += text;
      },
      error: (text) => {
        error += text;
      },
    },
  );
  return { status, out, error };
}

describe("the command line", () => {
  it("prints one JSON object and nothing else when all is well", () => {
    const { status, out, error } = run(["operating-point", "point.json"]);
    expect([status, error]).toEqual([0, ""]);
    // 62 W is the demonstration station's full drive; JSON has no word for an infinite value.
    expect(JSON.parse(out)).toEqual({ outputW: 62, gainDb: null });
    expect(out.endsWith("}\n")).toBe(true);
  });

  it("plays the scenario of a project", () => {
    const { status, out } = run(["simulate", "good.json"]);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toEqual({ entries: 2, marginS: null });
  });

  it("reads standard input for a dash, and a file with a byte order mark", () => {
    expect(run(["operating-point", "-"]).status).toBe(0);
    expect(run(["operating-point", "marked.json"]).status).toBe(0);
  });

  it("prints the table of fields, which needs no file", () => {
    const { status, out, error } = run(["fields"]);
    expect([status, error]).toEqual([0, ""]);
    expect(out).toMatch(/^A project file is one JSON object/);
    expect(out).toMatch(/\n {2}availableW +W +62 +full drive/);
  });

  it("keeps notices off standard output", () => {
    const { status, out, error } = run(["simulate", "late.json"]);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ entries: 1 });
    expect(error).toMatch(/^late\.json: notice: scenario: /);
  });

  it("prints its usage as a result when asked, as a complaint when nothing was said", () => {
    for (const words of [["help"], ["--help"], ["-h"], ["simulate", "--help"]]) {
      const { status, out, error } = run(words);
      expect([status, error]).toEqual([0, ""]);
      expect(out).toMatch(/^usage: quietarc COMMAND FILE/);
      expect(out.replace(/\s+/g, " ")).toContain(
        "--out FILE results as JSON Lines (replaces earlier results, refuses a file that holds anything else), ",
      );
      for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(90);
    }
    const { status, out, error } = run([]);
    expect([status, out]).toEqual([2, ""]);
    expect(error).toMatch(/^usage: quietarc COMMAND FILE/);
  });
});

/** Words, exit status and the beginning of the first line on standard error, all written by hand. */
const REFUSALS: readonly (readonly [words: string, status: number, begins: string])[] = [
  ["simulat good.json", 2, 'quietarc: unknownCommand: there is no command "simulat". '],
  ["constructor good.json", 2, 'quietarc: unknownCommand: there is no command "constructor". '],
  ["operating-point", 2, "quietarc: missingFile: operating-point needs a project file. "],
  ["simulate", 2, "quietarc: missingFile: simulate needs a project file. "],
  ["simulate good.json good.json", 2, 'quietarc: surplusWord: "good.json" follows the file. '],
  ["simulate --fast good.json", 2, 'quietarc: unknownOption: "--fast" is no option of simulate. '],
  ["simulate absent.json", 2, "absent.json: cannotRead: there is no such file. Check the path."],
  ["--fast simulate good.json", 2, 'quietarc: unknownOption: "--fast" is no option. Begin with '],
  [
    "fields good.json",
    2,
    'quietarc: surplusWord: "good.json" follows fields, which reads no file.',
  ],
  ["simulate latin.json", 2, "latin.json:2:2: notUtf8: byte 4 (e9 hexadecimal) is no UTF-8. Save "],
  ["simulate cut.json", 2, "cut.json:1:4: notUtf8: byte 5 (e2 hexadecimal) is no UTF-8. Save the "],
  ["simulate wide.json", 2, "wide.json:1:1: notUtf8: the file is UTF-16 text. Save it as UTF-8."],
  [
    "simulate picture.png",
    2,
    "picture.png:2:1: notText: byte 5 is zero, so this is no text. Give ",
  ],
  [
    "simulate empty.json",
    2,
    "empty.json:1:1: emptyFile: the file is empty. Save the project again",
  ],
  [
    "simulate huge.json",
    2,
    "huge.json: tooLarge: the file has more than 20000000 bytes. A project ",
  ],
  ["simulate point.json", 2, "point.json: noScenario: the project has no scenario to play. "],
  ["simulate comma.json", 2, "comma.json:1:51: notJson: a comma stands before the closing }. "],
  ["operating-point negative.json", 2, "negative.json:3:27: notPassive: a conductance of -0.02 S "],
  ["operating-point many.json", 2, "many.json:1:75: outOfRange: scenario[0].atS is -1 s, "],
];

describe("the command line refuses", () => {
  it.each(REFUSALS)("%s with status %i", (words, status, begins) => {
    const outcome = run(words.split(" "));
    expect([outcome.status, outcome.out]).toEqual([status, ""]);
    expect(outcome.error.slice(0, begins.length)).toBe(begins);
    expect(outcome.error.split("\n")[0]).toMatch(/[.?]$/);
    // The remedy is a sentence of its own, behind the cause.
    expect(outcome.error.split("\n")[0]).toMatch(/[a-z0-9"})] *[.?] [A-Z]/);
  });

  it("a bad file with three lines of it and the column marked", () => {
    expect(run(["operating-point", "negative.json"]).error.split("\n").slice(1)).toEqual([
      '  2 |   "load": { "kind": "admittance",',
      '  3 |     "conductanceSiemens": -0.02 } } }',
      "    |                           ^",
      "",
    ]);
  });

  it("with twenty problems at most, and counts the rest", () => {
    const { error } = run(["operating-point", "many.json"]);
    expect(error.match(/outOfRange/g)?.length).toBe(20);
    expect(error.endsWith("many.json: and 5 more.\n")).toBe(true);
  });
});

describe("the command line refuses a station", () => {
  it("that cannot be built as asked, and says why", () => {
    const { status, out, error } = run(["operating-point", "point.json"], {
      operatingPoint: () => ({ ok: false, kind: "design", problem: "the load is too small" }),
    });
    expect([status, out]).toEqual([2, ""]);
    expect(error).toMatch(/^point\.json: cannotDesign: the load is too small\. /);
  });
});

describe("the command line fails with status 1", () => {
  it("when the solver does not converge, and gives the residual", () => {
    const { status, out, error } = run(["operating-point", "point.json"], {
      operatingPoint: () => ({ ok: false, kind: "convergence", residual: 0.125 }),
    });
    expect([status, out]).toEqual([1, ""]);
    expect(error).toMatch(/^point\.json: noConvergence: .*0\.125/);
  });

  it("when the program itself is at fault, and says so", () => {
    const { status, out, error } = run(["simulate", "good.json"], {
      runScenario: () => {
        throw new Error("invalid sample: -3");
      },
    });
    expect([status, out]).toEqual([1, ""]);
    expect(error).toMatch(/^good\.json: internalFault: invalid sample: -3\. /);
  });

  it("says on standard error what was changed of what monitors were asked for, and is done", () => {
    const { status, out, error } = run(["simulate", "good.json"], {
      runScenario: () => ({ ok: true, result: {}, notices: ["Low gain: rounded"] }),
    });
    expect([status, JSON.parse(out)]).toEqual([0, {}]);
    expect(error).toBe("good.json: notice: Low gain: rounded.\n");
  });
});

describe("diagnose", () => {
  it("plays the scenario and prints what the engine makes of its trips", () => {
    const { status, out, error } = run(["diagnose", "good.json"]);
    expect([status, error]).toEqual([0, ""]);
    expect(JSON.parse(out)).toHaveProperty("asked");
  });

  it("wants something to play", () => {
    const { status, error } = run(["diagnose", "point.json"]);
    expect(status).toBe(2);
    expect(error).toMatch(/^point\.json: noScenario: /);
  });
});

describe("faults", () => {
  it("asks the engine of the file's station, scenario or none", () => {
    const { status, out, error } = run(["faults", "point.json"]);
    expect([status, error, JSON.parse(out)]).toEqual([0, "", { tube: "triode" }]);
  });
});
