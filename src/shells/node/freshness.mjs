/** Whether something built is older than what it was built from. */
import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";

/**
 * Latest change, in ms, of a file or of anything below a folder. Folders count too: deleting a file touches only them.
 * A path that does not exist counts as never changed.
 * @param {string} path
 * @returns {number}
 */
export function newestChangeMs(path) {
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) return 0;
  if (!stat.isDirectory()) return stat.mtimeMs;
  let newest = stat.mtimeMs;
  for (const name of readdirSync(path)) newest = Math.max(newest, newestChangeMs(join(path, name)));
  return newest;
}

/**
 * True when `built` is missing or older than any of `sources`.
 * @param {string} built
 * @param {readonly string[]} sources
 */
export function isStale(built, sources) {
  const builtMs = statSync(built, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  return sources.some((source) => newestChangeMs(source) >= builtMs);
}
