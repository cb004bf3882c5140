/**
 * `npm run faults`: writes the README's table of all faults anew, from what `quietarc faults` prints for the demonstration
 * station. `npm run faults check` only says what differs; its exit status is then 1. Minutes.
 */
import { spawnSync } from "node:child_process";
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { bundleForNode } from "../../src/shells/node/bundle.mjs";

const root = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const file = resolve(root, "README.md");
const BEGIN = "<!-- faults:begin -->";
const END = "<!-- faults:end -->";

/** Everything a file leaves out is the demonstration station. */
const DEMONSTRATION = JSON.stringify({ format: "quietarc-project", schemaVersion: 1 });

const run = spawnSync(
  process.execPath,
  [resolve(root, "src/shells/node/quietarc.mjs"), "faults", "-"],
  { input: DEMONSTRATION, encoding: "utf8", maxBuffer: 1 << 24 },
);
if (run.status !== 0) {
  console.error(run.stderr);
  process.exit(run.status ?? 1);
}
rmSync(resolve(root, "node_modules/.cache/quietarc/faults"), { recursive: true, force: true });
const folder = await bundleForNode("faults", { main: "tests/support/faultRows.ts" });
const { faultTableText } = await import(pathToFileURL(resolve(folder, "main.mjs")).href);
const table = faultTableText(JSON.parse(run.stdout).faults);

const text = readFileSync(file, "utf8");
const from = text.indexOf(BEGIN);
const to = text.indexOf(END);
if (from < 0 || to < from) throw new Error(`no markers ${BEGIN} and ${END} in README.md`);
if (process.argv[2] === "check") {
  const lines = (of) => new Set(of.split("\n").filter((line) => line !== ""));
  const written = lines(text.slice(from + BEGIN.length, to));
  const computed = lines(table);
  for (const line of written) if (!computed.has(line)) console.log(`written   ${line}`);
  for (const line of computed) if (!written.has(line)) console.log(`computed  ${line}`);
  process.exitCode =
    written.size === computed.size && [...written].every((l) => computed.has(l)) ? 0 : 1;
} else {
  writeFileSync(file, `${text.slice(0, from)}${BEGIN}\n${table}\n${text.slice(to)}`);
}
