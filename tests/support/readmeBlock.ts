/** Computed parts of the README: each stands between two markers that carry its name. */
import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { ROOT } from "./root";

const FILE = resolve(ROOT, "README.md");

function markers(name: string): readonly [begin: string, end: string] {
  return [`<!-- ${name}:begin -->`, `<!-- ${name}:end -->`];
}

/** What stands between the markers now; null without markers. */
export function writtenBlock(name: string): string | null {
  const text = readFileSync(FILE, "utf8");
  const [begin, end] = markers(name);
  const from = text.indexOf(begin);
  const to = text.indexOf(end);
  return from < 0 || to < from ? null : text.slice(from + begin.length, to).trim();
}

/** Puts a text between the markers, which must be there. */
export function writeBlock(name: string, block: string): void {
  const text = readFileSync(FILE, "utf8");
  const [begin, end] = markers(name);
  const from = text.indexOf(begin);
  const to = text.indexOf(end);
  if (from < 0 || to < from) throw new Error(`no markers ${begin} and ${end} in ${FILE}`);
  const next = `${text.slice(0, from)}${begin}\n${block}\n${text.slice(to)}`;
  writeFileSync(FILE, next);
}
