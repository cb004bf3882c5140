import { existsSync, statSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { decodeText } from "../../../src/shells/cli/decode";
import { readBounded } from "../../../src/shells/cli/readBounded";
import { ROOT } from "../../support/root";

const README = resolve(ROOT, "README.md");

describe("reading a file from the command line", () => {
  it("gives the whole of a file that is within the limit", () => {
    const file = readBounded(README, 1e7);
    expect(file.ok && file.bytes.length).toBe(statSync(README).size);
  });

  it("ends soon after the limit, even where the file never does", () => {
    const endless = existsSync("/dev/zero") ? "/dev/zero" : README; // no such file on every system
    const file = readBounded(endless, 1000);
    expect(file.ok && file.bytes.length).toBeGreaterThan(1000);
    expect(file.ok && file.bytes.length).toBeLessThanOrEqual(1000 + 1024 * 1024);
  });

  it.each([
    ["nowhere.json", "there is no such file", "Check the path"],
    ["src", "this is a folder, not a file", "Name a project file inside it"],
    ["package.json/x", "a part of the path is a file, not a folder", "Check the path"],
    ["a".repeat(5000), "the path is too long", "Check the path"],
    ["", "there is no such file", "Check the path"],
  ])("says why it cannot read %.20s", (path, reason, remedy) => {
    const file = readBounded(path === "" ? "" : resolve(ROOT, path), 1e7);
    expect(file).toEqual({ ok: false, reason, remedy });
  });

  it("sends the reader to the first byte that is no text", () => {
    // A picture begins 89 50 4e 47 0d 0a 1a 0a 00: two line ends, then a zero as byte 9.
    const picture = readBounded(resolve(ROOT, "public/bench.png"), 1e7);
    if (!picture.ok) throw new Error(picture.reason);
    expect(decodeText(picture.bytes)).toMatchObject({ code: "notText", line: 3, column: 1 });
  });
});
