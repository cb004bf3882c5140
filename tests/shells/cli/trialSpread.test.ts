/**
 * A trial spread over processes by the shell lines of the README, as they stand there. Three things are put in their place:
 * a handful of cases instead of a whole coverage, the folder, and `node` instead of `npm run`, which starts slower.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ROOT } from "../../support/root";

const NPM = "npm run -s quietarc --";
const NODE = `${process.execPath} ${resolve(ROOT, "src/shells/node/quietarc.mjs")}`;
/** Nothing is on its way to damage with these, so their cells cost no run; here it is the way of the results that counts. */
const FEW = {
  faults: ["sensorOpen", "driveInhibitFailed"],
  bands: ["20 m"],
  drivesW: [62],
  swr: 1,
};

const folder = mkdtempSync(join(tmpdir(), "quietarc-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const readme = readFileSync(resolve(ROOT, "README.md"), "utf8");
const section = /<!-- spread:begin -->([\s\S]*)<!-- spread:end -->/.exec(readme)?.[1] ?? "";
const [inParallel = "", alone = ""] = [...section.matchAll(/```sh\n([\s\S]*?)```/g)].map(
  ([, text]) => text,
);

function shell(script: string) {
  const { status, stdout, stderr } = spawnSync("bash", ["-c", script], {
    cwd: ROOT,
    encoding: "utf8",
  });
  return { status, out: stdout, error: stderr };
}

/** The lines, with `lines` of them for what shares the work out. */
function spread(name: string, lines: (line: string) => string) {
  const own = join(folder, name);
  const script = inParallel
    .split("\n")
    .map((line) => {
      if (line.startsWith("N=")) return "N=2";
      if (line.startsWith("D=")) return `D=${own}; mkdir -p $D`;
      if (line.startsWith("TRIAL=")) return line.replace(/"$/, ` --options ${folder}/few.json"`);
      return lines(line);
    })
    .join("\n")
    .replaceAll(NPM, NODE);
  const ended = shell(`set -e\n${script}`);
  return { ...ended, joined: () => readFileSync(join(own, "all.jsonl"), "utf8") };
}

const hasParallel = shell("command -v parallel").status === 0;

describe("a trial spread over processes", () => {
  let whole = { out: "", file: "" };

  beforeAll(() => {
    writeFileSync(join(folder, "few.json"), JSON.stringify(FEW));
    const [setting = ""] = inParallel.split("\n");
    const trial = setting.replace(/"$/, ` --options ${folder}/few.json"`).replaceAll(NPM, NODE);
    const { status, out, error } = shell(`${trial}\n$TRIAL --out ${folder}/whole.jsonl`);
    expect([status, error]).toEqual([0, ""]);
    whole = { out, file: readFileSync(join(folder, "whole.jsonl"), "utf8") };
    expect(whole.file.split("\n").length).toBeGreaterThan(8);
  });

  it("by jobs of the shell gives the bytes of one run", () => {
    const { status, out, error, joined } = spread("jobs", (line) =>
      line.startsWith("seq ") ? alone : line,
    );
    expect([status, error]).toEqual([0, ""]);
    expect(out).toBe(whole.out);
    expect(joined()).toBe(whole.file);
  });

  // a machine without GNU parallel runs the lines above, which differ in one line alone
  it(`by GNU parallel gives the bytes of one run (${hasParallel ? "it is here" : "it is not here: its refusal is looked at"})`, () => {
    const { status, out, joined } = spread("parallel", (line) => line);
    if (!hasParallel) {
      expect(status).not.toBe(0);
      return;
    }
    expect(status).toBe(0);
    expect(out).toBe(whole.out);
    expect(joined()).toBe(whole.file);
  });
});
