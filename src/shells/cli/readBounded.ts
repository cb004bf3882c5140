/** Reads a file or standard input up to a limit, so that an endless one ends too. */
import { closeSync, fstatSync, openSync, readSync } from "node:fs";
import type { Surroundings } from "./engine";

const REASONS: Readonly<Record<string, readonly [reason: string, remedy: string]>> = {
  ENOENT: ["there is no such file", "Check the path"],
  EISDIR: ["this is a folder, not a file", "Name a project file inside it"],
  EACCES: ["this file may not be read", "Give yourself the right to read it"],
  ENOTDIR: ["a part of the path is a file, not a folder", "Check the path"],
  ENAMETOOLONG: ["the path is too long", "Check the path"],
};

const CHUNK = 1 << 20;

/** The bytes of `path` (`-` is standard input), at most one piece more than `most`. Never throws. */
export function readBounded(path: string, most: number): ReturnType<Surroundings["read"]> {
  let handle: number | null = null;
  try {
    handle = path === "-" ? 0 : openSync(path, "r");
    const stat = fstatSync(handle);
    if (stat.isDirectory()) return refusal("EISDIR");
    return { ok: true, bytes: readAll(handle, most) };
  } catch (problem) {
    return refusal((problem as NodeJS.ErrnoException).code ?? "unknown");
  } finally {
    if (handle !== null && handle !== 0) closeSync(handle);
  }
}

function refusal(code: string): ReturnType<Surroundings["read"]> {
  const [reason, remedy] = REASONS[code] ?? [`it cannot be read (${code})`, "Check the path"];
  return { ok: false, reason, remedy };
}

function readAll(handle: number, most: number): Uint8Array {
  const pieces: Buffer[] = [];
  let total = 0;
  while (total <= most) {
    const piece = Buffer.alloc(CHUNK);
    const got = readPiece(handle, piece);
    if (got === 0) break;
    pieces.push(piece.subarray(0, got));
    total += got;
  }
  return Buffer.concat(pieces);
}

/** Bytes read, 0 at the end. Standard input may have nothing yet, or end by an error. */
function readPiece(handle: number, piece: Buffer): number {
  for (;;) {
    try {
      return readSync(handle, piece);
    } catch (problem) {
      const { code } = problem as NodeJS.ErrnoException;
      if (code === "EOF") return 0;
      if (code !== "EAGAIN") throw problem;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
    }
  }
}
