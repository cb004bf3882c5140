/** Bundles TypeScript entries so that Node 20, which cannot read them, can run them. */
import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { isStale } from "./freshness.mjs";

const root = resolve(fileURLToPath(new URL("../../..", import.meta.url)));
const sources = ["src", "package-lock.json"].map((name) => resolve(root, name));

/**
 * Bundles the named entries into one folder under node_modules/.cache, unless they are newer than all sources, and
 * returns the folder; entry `main` becomes `main.mjs` there. Prints nothing. The folder is put in place whole, so two
 * first uses at once do not see half of it.
 * @param {string} name folder name
 * @param {Readonly<Record<string, string>>} entries output name to source path relative to the project
 * @returns {Promise<string>}
 */
export async function bundleForNode(name, entries) {
  const folder = resolve(root, "node_modules/.cache/quietarc", name);
  const outputs = Object.keys(entries).map((entry) => resolve(folder, `${entry}.mjs`));
  const stale = () => outputs.some((output) => isStale(output, sources));
  if (!stale()) return folder;

  mkdirSync(dirname(folder), { recursive: true });
  // one for each call: two at once, in one process or in two copies of this module there, would build over each other
  const fresh = mkdtempSync(`${folder}.`);
  const { build } = await import("vite");
  await build({
    root,
    configFile: false,
    logLevel: "silent",
    publicDir: false,
    build: {
      ssr: true,
      target: "node20",
      outDir: fresh,
      emptyOutDir: true,
      minify: false,
      rolldownOptions: {
        input: Object.fromEntries(Object.entries(entries).map(([k, v]) => [k, resolve(root, v)])),
        output: { entryFileNames: "[name].mjs", chunkFileNames: "[name]-[hash].mjs" },
      },
    },
    ssr: { noExternal: true, target: "node" },
  });
  if (!stale()) {
    // Another first use was quicker, and may be running from the folder already.
    rmSync(fresh, { recursive: true, force: true });
    return folder;
  }
  rmSync(folder, { recursive: true, force: true });
  try {
    renameSync(fresh, folder);
  } catch (problem) {
    // Another first use put the same bundle in place in between.
    rmSync(fresh, { recursive: true, force: true });
    if (!outputs.every((output) => existsSync(output))) throw problem;
  }
  return folder;
}
