import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, test } from "@playwright/test";

interface ManifestChunk {
  readonly file: string;
  readonly isEntry?: boolean;
  readonly imports?: readonly string[];
  readonly css?: readonly string[];
  readonly assets?: readonly string[];
}

const dist = resolve(import.meta.dirname, "../../dist");

/**
 * Files the page needs before it shows anything: the entry, what it imports at once, their style sheets, and the
 * engine's worker, which it starts at once.
 */
function firstLoadFiles(): readonly string[] {
  const manifest = JSON.parse(
    readFileSync(resolve(dist, ".vite/manifest.json"), "utf8"),
  ) as Readonly<Record<string, ManifestChunk>>;
  const files = new Set<string>();
  const take = (key: string): void => {
    const chunk = manifest[key];
    if (chunk === undefined || files.has(chunk.file)) return;
    files.add(chunk.file);
    for (const sheet of chunk.css ?? []) files.add(sheet);
    for (const asset of chunk.assets ?? []) if (/benchWorker.*\.js$/.test(asset)) files.add(asset);
    for (const next of chunk.imports ?? []) take(next);
  };
  for (const [key, chunk] of Object.entries(manifest)) if (chunk.isEntry === true) take(key);
  return [...files];
}

test("the first load stays within 250 kB of compressed script and style", () => {
  // 250 kB: about two seconds on a 1 Mbit/s hall network. Decimal kB, as the transfer is counted.
  const files = firstLoadFiles();
  expect(files.filter((file) => file.includes("benchWorker"))).toHaveLength(1);
  const bytes = files.map((file) => gzipSync(readFileSync(resolve(dist, file))).length);
  const total = bytes.reduce((sum, size) => sum + size, 0);
  expect(total, files.join(" ")).toBeLessThanOrEqual(250_000);
});

test("the chart library for results is not part of the first load", () => {
  for (const file of firstLoadFiles()) {
    // Class names the library gives its elements; they survive compression of the script.
    expect(readFileSync(resolve(dist, file), "utf8").includes("recharts-"), file).toBe(false);
  }
});

test("the build carries the notices of others' work and the font's licence", () => {
  const notices = readFileSync(resolve(dist, "third-party-notices.txt"), "utf8");
  expect(notices).toContain("react-dom 19.");
  const fonts = readdirSync(resolve(dist, "assets")).filter((file) => file.endsWith(".woff2"));
  if (fonts.length > 0) expect(notices).toContain("SIL Open Font License");
});
