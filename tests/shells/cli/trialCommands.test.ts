import { describe, expect, it } from "vitest";
import { tinyPlan, tinyTrial } from "../trials/trialRig";
import { Desk } from "./trialDesk";

const KIND = ["trial", "p.json", "--kind", "tolerance", "--seed", "7"];
const TRIAL = [...KIND, "--runs", "20"];

/** A desk on which a whole run and its shares have been written. */
async function deskWithShares(shares: number, workers = 2, runs = 20) {
  const desk = new Desk();
  const trial = [...KIND, "--runs", String(runs)];
  const whole = await desk.run(...trial, "--out", "whole.jsonl");
  const names: string[] = [];
  for (let k = 1; k <= shares; k++) {
    const name = `share${k}.jsonl`;
    names.push(name);
    const words = ["--out", name, "--part", `${k}/${shares}`, "--workers", String(workers)];
    expect((await desk.run(...trial, ...words)).status).toBe(0);
  }
  return { desk, whole, names };
}

describe("a trial on the command line", () => {
  it("writes what was run, then one line a case in order, and sums up on standard output", async () => {
    const desk = new Desk();
    const { status, out, error } = await desk.run(...TRIAL, "--out", "r.jsonl");
    expect([status, error]).toEqual([0, ""]);
    const [header, ...lines] = (desk.files.get("r.jsonl") ?? "").trimEnd().split("\n");
    expect(JSON.parse(header ?? "")).toMatchObject({
      format: "quietarc-trial",
      schemaVersion: 1,
      kind: "tolerance",
      seed: 7,
      runs: 20,
      options: {},
      count: 20,
      project: { format: "quietarc-project" },
    });
    const trial = tinyTrial(7, 20);
    expect(lines.map((line) => JSON.parse(line))).toEqual(
      Array.from({ length: 20 }, (_, index) => ({
        index,
        label: `unit ${index}`,
        outcome: trial.run(index),
      })),
    );
    expect(JSON.parse(out)).toMatchObject({
      kind: "tolerance",
      count: 20,
      done: 20,
      failed: [],
      summary: { known: 20 },
    });
  });

  it.each([
    [1, 3, 20],
    [9, 2, 20],
    [4, 5, 3], // more shares than cases leave some empty
  ])(
    "gives the same bytes on %d workers, and split in %d and joined, of %d cases",
    async (workers, shares, runs) => {
      const { desk, whole, names } = await deskWithShares(shares, workers, runs);
      names.reverse();
      const joined = await desk.run("merge", ...names, "--out", "all.jsonl");
      expect([joined.status, joined.error]).toEqual([0, ""]);
      expect(joined.out).toBe(whole.out);
      expect(desk.files.get("all.jsonl")).toBe(desk.files.get("whole.jsonl"));
      const [header, ...lines] = (desk.files.get("all.jsonl") ?? "").trimEnd().split("\n");
      expect([JSON.parse(header ?? "").count, lines.length]).toEqual([runs, runs]);
    },
  );

  it("keeps what it has when it is stopped, and goes on with it to the same bytes", async () => {
    const { desk, whole } = await deskWithShares(1);
    desk.stopAfter = 6;
    const stopped = await desk.run(...TRIAL, "--out", "r.jsonl");
    expect([stopped.status, stopped.out]).toEqual([130, ""]);
    expect(stopped.error).toMatch(/^p\.json: stopped: partial, \d+ of 20 cases; .*--resume/);
    const kept = (desk.files.get("r.jsonl") ?? "").trimEnd().split("\n").length - 1;
    expect(kept).toBeGreaterThan(0);
    expect(kept).toBeLessThan(20);
    // a file with gaps cannot pass for a whole run
    const refused = await desk.run("merge", "r.jsonl");
    expect(refused.status).toBe(2);
    expect(refused.error).toMatch(/missingCases: .* of 20 cases .*Finish r\.jsonl with --resume/);
    desk.stopAfter = Number.POSITIVE_INFINITY;
    const resumed = await desk.run(...TRIAL, "--out", "r.jsonl", "--resume");
    expect([resumed.status, resumed.out]).toEqual([0, whole.out]);
    expect(desk.files.get("r.jsonl")).toBe(desk.files.get("whole.jsonl"));
  });

  it("does not go on with the results of another run", async () => {
    const { desk } = await deskWithShares(1);
    const words = ["trial", "p.json", "--kind", "tolerance", "--runs", "20", "--seed", "8"];
    const { status, error } = await desk.run(...words, "--out", "whole.jsonl", "--resume");
    expect(status).toBe(2);
    expect(error).toMatch(/^whole\.jsonl: otherRun: /);
  });

  it("says that earlier results have been replaced, but not of those that were gone on with", async () => {
    const desk = new Desk();
    expect((await desk.run(...TRIAL, "--out", "r.jsonl")).error).toBe("");
    const again = await desk.run(...KIND, "--runs", "10", "--out", "r.jsonl");
    const notice = "r.jsonl: notice: the results that stood here have been replaced.\n";
    expect([again.status, again.error]).toEqual([0, notice]);
    const resumed = await desk.run(...KIND, "--runs", "10", "--out", "r.jsonl", "--resume");
    expect([resumed.status, resumed.error, resumed.out]).toEqual([0, "", again.out]);
    const joined = await desk.run("merge", "r.jsonl", "--out", "r.jsonl");
    expect([joined.status, joined.error, joined.out]).toEqual([0, notice, again.out]);
  });

  it("never writes over a file that holds no results of a trial", async () => {
    const desk = new Desk();
    await desk.run(...TRIAL, "--out", "r.jsonl");
    const project = desk.files.get("p.json");
    for (const words of [[...TRIAL], ["merge", "r.jsonl"]]) {
      const { status, out, error } = await desk.run(...words, "--out", "p.json");
      expect([status, out]).toEqual([2, ""]);
      expect(error).toBe(
        "p.json: notResults: the file is there already and holds no results of a trial. Name another file, or move that one away.\n",
      );
      expect(desk.files.get("p.json")).toBe(project);
    }
    // an empty file holds nothing that could be lost, nor does one of blanks
    for (const blank of ["", "\n", " \r\n"]) {
      desk.files.set("empty.jsonl", blank);
      const { status, error } = await desk.run(...TRIAL, "--out", "empty.jsonl");
      expect([status, error]).toEqual([0, ""]);
    }
  });

  it("names a case that fails twice, runs all others, and ends with status 1", async () => {
    const desk = new Desk();
    desk.mischief = [{ index: 4, how: "crash", times: 9 }];
    const { status, out, error } = await desk.run(...TRIAL, "--out", "r.jsonl");
    expect(status).toBe(1);
    expect(error).toMatch(/^p\.json: caseFailed: the case "unit 4" failed twice: out of memory\. /);
    expect(JSON.parse(out)).toMatchObject({
      done: 19,
      failed: [{ index: 4, label: "unit 4", words: "out of memory" }],
    });
    expect((desk.files.get("r.jsonl") ?? "").split("\n")[5]).toBe(
      '{"index":4,"label":"unit 4","outcome":null,"failed":"out of memory"}',
    );
    // the failure survives being joined
    expect((await desk.run("merge", "r.jsonl")).status).toBe(1);
  });

  it("tells the progress to who watches, and leaves the line clean", async () => {
    const desk = new Desk();
    desk.isWatched = true;
    const { error } = await desk.run(...TRIAL);
    expect(error).toMatch(/\r\d+ of 20/);
    expect(error.endsWith("\r\u001b[K")).toBe(true);
  });

  it("takes options of the kind from a file or as they stand", async () => {
    const desk = new Desk();
    desk.files.set("o.json", '{ "swr": 2 }');
    const written = await desk.run(...TRIAL, "--options", '{"swr":2}');
    expect(JSON.parse(written.out)).toMatchObject({ options: { swr: 2 } });
    expect((await desk.run(...TRIAL, "--options", "o.json")).out).toBe(written.out);
  });

  it.each([
    [["trial"], /missingFile: trial needs a project file/],
    [["trial", "p.json"], /missingOption: --kind is missing\. Say one of coverage, /],
    [
      ["trial", "p.json", "--kind", "coverage", "--runs", "3"],
      /^--runs: badRuns: It counts its own cases\. Leave --runs out\.$/m,
    ],
    [["trial", "p.json", "--kind", "luck"], /unknownKind: there is no kind "luck"/],
    [[...TRIAL, "q.json"], /surplusWord: "q\.json"/],
    [[...TRIAL, "--seed", "8"], /repeatedOption: --seed stands twice/],
    [[...TRIAL, "--turbo"], /unknownOption: "--turbo" is no option of trial\. It has --kind, /],
    [[...TRIAL, "-x"], /unknownOption: "-x"/],
    [[...TRIAL, "--out"], /missingValue: --out needs a value/],
    [[...TRIAL, "--out", "--resume"], /missingValue: --out needs a value/],
    [[...TRIAL, "--resume"], /missingOption: --resume needs --out/],
    [[...TRIAL, "--resume=yes", "--out", "a"], /surplusValue: --resume takes no value/],
    [[...TRIAL, "--workers", "0"], /badNumber: --workers is "0", .* from 1 to 256/],
    [[...TRIAL, "--workers", "many"], /badNumber: --workers is "many"/],
    [[...TRIAL, "--workers", "1.5"], /notWhole: --workers is 1\.5/],
    [[...TRIAL, "--part", "3/2"], /badPart: --part is "3\/2"/],
    [[...TRIAL, "--part", "0/2"], /badPart/],
    [[...TRIAL, "--out", "nowhere/r.jsonl"], /^nowhere\/r\.jsonl: cannotWrite: its folder/],
    [[...TRIAL, "--options", '{"a":1,\n "b" 2}'], /^--options:2:6: notJson: /],
    [[...TRIAL, "--options", '{"a":1,"a":2}'], /^--options: duplicateKey: "a" stands twice/],
    [[...TRIAL, "--options", "[1]"], /^--options: wrongType: this is no object\. Write \{/],
    [[...TRIAL, "--options", " ["], /^--options:1:3: notJson: /],
    [[...TRIAL, "--options", '{"swr":0.5}'], /^--options: badOptions: options\.swr has to be /],
    [[...TRIAL, "--options", "low.json"], /^low\.json: badOptions: options\.swr has to be /],
    [[...TRIAL, "--options", "gone.json"], /^gone\.json: cannotRead: /],
    [["trial", "gone.json", "--kind", "tolerance"], /^gone\.json: cannotRead: there is no such/],
  ] as const)("refuses %j with the cause and a remedy", async (words, complaint) => {
    const desk = new Desk();
    desk.files.set("low.json", '{ "swr": 0.5 }');
    const { status, out, error } = await desk.run(...words);
    expect([status, out]).toEqual([2, ""]);
    expect(error).toMatch(complaint);
    expect(error.trimEnd().split("\n")).toHaveLength(1);
  });

  it("says which numbers of runs would do, and what to write", async () => {
    const desk = new Desk();
    desk.plan = (request) =>
      request.runs === 5
        ? {
            ok: false,
            problem: "5 are too few",
            at: "runs",
            runsThatFit: { least: 12, worthReading: 1200, orElse: "ask for less" },
          }
        : tinyPlan(request);
    const { status, error } = await desk.run(...KIND, "--runs", "5");
    expect([status, error]).toEqual([
      2,
      "--runs: badRuns: 5 are too few. Write a number from 12 to 10000000, for figures worth reading some 1200, or ask for less.\n",
    ]);
    expect((await desk.run(...KIND, "--runs", "12")).status).toBe(0);
  });

  it("shows the place in a bad project, and says when nothing can be planned", async () => {
    const desk = new Desk();
    desk.files.set(
      "bad.json",
      '{ "format": "quietarc-project",\n "schemaVersion": 1, "seed": -1 }',
    );
    const bad = await desk.run("trial", "bad.json", "--kind", "tolerance");
    expect(bad.status).toBe(2);
    expect(bad.error).toMatch(/^bad\.json:2:30: outOfRange: /);
  });
});

/** Made once: nothing here is ever written over. */
const refusedFiles = (async () => {
  const { desk } = await deskWithShares(2);
  const text = (name: string): string => desk.files.get(name) ?? "";
  const words = ["trial", "p.json", "--kind", "tolerance", "--runs", "20", "--seed"];
  await desk.run(...words, "8", "--part", "2/2", "--out", "seed.jsonl");
  await desk.run(...words, "7", "--part", "2/3", "--out", "third.jsonl");
  words[1] = "other.json";
  await desk.run(...words, "7", "--part", "2/2", "--out", "project.jsonl");
  desk.files.set("cut.jsonl", text("share2.jsonl").slice(0, -20));
  desk.files.set(
    "later.jsonl",
    text("share1.jsonl").replace('"schemaVersion":1', '"schemaVersion":9'),
  );
  desk.files.set("changed.jsonl", text("share1.jsonl").replace(/"endS":[\d.]+/, '"endS":2.5'));
  const lines = text("share2.jsonl").split("\n");
  lines[2] = text("share1.jsonl").split("\n")[1] ?? "";
  desk.files.set("stray.jsonl", lines.join("\n"));
  return desk;
})();

describe("shares that are joined", () => {
  it.each([
    [
      "twice the same",
      ["share1.jsonl", "share2.jsonl", "share1.jsonl"],
      /^share1\.jsonl:2: repeatedCase: case 0 stands at share1\.jsonl:2 as well/,
    ],
    [
      "one short",
      ["share1.jsonl"],
      /^quietarc: missingCases: 10 of 20 cases are in no file: 10, 11, 12, 13, 14, 15, 16, 17, \.\.\.\. Give share 2\/2\./,
    ],
    [
      "of another seed",
      ["share1.jsonl", "seed.jsonl"],
      /^seed\.jsonl:1: otherRun: its seed is not that of share1\.jsonl\. /,
    ],
    [
      "of another project",
      ["share1.jsonl", "project.jsonl"],
      /^project\.jsonl:1: otherRun: its project is not that of share1\.jsonl/,
    ],
    [
      "of another split",
      ["share1.jsonl", "third.jsonl"],
      /^third\.jsonl:1: otherRun: its number of shares is not/,
    ],
    ["cut off inside a line", ["share1.jsonl", "cut.jsonl"], /^cut\.jsonl:11: notResult: /],
    [
      "with a stray case",
      ["share1.jsonl", "stray.jsonl"],
      /^stray\.jsonl:3: strayCase: case 0 is none of share 2\/2/,
    ],
    ["no results at all", ["p.json"], /^p\.json:1: notResults: /],
    ["of a later program", ["later.jsonl"], /^later\.jsonl:1: notResults: its schemaVersion is 9/],
    [
      "with a changed project",
      ["changed.jsonl"],
      /^changed\.jsonl:1: notResults: the project in the first line is not the one/,
    ],
    ["none", [], /^quietarc: missingFile: /],
  ] as const)("are refused: %s", async (_, files, complaint) => {
    const desk = await refusedFiles;
    const { status, out, error } = await desk.run("merge", ...files, "--out", "all.jsonl");
    expect([status, out, desk.files.has("all.jsonl")]).toEqual([2, "", false]);
    expect(error).toMatch(complaint);
  });

  it("say so where this version of the program makes another number of cases of the run", async () => {
    const { desk } = await deskWithShares(1);
    const text = (desk.files.get("whole.jsonl") ?? "").replace('"count":20', '"count":19');
    desk.files.set("old.jsonl", text.split("\n").slice(0, 20).join("\n"));
    const { status, error } = await desk.run("merge", "old.jsonl");
    expect(status).toBe(2);
    expect(error).toMatch(/^old\.jsonl: otherVersion: the run had 19 cases, this version makes 20/);
  });

  it("say so where this version no longer runs what they record, and name no word that merge lacks", async () => {
    const { desk } = await deskWithShares(1);
    const problem = "a trial of coverage has no number of runs";
    desk.plan = () => ({ ok: false, problem, at: "runs" });
    const { status, error } = await desk.run("merge", "whole.jsonl");
    expect(status).toBe(2);
    expect(error).toMatch(
      /^whole\.jsonl:1: otherVersion: .*no number of runs\. Run the trial again/,
    );
    expect(error).not.toContain("--runs");
  });
});
