import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { openOutputFile } from "../../../src/shells/cli/outputFile";

/** Rights that bind whoever runs this: the system's own do not bind the administrator. */
const denied = vi.hoisted(() => ({ flags: "" }));
vi.mock("node:fs", async (original) => {
  const fs = await original<typeof import("node:fs")>();
  const openSync: typeof fs.openSync = (path, flags, mode) => {
    if (flags === denied.flags)
      throw Object.assign(new Error("permission denied"), { code: "EACCES" });
    return fs.openSync(path, flags, mode);
  };
  return { ...fs, openSync };
});

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "quietarc-"));
});
afterEach(() => {
  denied.flags = "";
  rmSync(folder, { recursive: true, force: true });
});

function opened(path: string) {
  const opening = openOutputFile(path);
  if (!opening.ok) throw new Error(opening.reason);
  return opening.output;
}

describe("a file of results", () => {
  it("stays as it was until it is whole, and leaves nothing beside it", () => {
    const path = join(folder, "r.jsonl");
    writeFileSync(path, "before");
    const output = opened(path);
    expect(readFileSync(path, "utf8")).toBe("before");
    expect(output.holds).toBe("before");
    expect(output.write("after")).toBeNull();
    expect([readFileSync(path, "utf8"), readdirSync(folder)]).toEqual(["after", ["r.jsonl"]]);
  });

  it("is not made where nothing came of it", () => {
    const output = opened(join(folder, "r.jsonl"));
    expect(output.holds).toBe("");
    output.discard();
    expect(readdirSync(folder)).toEqual([]);
  });

  it("is written where a link points", () => {
    const real = join(folder, "real.jsonl");
    writeFileSync(real, "");
    symlinkSync(real, join(folder, "link.jsonl"));
    opened(join(folder, "link.jsonl")).write("text");
    expect(readFileSync(real, "utf8")).toBe("text");
  });

  it("is refused before any work where it cannot be written", () => {
    mkdirSync(join(folder, "in"));
    writeFileSync(join(folder, "file"), "");
    expect(openOutputFile("-")).toMatchObject({ reason: "standard output holds the summary" });
    expect(openOutputFile(join(folder, "in"))).toMatchObject({
      ok: false,
      reason: "this is a folder, not a file",
    });
    expect(openOutputFile(join(folder, "no", "r"))).toMatchObject({
      reason: "its folder is not there",
    });
    expect(openOutputFile(join(folder, "file", "r"))).toMatchObject({ ok: false });
  });

  it("says of one that is there whether it is reading or writing that is not allowed", () => {
    const path = join(folder, "r.jsonl");
    writeFileSync(path, "before");
    denied.flags = "r";
    expect(openOutputFile(path)).toEqual({
      ok: false,
      reason: "the file that is there may not be read, so nothing says that it holds results",
      remedy: "Give yourself the right to read it, or name another file",
    });
    denied.flags = "w";
    expect(openOutputFile(path)).toMatchObject({ reason: "nothing may be written here" });
    expect([readFileSync(path, "utf8"), readdirSync(folder)]).toEqual(["before", ["r.jsonl"]]);
  });

  it("is known by what stands after any blanks, however many", () => {
    const path = join(folder, "r.jsonl");
    writeFileSync(path, "\n".repeat(1000));
    expect(opened(path).holds.trim()).toBe("");
    writeFileSync(path, `${"\n".repeat(1000)}precious`);
    expect(opened(path).holds.trim()).toBe("precious");
  });
});
