import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { operatingPoint } from "../../src/simulation/operatingPoint";
import { ROOT } from "../support/root";

const readme = readFileSync(resolve(ROOT, "README.md"), "utf8");
const example = readme.slice(
  readme.indexOf("<!-- own:begin -->"),
  readme.indexOf("<!-- own:end -->"),
);

describe("the README's own amplifier", () => {
  it("is read without a complaint and gives the figures printed beside it", () => {
    const file = /```json\n([\s\S]*?)```/.exec(example)?.[1] ?? "";
    const reading = readProject(file);
    if (!reading.ok) throw new Error(reading.problems[0]?.message);
    const solved = operatingPoint(reading.project.station);
    if (!solved.ok) throw new Error(solved.kind);
    const printed = [...example.matchAll(/^\| (\w+) \| ([\d.]+) \|$/gm)];
    const computed = printed.map(([, name]) => {
      const value = solved.point[name as keyof typeof solved.point];
      return `${name} ${Number(value.toPrecision(3))}`;
    });
    expect(printed.map(([, name, value]) => `${name} ${value}`)).toEqual(computed);
    expect(printed.length).toBe(7);
  });
});
