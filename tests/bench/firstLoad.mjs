/** Size of what the page needs before it shows anything, from the manifest of the build. */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { gzipSync } from "node:zlib";

/**
 * The page itself, script and style of the entry and of everything it imports at once, and the engine's worker, which
 * the entry starts at once: compressed, decimal kB.
 * @param {string} dist folder of the build
 * @returns {number}
 */
export function firstLoadKb(dist) {
  const manifest = JSON.parse(readFileSync(resolve(dist, ".vite/manifest.json"), "utf8"));
  const files = new Set(["index.html"]);
  const take = (key) => {
    const chunk = manifest[key];
    if (chunk === undefined || files.has(chunk.file)) return;
    files.add(chunk.file);
    for (const sheet of chunk.css ?? []) files.add(sheet);
    for (const asset of chunk.assets ?? []) if (asset.endsWith(".js")) files.add(asset);
    for (const next of chunk.imports ?? []) take(next);
  };
  for (const [key, chunk] of Object.entries(manifest)) if (chunk.isEntry === true) take(key);
  let bytes = 0;
  for (const file of files) bytes += gzipSync(readFileSync(resolve(dist, file))).length;
  return bytes / 1000;
}
