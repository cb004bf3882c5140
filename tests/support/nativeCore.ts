/**
 * The pure core as plain JavaScript for the unit tests: translated once, then loaded by Node itself. The test runner
 * would otherwise reach every name of another module through an accessor, which costs a simulation more than its own
 * arithmetic. One file stays one module, so tests and program share every object as they do without it.
 */
import { readdirSync, rmSync } from "node:fs";
import { relative, resolve } from "node:path";
import type { Plugin } from "vite";
import { bundleForNode } from "../../src/shells/node/bundle.mjs";

const SRC = resolve(import.meta.dirname, "../../src");
/** Whole layers, and of the shells what knows no worker. */
const FOLDERS = [
  "units",
  "math",
  "project",
  "physics",
  "protection",
  "simulation",
  "study",
  "formats",
  "shells/bench",
];
const BY_THE_RUNNER = /^shells\/bench\/(ports|benchWorker)$/;

function coreEntries(): Readonly<Record<string, string>> {
  const entries: Record<string, string> = {};
  for (const folder of FOLDERS) {
    for (const file of readdirSync(resolve(SRC, folder), { recursive: true, encoding: "utf8" })) {
      if (!file.endsWith(".ts")) continue;
      const name = `${folder}/${file.slice(0, -3)}`;
      if (!BY_THE_RUNNER.test(name)) entries[name] = `src/${name}.ts`;
    }
  }
  return entries;
}

/** Leaves everything to the runner where mistakes are planted in the sources, or where they are being edited. */
export function nativeCore(isWanted: boolean): Plugin {
  const entries = coreEntries();
  let folder = "";
  let made: Promise<string> | null = null;
  return {
    name: "native-core",
    enforce: "pre",
    async buildStart() {
      if (!isWanted) return;
      // a folder of its own for each run: two at once, with sources changed between them, would take modules from each other
      // asked once by each project of tests, at the same time
      made ??= bundleForNode(`core-${process.pid}`, entries);
      folder = await made;
      process.on("exit", () => rmSync(folder, { recursive: true, force: true }));
    },
    async resolveId(source, importer) {
      if (folder === "" || importer === undefined || !source.startsWith(".")) return null;
      const found = await this.resolve(source, importer, { skipSelf: true });
      if (found === null || !found.id.startsWith(SRC) || !found.id.endsWith(".ts")) return null;
      const name = relative(SRC, found.id).slice(0, -3);
      return name in entries ? `${folder}/${name}.mjs` : null;
    },
  };
}
