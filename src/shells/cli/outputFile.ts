/** A file that is written whole or not at all: beside its place first, then put there. */
import {
  closeSync,
  openSync,
  readSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import type { Opening, Unwritable } from "./trialSurroundings";

const REASONS: Readonly<Record<string, readonly [reason: string, remedy: string]>> = {
  ENOENT: ["its folder is not there", "Make the folder, or check the path"],
  EISDIR: ["this is a folder, not a file", "Name a file inside it"],
  ENOTDIR: ["a part of the path is a file, not a folder", "Check the path"],
  EACCES: [
    "nothing may be written here",
    "Give yourself the right to write, or name another place",
  ],
  EROFS: ["nothing can be written here", "Name another place"],
  ENOSPC: ["the disk is full", "Make room, or name another place"],
};

/** Never throws. What is no plain file, such as a pipe, is written to as it is. */
export function openOutputFile(path: string): Opening {
  if (path === "-") {
    const reason = "standard output holds the summary";
    return { ok: false, reason, remedy: "Name a file" };
  }
  try {
    const stat = statSync(path, { throwIfNoEntry: false });
    if (stat?.isDirectory()) return { ok: false, ...because("EISDIR") };
    const isPlain = stat === undefined || stat.isFile();
    const target = stat === undefined ? path : realpathSync(path);
    const beginning = stat?.isFile() ? beginningOf(target) : NOTHING;
    if (!beginning.ok) return beginning;
    const { holds } = beginning;
    const beside = isPlain ? `${target}.${process.pid}.part` : target;
    if (isPlain) closeSync(openSync(beside, "w"));
    return {
      ok: true,
      output: {
        holds,
        write(text) {
          try {
            writeFileSync(beside, text);
            if (isPlain) renameSync(beside, target);
            return null;
          } catch (problem) {
            return because((problem as NodeJS.ErrnoException).code);
          }
        },
        discard() {
          if (isPlain) rmSync(beside, { force: true });
        },
      },
    };
  } catch (problem) {
    return { ok: false, ...because((problem as NodeJS.ErrnoException).code) };
  }
}

/** Enough to know a file by. */
const BEGINNING_BYTES = 256;

type Beginning =
  | { readonly ok: true; readonly holds: string }
  | ({ readonly ok: false } & Unwritable);

const NOTHING: Beginning = { ok: true, holds: "" };

/** The first characters that are not all blank; what may not be read is not written over. */
function beginningOf(path: string): Beginning {
  let file: number | null = null;
  try {
    file = openSync(path, "r");
    const bytes = Buffer.alloc(BEGINNING_BYTES);
    for (let at = 0; ; ) {
      const got = readSync(file, bytes, 0, BEGINNING_BYTES, at);
      const holds = bytes.toString("latin1", 0, got);
      if (got === 0 || holds.trim() !== "") return { ok: true, holds };
      at += got;
    }
  } catch (problem) {
    const { code = "unknown" } = problem as NodeJS.ErrnoException;
    const [may, remedy] =
      code === "EACCES"
        ? ["may not be read", "Give yourself the right to read it, or name another file"]
        : [`cannot be read (${code})`, "Name another file"];
    const reason = `the file that is there ${may}, so nothing says that it holds results`;
    return { ok: false, reason, remedy };
  } finally {
    if (file !== null) closeSync(file);
  }
}

function because(code = "unknown"): Unwritable {
  const [reason, remedy] = REASONS[code] ?? [`it cannot be written (${code})`, "Check the path"];
  return { reason, remedy };
}
