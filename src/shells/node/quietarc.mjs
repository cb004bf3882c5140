#!/usr/bin/env node
/**
 * The command line. Bundled on first use and again whenever a source is newer; what it prints is the program's alone,
 * so standard output can be piped. Workers for Node sit beside the entry as src/shells/cli/*Worker.ts and become
 * <name>.mjs beside main.mjs.
 */
import { readdirSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { bundleForNode } from "./bundle.mjs";

const entries = { main: "src/shells/cli/main.ts" };
for (const file of readdirSync(fileURLToPath(new URL("../cli", import.meta.url)))) {
  if (file.endsWith("Worker.ts")) entries[file.slice(0, -3)] = `src/shells/cli/${file}`;
}

const folder = await bundleForNode("cli", entries);
await import(pathToFileURL(`${folder}/main.mjs`).href);
